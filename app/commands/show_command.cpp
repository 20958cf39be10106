#include <QDate>
#include <QLocale>
#include <filesystem>
#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/offscreen.h"
#include "app/commands/progress_line.h"
#include "app/commands/show_report.h"
#include "app/commands/text_table.h"
#include "app/sheets/sheet_files.h"
#include "app/sheets/show_pages.h"
#include "core/base/whole_file.h"
#include "core/model/resolve.h"
#include "core/model/shop_book.h"

namespace hoopwright {
namespace {

SheetHead showHead(const JobResult& opened) {
    const Job& job = *opened.job;
    SheetHead head;
    head.job = job.cage.name;
    head.revision = revisionOf(opened.files);
    head.shop = job.shop ? job.shop->name : "";
    head.unit = job.cage.unit;
    head.paper = head.unit == LengthUnit::in ? Paper::letter : Paper::a4;
    return head;
}

int runShow(const CommandLine& line, Streams streams) {
    const std::string file = line.value("--out");
    if (file.empty() && !line.has("--json"))
        return refuse(streams, "show", "--out FILE.pdf is missing: name the file to write");
    if (!file.empty() && !QString::fromStdString(file).endsWith(".pdf", Qt::CaseInsensitive))
        return refuse(streams, "show", "--out: '" + file + "' does not end in .pdf: the pages are a PDF");
    const QDate date = line.has("--date") ? QDate::fromString(QString::fromStdString(line.value("--date")),
                                                              QStringLiteral("yyyy-MM-dd"))
                                          : QDate::currentDate();
    if (!date.isValid())
        return refuse(streams, "show",
                      "--date: '" + line.value("--date") + "' is no date: write it as 2026-03-09");
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    const std::optional<std::vector<RuleTableRef>> tables = openTables(line, *opened, streams);
    if (!tables) return kExitBadInput;
    const SheetHead head = showHead(*opened);
    const CageGeometry cage = resolve(*opened->job);
    std::optional<WholeFile> whole;
    if (!file.empty()) {
        whole.emplace(file);
        if (whole->problem()) {
            print(streams.err, {*whole->problem()});
            return kExitBadInput;
        }
    }
    const CustomerFacts facts = customerFacts(*opened->job, cage, *tables);
    int pages = 0;
    if (whole) {
        const std::unique_ptr<QGuiApplication> application = offscreenApplication();
        const Expected<QImage> mark = shopMark(*opened->job, opened->files.shop);
        if (!mark) return refuse(streams, "show", mark.reason());
        const Expected<ShowPictures> pictures =
            showPictures(facts, head.paper, progressLine(streams, "show"));
        if (!pictures) return refuse(streams, "show", pictures.reason());
        const QLocale english(QLocale::English, QLocale::UnitedKingdom);
        const ShowBook book = showBook(facts, *pictures, head, *mark,
                                       english.toString(date, QStringLiteral("d MMMM yyyy")).toStdString());
        whole->write({book.pdf.constData(), static_cast<std::size_t>(book.pdf.size())});
        if (const std::optional<Problem> problem = whole->commit()) {
            print(streams.err, {*problem});
            return kExitBadInput;
        }
        pages = book.pages;
    }
    if (line.has("--json")) {
        writeShowJson(streams.out, facts, head.revision,
                      date.toString(QStringLiteral("yyyy-MM-dd")).toStdString(), file);
    } else {
        streams.out << wrapped(
            file + ": " + std::to_string(pages) + " pages; " + std::to_string(facts.bars.size()) +
                " bars named, " + std::to_string(facts.options.size()) + " may be left out, " +
                std::to_string(facts.drivers.size()) + " people; revision " + head.revision,
            0);
    }
    return kExitGood;
}

}  // namespace

Command showCommand() {
    return {"show",
            {"CAGE"},
            "the cage for its customer: a PDF of a few pages",
            "A cover picture; the class and what the plan was checked against; every bar with its number and "
            "what it is for; the bars that may be left out, each with a picture with and without it, its "
            "mass, its price, and what it does to getting in and to the room over the head; each driver's "
            "clearances; what is cut from the car; what is not included; cautions. The shop's name, mark and "
            "words are those of its book.",
            "hoopwright show data/cages/hillclimb_saloon.yaml --out customer.pdf",
            {{"--out", "FILE", "the PDF to write"},
             {"--rules", "FILE", "tables to check against; those of the cage unless said", true},
             {"--date", "YYYY-MM-DD", "the date on it; today unless said"},
             {"--json", "", "all that it states, for programs; --out may then be left out"}},
            &runShow};
}

}  // namespace hoopwright
