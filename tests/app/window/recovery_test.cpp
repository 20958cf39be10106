#include "app/window/recovery.h"

#include <gmock/gmock.h>

#include <QCoreApplication>
#include <QDir>
#include <QFile>
#include <QProcess>
#include <csignal>

#include "demo_copy.h"
#include "edit_and_wait.h"
#include "same_job.h"

namespace hoopwright {
namespace {

using testing::IsEmpty;
using testing::SizeIs;

TEST(Recovery, WorkOutlivesAKill) {
    DemoCopy demo;
    const QString root = QString::fromStdString((demo.root() / "unsaved").string());
    QProcess child;
    QProcessEnvironment environment = QProcessEnvironment::systemEnvironment();
    environment.insert(QString::fromLatin1(kCopiesHere), root);
    environment.insert(QString::fromLatin1(kEditThis), QString::fromStdString(demo.saloon().string()));
    environment.insert(QStringLiteral("QT_QPA_PLATFORM"), QStringLiteral("offscreen"));
    child.setProcessEnvironment(environment);
    child.start(QCoreApplication::applicationFilePath(), QStringList());
    QByteArray heard;
    while (!heard.contains("edited") && child.waitForReadyRead(60000)) heard += child.readAllStandardOutput();
    ASSERT_TRUE(heard.contains("edited")) << heard.toStdString();
    EXPECT_THAT(Recovery::find(root), IsEmpty()) << "its owner is alive: nothing is lost yet";
    ASSERT_EQ(::kill(pid_t(child.processId()), SIGKILL), 0);
    ASSERT_TRUE(child.waitForFinished());

    std::vector<LostWork> lost = Recovery::find(root);
    ASSERT_THAT(lost, SizeIs(1));
    EXPECT_EQ(lost[0].cage_file.toStdString(), demo.saloon().generic_string());
    EXPECT_TRUE(lost[0].when.isValid());
    Document document;
    Recovery recovery(document, root);
    ASSERT_THAT(recovery.restore(lost[0]), IsEmpty());
    EXPECT_EQ(document.job().cage.node_reach_mm, kEdited_mm);
    EXPECT_TRUE(document.dirty());
    EXPECT_EQ(document.files().cage, demo.saloon());

    Document saved;
    ASSERT_THAT(saved.open(demo.saloon()), IsEmpty());
    Job expected = saved.job();
    expected.cage.node_reach_mm = kEdited_mm;
    EXPECT_TRUE(sameJob(document.job(), expected)) << "all but the edit is as on the disk";
    ASSERT_THAT(document.save(), IsEmpty());
    EXPECT_FALSE(document.dirty());
    ASSERT_THAT(saved.open(demo.saloon()), IsEmpty());
    EXPECT_TRUE(sameJob(saved.job(), expected));
}

TEST(Recovery, SavingOrClosingInOrderLeavesNothing) {
    DemoCopy demo;
    const QString root = QString::fromStdString((demo.root() / "unsaved").string());
    {
        Document document;
        Recovery recovery(document, root);
        ASSERT_THAT(document.open(demo.saloon()), IsEmpty());
        document.edit(QStringLiteral("reach"), [](Job& job) { job.cage.node_reach_mm = 61; });
        recovery.flush();
        EXPECT_FALSE(QDir(root).entryList(QDir::Dirs | QDir::NoDotAndDotDot).isEmpty());
        ASSERT_THAT(document.save(), IsEmpty());
    }
    EXPECT_TRUE(QDir(root).entryList(QDir::Dirs | QDir::NoDotAndDotDot).isEmpty());
}

TEST(Recovery, ACopyThatIsNotWholeIsNeverOffered) {
    DemoCopy demo;
    const QString root = QString::fromStdString((demo.root() / "unsaved").string());
    QDir().mkpath(root + QStringLiteral("/99999-0"));
    QFile half(root + QStringLiteral("/99999-0/cage.yaml"));
    ASSERT_TRUE(half.open(QIODevice::WriteOnly));
    half.write("hoopwright: cage\nversion: 1\n");
    half.close();
    EXPECT_THAT(Recovery::find(root), IsEmpty());
}

TEST(Recovery, ADamagedCopyIsKeptAndSaidToBe) {
    DemoCopy demo;
    const QString root = QString::fromStdString((demo.root() / "unsaved").string());
    const QString folder = root + QStringLiteral("/99999-0");
    QDir().mkpath(folder);
    QFile manifest(folder + QStringLiteral("/job.json"));
    ASSERT_TRUE(manifest.open(QIODevice::WriteOnly));
    manifest.write("{\"title\": \"Torn\", \"drivers\": 1}");
    manifest.close();
    const std::vector<LostWork> lost = Recovery::find(root);
    ASSERT_THAT(lost, SizeIs(1));
    Document document;
    Recovery recovery(document, root);
    EXPECT_FALSE(recovery.restore(lost[0]).empty());
    EXPECT_TRUE(QDir(folder).exists());
    EXPECT_FALSE(document.dirty());
}

}  // namespace
}  // namespace hoopwright
