#include "core/files/shop_file.h"

#include <numbers>

#include "core/files/file_text.h"

namespace hoopwright {
namespace {

const Words<Bender::Swings> kSwings = {
    {"left", Bender::Swings::left}, {"right", Bender::Swings::right}, {"up", Bender::Swings::up}};

const Words<KerfAt> kKerfAt = {{"between_pieces", KerfAt::between_pieces}, {"every_cut", KerfAt::every_cut}};
const Words<Operation> kOperations = {{"bend", Operation::bend},
                                      {"cope", Operation::cope},
                                      {"joint", Operation::joint},
                                      {"plate", Operation::plate},
                                      {"fit", Operation::fit}};
constexpr int kMost_counted = 100'000;

double readSize(const YamlValue& value) {
    return value.measure(Dimension::length, Range::positive);
}
OutNode outSize(double mm, LengthUnit unit) {
    return outMeasure(mm, Dimension::length, unit);
}

/// What takes more than one key to see.
void checkSamples(YamlMap& top, const ShopBook& book) {
    const std::vector<YamlValue> items = top.find("springback").list();
    for (std::size_t i = 0; i < items.size() && i < book.samples.size(); ++i) {
        const BendSample& sample = book.samples[i];
        if (sample.got_rad > sample.dialled_rad && sample.dialled_rad > 0)
            items[i].peek("got").problem("more than was dialled: a tube springs back, never on",
                                         "write what was measured free of the die, and what was dialled");
        for (const char* key : {"dialled", "got"})
            if ((key[0] == 'd' ? sample.dialled_rad : sample.got_rad) >= std::numbers::pi)
                items[i].peek(key).problem("half a turn or more", "write an angle under 180");
    }
}

void checkBenders(YamlMap& top, const ShopBook& book) {
    const std::vector<YamlValue> items = top.find("benders").list();
    for (std::size_t i = 0; i < items.size() && i < book.benders.size(); ++i) {
        const std::vector<YamlValue> blocks = items[i].peek("frame").list();
        for (std::size_t k = 0; k < blocks.size() && k < book.benders[i].frame.size(); ++k) {
            const BenderBlock& block = book.benders[i].frame[k];
            if (!(block.low.array() < block.high.array()).all())
                blocks[k].problem("low is not below high in all three",
                                  "write the two opposite corners, the smaller numbers under low");
        }
    }
}

void checkRoundness(YamlMap& top, const ShopBook& book) {
    if (book.least_roundness && *book.least_roundness > 1)
        top.find("least_roundness").problem("more than 1", "write least over greatest diameter, as in 0.9");
}

void checkFolds(YamlMap& top, const ShopBook& book) {
    const std::vector<YamlValue> items = top.find("folds").list();
    for (std::size_t i = 0; i < items.size() && i < book.folds.size(); ++i) {
        if (book.folds[i].k && *book.folds[i].k >= 1)
            items[i].peek("k").problem("the length is kept within the sheet",
                                       "write a share of its thickness between 0 and 1, from the inside");
        for (std::size_t j = 0; j < i; ++j)
            if (book.folds[j].thickness_mm == book.folds[i].thickness_mm)
                items[i].peek("thickness").problem("that thickness is there already", "keep one of the two");
    }
}

}  // namespace

template <class Io>
void fields(Io& io, BenderBlock& block) {
    io.textIf("name", block.name);
    io.point("low", block.low);
    io.point("high", block.high);
}

template <class Io>
void fields(Io& io, Bender& bender) {
    io.text("id", bender.id);
    io.textIf("name", bender.name);
    io.wordIf("swings", bender.swings, kSwings);
    io.measure("height", bender.height_mm, Dimension::length, Range::positive);
    io.measureIf("tail", bender.tail_mm, Dimension::length, Range::positive);
    io.measureIf("stroke", bender.stroke_rad, Dimension::angle, Range::positive);
    io.textsIf("dies", bender.dies);
    io.listIf("frame", bender.frame, Layout::one_a_line);
}

template <class Io>
void fields(Io& io, BendSample& sample) {
    io.text("stock", sample.stock);
    io.text("die", sample.die);
    io.measure("dialled", sample.dialled_rad, Dimension::angle, Range::positive);
    io.measure("got", sample.got_rad, Dimension::angle, Range::positive);
    io.measureIf("radius", sample.radius_mm, Dimension::length, Range::positive);
    io.dateIf("when", sample.when);
}

template <class Io>
void fields(Io& io, Saw& saw) {
    io.text("id", saw.id);
    io.textIf("name", saw.name);
    io.measure("kerf", saw.kerf_mm, Dimension::length, Range::not_negative);
    io.measure("greatest_swing", saw.greatest_swing_rad, Dimension::angle, Range::not_negative);
}

template <class Io>
void fields(Io& io, SheetStock& sheet) {
    io.text("id", sheet.id);
    io.text("material", sheet.material);
    io.measure("thickness", sheet.thickness_mm, Dimension::length, Range::positive);
    io.measure("length", sheet.length_mm, Dimension::length, Range::positive);
    io.measure("width", sheet.width_mm, Dimension::length, Range::positive);
    io.measureIf("price", sheet.price, Dimension::none, 0, Range::not_negative);
}

template <class Io>
void fields(Io& io, SheetFold& fold) {
    io.measure("thickness", fold.thickness_mm, Dimension::length, Range::positive);
    io.measure("radius", fold.radius_mm, Dimension::length, Range::not_negative);
    io.measureIf("k", fold.k, Dimension::none, Range::positive);
    io.measureIf("least_leg", fold.least_leg_mm, Dimension::length, Range::positive);
}

template <class Io>
void fields(Io& io, CuttingTable& table) {
    io.measure("kerf", table.kerf_mm, Dimension::length, Range::not_negative);
    io.measure("gap", table.gap_mm, Dimension::length, Range::not_negative);
    io.measure("edge", table.edge_mm, Dimension::length, Range::not_negative);
}

template <class Io>
void fields(Io& io, RackPiece& piece) {
    io.text("stock", piece.stock);
    io.measure("length", piece.length_mm, Dimension::length, Range::positive);
    io.textIf("heat", piece.heat);
    io.textIf("certificate", piece.certificate);
}

template <class Io>
void fields(Io& io, WorkTime& time) {
    io.text("job", time.job);
    io.word("operation", time.operation, kOperations);
    io.whole("count", time.count, 1, kMost_counted);
    io.measure("minutes", time.minutes, Dimension::none, Range::positive);
    io.dateIf("when", time.when);
}

template <class Io>
void fields(Io& io, ShopMinutes& minutes) {
    io.measureIf("bend", minutes.bend, Dimension::none, Range::not_negative);
    io.measureIf("cope", minutes.cope, Dimension::none, Range::not_negative);
    io.measureIf("joint", minutes.joint, Dimension::none, Range::not_negative);
    io.measureIf("plate", minutes.plate, Dimension::none, Range::not_negative);
    io.measureIf("fit", minutes.fit, Dimension::none, Range::not_negative);
}

template <class Io>
void fields(Io& io, ShopFinish& finish) {
    io.text("name", finish.name);
    io.measure("price_per_m2", finish.price_per_m2, Dimension::none, Range::not_negative);
}

template <class Io>
void fields(Io& io, WeldUse& weld) {
    io.measure("filler_g_per_m", weld.filler_g_per_m, Dimension::none, Range::not_negative);
    io.measure("gas_l_per_min", weld.gas_l_per_min, Dimension::none, Range::not_negative);
    io.measure("speed_mm_per_min", weld.speed_mm_per_min, Dimension::none, Range::positive);
}

template <class Io>
void fields(Io& io, ShopBook& book) {
    io.text("name", book.name);
    io.textIf("words", book.words);
    io.textIf("mark", book.mark);
    io.listIf("benders", book.benders, Layout::block, "id");
    io.listIf("springback", book.samples, Layout::one_a_line);
    io.listIf("saws", book.saws, Layout::one_a_line, "id");
    io.specials("hole_saws", book.hole_saws_mm, Layout::one_a_line, readSize, outSize);
    io.measureIf("bend_long", book.bend_long_mm, Dimension::length, 0, Range::not_negative);
    io.measureIf("paper", book.paper_mm, Dimension::length, ShopBook().paper_mm, Range::not_negative);
    io.measureIf("least_roundness", book.least_roundness, Dimension::none, Range::positive);
    io.measureIf("clean_outside", book.clean_outside_mm, Dimension::length, kCleanOutside_mm,
                 Range::not_negative);
    io.measureIf("clean_inside", book.clean_inside_mm, Dimension::length, kCleanInside_mm,
                 Range::not_negative);
    io.partIf("weld", book.weld);
    io.listIf("sheets", book.sheets, Layout::one_a_line, "id");
    io.listIf("folds", book.folds, Layout::one_a_line);
    io.partIf("cutting_table", book.cutting_table);
    io.listIf("rack", book.rack, Layout::one_a_line);
    io.wordIf("kerf_at", book.kerf_at, kKerfAt);
    io.flagIf("off_cuts_first", book.off_cuts_first);
    io.measureIf("rack_from", book.rack_from_mm, Dimension::length, Range::positive);
    io.partIf("minutes", book.minutes);
    io.listIf("times", book.times, Layout::one_a_line);
    io.measureIf("rate_per_hour", book.rate_per_hour, Dimension::none, Range::not_negative);
    io.listIf("finishes", book.finishes, Layout::one_a_line, "name");
    io.measureIf("padding_price_per_m", book.padding_price_per_m, Dimension::none, Range::not_negative);
    io.textsIf("exclusions", book.exclusions);
    if constexpr (std::is_same_v<Io, FieldReader>) {
        checkSamples(io.map(), book);
        checkBenders(io.map(), book);
        checkRoundness(io.map(), book);
        checkFolds(io.map(), book);
    }
}

ReadResult<ShopBook> readShop(const std::filesystem::path& file) {
    return readFileAs<ShopBook>("shop", file);
}
ReadResult<ShopBook> readShopText(std::string text, const std::string& name) {
    return readAs<ShopBook>("shop", std::move(text), name);
}
std::string writeShop(const ShopBook& book, const FileTextRef& was, LengthUnit unit) {
    return writeAs("shop", book, was, unit);
}

}  // namespace hoopwright
