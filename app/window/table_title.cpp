#include "app/window/table_title.h"

#include <QFile>
#include <algorithm>

#include "app/window/findings.h"

namespace hoopwright {
namespace {

/// What stands behind a key of the file's first lines, without its quotes; empty where it is not there.
QString said(const std::filesystem::path& file, const QString& key) {
    constexpr int kFirstLines = 40;
    QFile text(QString::fromStdString(file.string()));
    if (!text.open(QIODevice::ReadOnly | QIODevice::Text)) return {};
    for (int n = 0; n < kFirstLines && !text.atEnd(); ++n) {
        QString line = QString::fromUtf8(text.readLine(1000));
        if (!line.startsWith(key)) continue;
        line = line.mid(key.size()).trimmed();
        for (const QChar quote : {QLatin1Char('"'), QLatin1Char('\'')})
            if (line.size() > 1 && line.startsWith(quote) && line.endsWith(quote))
                line = line.mid(1, line.size() - 2);
        const bool folded = line.startsWith(QLatin1Char('>')) || line.startsWith(QLatin1Char('|'));
        return folded ? QString() : line;
    }
    return {};
}

QString stemWords(const std::filesystem::path& file) {
    return QString::fromStdString(file.stem().string()).replace(QLatin1Char('_'), QLatin1Char(' '));
}

}  // namespace

QString tableTitle(const std::filesystem::path& file) {
    const QString title = said(file, QStringLiteral("title:"));
    return title.isEmpty() ? stemWords(file) : printed(title.toStdString());
}

QString nameInFile(const std::filesystem::path& file) {
    const QString name = said(file, QStringLiteral("name:"));
    return name.isEmpty() ? stemWords(file) : name;
}

std::vector<QString> namesApart(const std::vector<std::filesystem::path>& files,
                                QString (*name_of)(const std::filesystem::path&)) {
    std::vector<QString> names;
    for (const auto& file : files) names.push_back(name_of(file));
    std::vector<QString> apart = names;
    for (std::size_t i = 0; i < files.size(); ++i)
        if (std::ranges::count(names, names[i]) > 1)
            apart[i] += QStringLiteral(" (") + stemWords(files[i]) + QLatin1Char(')');
    return apart;
}

}  // namespace hoopwright
