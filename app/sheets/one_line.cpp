#include "app/sheets/one_line.h"

#include "app/sheets/sheet_page.h"

namespace hoopwright {

QString onOneLine(const QString& all, double room_mm, const std::function<double(const QString&)>& width_mm) {
    if (width_mm(all) <= room_mm) return all;
    QString words = all;
    const auto cut = [&] { return words.trimmed() + QStringLiteral(" …"); };
    while (!words.isEmpty() && width_mm(cut()) > room_mm) {
        const auto space = words.trimmed().lastIndexOf(QLatin1Char(' '));
        words.truncate(space > 0 ? space : words.size() - 1);
        // Half of a sign that takes two units is no sign.
        if (!words.isEmpty() && words.back().isHighSurrogate()) words.chop(1);
    }
    return cut().trimmed();
}

std::string onOneLine(const std::string& all, double points, bool strong, double room_mm) {
    return onOneLine(QString::fromStdString(all), room_mm,
                     [&](const QString& words) { return wordsWidth_mm(words.toStdString(), points, strong); })
        .toStdString();
}

}  // namespace hoopwright
