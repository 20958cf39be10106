#include "app/window/table_title.h"

#include <QFile>

#include "app/window/findings.h"

namespace hoopwright {

QString tableTitle(const std::filesystem::path& file) {
    constexpr int kFirstLines = 40;
    const QString key = QStringLiteral("title:");
    QFile text(QString::fromStdString(file.string()));
    if (text.open(QIODevice::ReadOnly | QIODevice::Text)) {
        for (int n = 0; n < kFirstLines && !text.atEnd(); ++n) {
            QString line = QString::fromUtf8(text.readLine(1000)).trimmed();
            if (!line.startsWith(key)) continue;
            line = line.mid(key.size()).trimmed();
            for (const QChar quote : {QLatin1Char('"'), QLatin1Char('\'')})
                if (line.size() > 1 && line.startsWith(quote) && line.endsWith(quote))
                    line = line.mid(1, line.size() - 2);
            const bool folded = line.startsWith(QLatin1Char('>')) || line.startsWith(QLatin1Char('|'));
            if (!line.isEmpty() && !folded) return printed(line.toStdString());
            break;
        }
    }
    return QString::fromStdString(file.stem().string()).replace(QLatin1Char('_'), QLatin1Char(' '));
}

}  // namespace hoopwright
