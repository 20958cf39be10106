// What `cmake --install` puts where: the program finds its data, the menu finds the program, a file manager
// finds the kinds of files, man finds the page.
#include <gmock/gmock.h>

#include <QFile>
#include <QImage>
#include <QMimeDatabase>
#include <QPainter>
#include <QProcess>
#include <QRegularExpression>
#include <QStandardPaths>
#include <QSvgRenderer>
#include <QTemporaryDir>
#include <QXmlStreamReader>

using testing::HasSubstr;

namespace {

struct Ended {
    int code = -1;
    std::string out, err;
};

Ended ran(const QString& program, const QStringList& words, const QStringList& without = {}) {
    QProcess process;
    QProcessEnvironment environment = QProcessEnvironment::systemEnvironment();
    for (const QString& name : without) environment.remove(name);
    process.setProcessEnvironment(environment);
    process.setWorkingDirectory(QStringLiteral("/"));
    process.start(program, words);
    if (!process.waitForFinished(120'000)) return {};
    return {process.exitCode(), process.readAllStandardOutput().toStdString(),
            process.readAllStandardError().toStdString()};
}

QByteArray contents(const QString& name) {
    QFile file(name);
    EXPECT_TRUE(file.open(QIODevice::ReadOnly)) << name.toStdString();
    return file.readAll();
}

/// Installed once, for all tests.
class Installed : public testing::Test {
protected:
    static void SetUpTestSuite() {
        folder_ = new QTemporaryDir;
        const Ended ended = ran(QStringLiteral(HOOPWRIGHT_CMAKE),
                                {QStringLiteral("--install"), QStringLiteral(HOOPWRIGHT_BUILD_DIR),
                                 QStringLiteral("--prefix"), folder_->path()});
        ASSERT_EQ(ended.code, 0) << ended.err;
        // Before the first question: Qt reads the kinds of files once.
        qputenv("XDG_DATA_DIRS", (folder_->path() + QStringLiteral("/share:/usr/share")).toUtf8());
    }
    static void TearDownTestSuite() {
        delete folder_;
        folder_ = nullptr;
    }
    static QString at(const QString& name) { return folder_->path() + QLatin1Char('/') + name; }
    static QString program() { return at(QStringLiteral("bin/hoopwright")); }
    static QString data(const QString& name) { return at(QStringLiteral("share/hoopwright/data/") + name); }
    static QString page() {
        return at(QStringLiteral("share/man/man1/hoopwright.1")) +
               (QFile::exists(at(QStringLiteral("share/man/man1/hoopwright.1.gz"))) ? QStringLiteral(".gz")
                                                                                    : QString());
    }
    /// A file of that name, with those first words.
    static QString fileOf(const QString& name, const QByteArray& text) {
        const QString whole = at(name);
        QFile file(whole);
        EXPECT_TRUE(file.open(QIODevice::WriteOnly));
        file.write(text);
        return whole;
    }
    static QString kindOf(const QString& file) { return QMimeDatabase().mimeTypeForFile(file).name(); }

    static QTemporaryDir* folder_;
};
QTemporaryDir* Installed::folder_ = nullptr;

TEST_F(Installed, TheDemosAreThereAndTheProgramChecksThem) {
    for (const char* demo : {"cages/hillclimb_saloon.yaml", "cages/mile_pickup.yaml"}) {
        const Ended ended = ran(program(), {QStringLiteral("check"), data(QString::fromLatin1(demo))});
        EXPECT_EQ(ended.code, 0) << demo << "\n" << ended.out << ended.err;
        EXPECT_THAT(ended.out, HasSubstr(" meet"));
    }
    EXPECT_EQ(
        ran(program(), {QStringLiteral("check"), data(QStringLiteral("cages/faults/mile_pickup.yaml"))}).code,
        1);
}

TEST_F(Installed, ItFindsItsOwnDataNotThatOfTheSources) {
    const Ended ended = ran(
        program(), {},
        {QStringLiteral("DISPLAY"), QStringLiteral("WAYLAND_DISPLAY"), QStringLiteral("QT_QPA_PLATFORM")});
    EXPECT_EQ(ended.code, 2);
    const QString demo = data(QStringLiteral("cages/hillclimb_saloon.yaml"));
    EXPECT_THAT(ended.err,
                HasSubstr("hoopwright check " + QFileInfo(demo).canonicalFilePath().toStdString()));
}

// Desktop Entry Specification 1.4: Exec, Icon, MimeType; Icon Theme Specification: hicolor/SIZExSIZE/apps.
TEST_F(Installed, TheMenuEntryLeadsToTheProgramItsIconAndItsFiles) {
    const QString entry = at(QStringLiteral("share/applications/hoopwright.desktop"));
    const QString text = QString::fromUtf8(contents(entry));
    EXPECT_TRUE(text.contains(QStringLiteral("\nExec=hoopwright %f\n")));
    EXPECT_TRUE(text.contains(QStringLiteral("\nIcon=hoopwright\n")));
    EXPECT_TRUE(text.contains(QStringLiteral("\nMimeType=application/x-hoopwright-cage;\n")));
    const QString tool = QStandardPaths::findExecutable(QStringLiteral("desktop-file-validate"));
    if (!tool.isEmpty()) {
        const Ended ended = ran(tool, {entry});
        EXPECT_EQ(ended.code, 0) << ended.out << ended.err;
        EXPECT_EQ(ended.out, "");
    }
    for (const char* icon : {"apps/hoopwright", "mimetypes/hoopwright-file"}) {
        const QString icons = at(QStringLiteral("share/icons/hicolor/"));
        EXPECT_TRUE(QSvgRenderer(icons + QStringLiteral("scalable/") + QString::fromLatin1(icon) +
                                 QStringLiteral(".svg"))
                        .isValid());
        for (const int size : {16, 24, 32, 48, 64, 128, 256}) {
            const QImage image(icons + QStringLiteral("%1x%1/").arg(size) + QString::fromLatin1(icon) +
                               QStringLiteral(".png"));
            EXPECT_EQ(image.size(), QSize(size, size)) << icon;
            EXPECT_EQ(qAlpha(image.pixel(0, 0)), 0) << icon << ": its corner is clear";
        }
    }
}

/// The pictures in the tree are what the drawings say, so neither is changed without the other.
TEST(Icons, ThePicturesAreOfTheDrawings) {
    const QString folder = QStringLiteral(HOOPWRIGHT_SOURCE_DIR "/data/desktop/");
    const auto drawn = [&](const char* drawing, int size) {
        QImage image(size, size, QImage::Format_ARGB32_Premultiplied);
        image.fill(Qt::transparent);
        QPainter painter(&image);
        painter.setRenderHint(QPainter::Antialiasing);
        QSvgRenderer(folder + QString::fromLatin1(drawing)).render(&painter, QRectF(0, 0, size, size));
        return image;
    };
    for (const int size : {16, 24, 32, 48, 64, 128, 256}) {
        for (const char* kind : {"icon", "file"}) {
            const char* drawing = *kind == 'f' ? "hoopwright-file.svg"
                                  : size < 32  ? "hoopwright-small.svg"
                                               : "hoopwright.svg";
            const QImage kept =
                QImage(folder + QStringLiteral("%1_%2.png").arg(QLatin1String(kind)).arg(size))
                    .convertToFormat(QImage::Format_ARGB32_Premultiplied);
            const QImage now = drawn(drawing, size);
            ASSERT_EQ(kept.size(), now.size());
            double off = 0;
            for (int y = 0; y < size; ++y)
                for (int x = 0; x < size; ++x)
                    off += std::abs(qGreen(kept.pixel(x, y)) - qGreen(now.pixel(x, y)));
            EXPECT_LT(off / (size * size), 2) << kind << size << ", mean step of 255";
        }
    }
}

// Shared MIME-info Database specification: a longer pattern wins; first words count where no ending does.
TEST_F(Installed, OurFilesAreKnownByTheirEndingAndOthersYamlIsLeftAlone) {
    const QByteArray cage = contents(data(QStringLiteral("cages/hillclimb_saloon.yaml")));
    EXPECT_EQ(kindOf(fileOf(QStringLiteral("mine.cage.yaml"), cage)), "application/x-hoopwright-cage");
    EXPECT_EQ(kindOf(fileOf(QStringLiteral("mine"), cage)), "application/x-hoopwright-cage")
        << "no ending: by its first words";
    const QString yaml = kindOf(fileOf(QStringLiteral("others.yaml"), "hello: world\n"));
    EXPECT_FALSE(yaml.contains(QStringLiteral("hoopwright"))) << yaml.toStdString();
    EXPECT_EQ(kindOf(fileOf(QStringLiteral("plain.yaml"), cage)), yaml) << "*.yaml is not ours to take";
    EXPECT_EQ(kindOf(fileOf(QStringLiteral("notes.txt"), "hoopwright: cage\n")), "text/plain");
    for (const char* kind : {"cage", "car", "driver", "stock", "dies", "shop", "rules"}) {
        const QString name = QStringLiteral("application/x-hoopwright-") + QString::fromLatin1(kind);
        const QMimeType type = QMimeDatabase().mimeTypeForName(name);
        ASSERT_TRUE(type.isValid()) << kind;
        EXPECT_TRUE(type.inherits(yaml)) << kind << " opens in what opens YAML";
        EXPECT_TRUE(type.inherits(QStringLiteral("text/plain"))) << kind;
        EXPECT_EQ(type.iconName(), QStringLiteral("hoopwright-file"));
    }
}

/// Every kind of demo file begins with the words the kinds are told by.
TEST_F(Installed, EachDemoFileIsOfItsKindByItsFirstWords) {
    const std::pair<const char*, const char*> demos[] = {
        {"cars/pickup", "car"},       {"drivers/saloon_tall", "driver"}, {"stock/metric", "stock"},
        {"stock/dies_inch", "dies"},  {"stock/shop_metric", "shop"},     {"rules/standing_mile", "rules"},
        {"cages/mile_pickup", "cage"}};
    for (const auto& [name, kind] : demos) {
        const QByteArray text = contents(data(QString::fromLatin1(name) + QStringLiteral(".yaml")));
        EXPECT_EQ(QMimeDatabase().mimeTypeForData(text).name().toStdString(),
                  std::string("application/x-hoopwright-") + kind)
            << name;
    }
}

TEST_F(Installed, TheManPageNamesEveryCommandAndEveryOption) {
    const QString source = QString::fromStdString(ran(program(), {QStringLiteral("--man")}).out);
    const std::string overview = ran(program(), {QStringLiteral("--help")}).out;
    const QString plain = QString(source).replace(QStringLiteral("\\-"), QStringLiteral("-"));
    static const QRegularExpression kCommand(QStringLiteral("^  ([a-z]+) {2,}"),
                                             QRegularExpression::MultilineOption);
    static const QRegularExpression kOption(QStringLiteral("^  (--[a-z-]+)"),
                                            QRegularExpression::MultilineOption);
    int commands = 0, options = 0;
    for (auto it = kCommand.globalMatch(QString::fromStdString(overview)); it.hasNext();) {
        const QString word = it.next().captured(1);
        ++commands;
        const qsizetype begins = plain.indexOf(QStringLiteral("\n.SS \"") + word);
        ASSERT_GE(begins, 0) << word.toStdString();
        const QString part = plain.mid(begins, plain.indexOf(QStringLiteral("\n.S"), begins + 4) - begins);
        if (commands % 4 != 1) continue;  // each call is a start of the program; the writer is one for all
        const QString help = QString::fromStdString(ran(program(), {word, QStringLiteral("--help")}).out);
        for (auto one = kOption.globalMatch(help); one.hasNext();) {
            const QString option = one.next().captured(1);
            if (option == QStringLiteral("--help")) continue;
            ++options;
            EXPECT_TRUE(part.contains(QStringLiteral("\n\\fB") + option + QStringLiteral("\\fR")))
                << word.toStdString() << " " << option.toStdString();
        }
    }
    EXPECT_GT(commands, 20);
    EXPECT_GT(options, 20);
}

#ifdef HOOPWRIGHT_MAN
TEST_F(Installed, ManReadsThePageWithoutAWarning) {
    ASSERT_TRUE(QFile::exists(page())) << page().toStdString();
    const Ended ended = ran(QStringLiteral(HOOPWRIGHT_MAN),
                            {QStringLiteral("--warnings"), QStringLiteral("-E"), QStringLiteral("UTF-8"),
                             QStringLiteral("-l"), page()},
                            {QStringLiteral("MANOPT")});
    EXPECT_EQ(ended.code, 0);
    EXPECT_EQ(ended.err, "");
    EXPECT_THAT(ended.out, HasSubstr("EXIT STATUS"));
}
#endif

TEST_F(Installed, TheGuideAndThePagesOfTheFilesComeAlong) {
    for (const char* name :
         {"guide/start.md", "guide/cautions.md", "files.md", "rule_tables.md", "json.md", "copyright"})
        EXPECT_TRUE(QFile::exists(at(QStringLiteral("share/doc/hoopwright/") + QString::fromLatin1(name))))
            << name;
}

}  // namespace
