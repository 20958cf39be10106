#include "app/pack/pack.h"

#include <QDate>
#include <QFile>
#include <algorithm>
#include <cmath>

#include "app/view/report_file.h"
#include "core/drawing/line_drawing.h"
#include "core/shop/cope_sheet.h"
#include "rules/judged_section.h"
#include "rules/mill_wall.h"

namespace hoopwright {
namespace {

constexpr double kNearLimit = 0.05;

const BuiltReading* leastKept(const CageLayout& cage, const std::string& of, const std::string& quantity,
                              const std::string& spot = "") {
    const BuiltReading* least = nullptr;
    for (const BuiltReading& one : cage.readings)
        if (one.of == of && one.quantity == quantity && (spot.empty() || one.spot == spot) &&
            (!least || one.value < least->value))
            least = &one;
    return least;
}

std::optional<double> leastReading(const CageLayout& cage, const std::string& of,
                                   const std::string& quantity) {
    const BuiltReading* least = leastKept(cage, of, quantity);
    return least ? std::optional(least->value) : std::nullopt;
}

class PackMaker {
public:
    PackMaker(const Job& job, const CageGeometry& cage, std::span<const RuleTableRef> tables,
              const std::filesystem::path& folder, const std::string& made)
        : job_(job), cage_(cage), tables_(tables) {
        pack_.job = &job;
        pack_.cage = &cage;
        pack_.folder = folder;
        pack_.made = made;
    }

    InspectorPack make() {
        pack_.report = check(tables_, job_, cage_);
        pack_.rests = restsOn(tables_, job_, cage_, pack_.report);
        pack_.to_measure = asBuiltList(tables_, job_, cage_, false);
        pack_.spots = allSpots();
        for (std::size_t m = 0; m < cage_.members.size(); ++m) {
            const auto member = static_cast<int>(m);
            tube(member);
            joints(member);
        }
        for (std::size_t p = 0; p < cage_.plates.size(); ++p) plate(static_cast<int>(p));
        for (std::size_t d = 0; d < job_.drivers.size(); ++d)
            pack_.drivers.push_back({static_cast<int>(d), reportOn(job_.drivers[d], job_.car, cage_)});
        inspections();
        dates();
        photos();
        outside();
        return std::move(pack_);
    }

    std::vector<PackSpot> allSpots() {
        const auto walls = wallsAsked(tables_, job_, cage_);
        for (std::size_t m = 0; m < cage_.members.size(); ++m) spots(static_cast<int>(m), walls[m]);
        return std::move(pack_.spots);
    }

private:
    void tube(int member) {
        const ResolvedMember& m = cage_.members[static_cast<std::size_t>(member)];
        PackTube out;
        out.member = member;
        out.length_mm = m.line.length_mm();
        out.bends = m.line.bendCount();
        for (const Piece& piece : m.line.pieces())
            if (piece.kind == Piece::Kind::bend &&
                (out.least_radius_mm == 0 || piece.radius_mm < out.least_radius_mm))
                out.least_radius_mm = piece.radius_mm;
        out.read_od_mm = leastReading(job_.cage, m.id, "od");
        out.read_wall_mm = leastReading(job_.cage, m.id, "measured_wall");
        if (m.stock >= 0) {
            const TubeStock& stock = job_.stock.tubes[static_cast<std::size_t>(m.stock)];
            const Material* material = job_.stock.material(stock.material);
            out.stock = stock.id;
            out.material = material ? material->name : stock.material;
            out.form = std::string(formWord(stock.form));
            std::ranges::replace(out.form, '_', ' ');
            if (!out.read_wall_mm && stock.measured_wall_mm) {
                out.read_wall_mm = stock.measured_wall_mm;
                out.wall_of_rack = true;
            }
        }
        for (const Certificate& one : job_.cage.certificates) {
            if (one.of != m.id) continue;
            out.heat = one.heat;
            out.certificate = one.number;
            out.certified = one.when;
        }
        pack_.tubes.push_back(std::move(out));
    }

    void joints(int member) {
        const ResolvedMember& m = cage_.members[static_cast<std::size_t>(member)];
        const Expected<CopeSheet> sheet = copeSheet(job_, cage_, member);
        for (const int end : {0, 1}) {
            const ResolvedEnd& e = m.ends[static_cast<std::size_t>(end)];
            if (e.on == ResolvedEnd::On::nothing) continue;
            PackJoint out;
            out.number = std::to_string(member + 1) + (end == 0 ? "A" : "B");
            out.member = member;
            out.end = end;
            out.at = e.at;
            if (!sheet) {
                out.trouble = sheet.reason();
            } else {
                const CopeSheetEnd& made = sheet->ends[static_cast<std::size_t>(end)];
                out.trouble = made.trouble;
                for (const CutTo& host : made.hosts) out.onto.push_back(host.name);
                if (!made.hosts.empty()) out.angle_rad = made.hosts.front().angle_rad;
                out.weld_mm = made.weld_mm;
                out.under_30_mm = made.zones.under_30_mm;
            }
            if (out.onto.empty() && e.on == ResolvedEnd::On::plate && e.plate >= 0)
                out.onto.push_back(cage_.plates[static_cast<std::size_t>(e.plate)].name);
            if (out.onto.empty() && e.host >= 0)
                out.onto.push_back(cage_.members[static_cast<std::size_t>(e.host)].name);
            pack_.joints.push_back(std::move(out));
        }
    }

    void spots(int member, const std::optional<WallAsked>& limit) {
        const ResolvedMember& m = cage_.members[static_cast<std::size_t>(member)];
        if (!m.section.valid()) return;
        std::optional<double> least;
        if (m.stock >= 0)
            if (const auto mill = leastWall(job_.stock.tubes[static_cast<std::size_t>(m.stock)]))
                least = mill->wall_mm;
        const auto spot = [&](int bend, double station, const Vec3& out, double radius) {
            PackSpot one;
            one.number = std::to_string(member + 1) + "." + std::to_string(bend);
            one.member = member;
            one.bend = bend;
            one.where = bend == 0 ? "straight" : "outside of bend " + std::to_string(bend);
            one.station_mm = station;
            one.out = out;
            one.at = m.line.point(station) + m.radius_mm() * out;
            one.nominal_mm = m.section.wall_mm;
            const auto left = [&](double wall) {
                return radius > 0 ? bentWall_mm(wall, m.section.od_mm, radius) : wall;
            };
            one.expected_mm = left(m.section.wall_mm);
            if (least) one.mill_least_mm = left(*least);
            one.limit = limit;
            const std::string quantity = bend == 0 ? "measured_wall" : "gauged_bent_wall";
            const BuiltReading* read = leastKept(job_.cage, m.id, quantity, one.number);
            if (!read && (bend == 0 || m.line.bendCount() == 1)) read = leastKept(job_.cage, m.id, quantity);
            if (read) one.read_mm = read->value, one.read_by = read->who;
            pack_.spots.push_back(std::move(one));
        };
        const Piece* longest = nullptr;
        for (const Piece& piece : m.line.pieces())
            if (piece.kind == Piece::Kind::straight && (!longest || piece.length_mm > longest->length_mm))
                longest = &piece;
        if (longest) {
            // Where a bar leans, on its upper side; along the car, on its outside.
            Vec3 out = Vec3::UnitZ() - longest->tangent.z() * longest->tangent;
            if (out.norm() < 0.3) out = Vec3::UnitX() - longest->tangent.x() * longest->tangent;
            spot(0, longest->station_mm + longest->length_mm / 2, out.normalized(), 0);
        }
        int bend = 0;
        for (const Piece& piece : m.line.pieces()) {
            if (piece.kind != Piece::Kind::bend) continue;
            const Vec3 middle = piece.point(piece.length_mm / 2);
            spot(++bend, piece.station_mm + piece.length_mm / 2, (middle - piece.centre).normalized(),
                 piece.radius_mm);
        }
    }

    void plate(int index) {
        const ResolvedPlate& p = cage_.plates[static_cast<std::size_t>(index)];
        PackPlate out;
        out.number = "P" + std::to_string(index + 1);
        out.plate = index;
        Vec2 low = Vec2::Constant(1e300), high = Vec2::Constant(-1e300);
        for (const Vec2& corner : p.outline) low = low.cwiseMin(corner), high = high.cwiseMax(corner);
        if (low.x() < high.x()) out.length_mm = high.x() - low.x(), out.width_mm = high.y() - low.y();
        out.read_area_mm2 = leastReading(job_.cage, p.id, "contact_area");
        pack_.plates.push_back(std::move(out));
    }

    void inspections() {
        std::vector<Inspection> all = job_.cage.inspections;
        std::ranges::stable_sort(all, std::ranges::greater(), &Inspection::when);
        for (const Inspection& was : all) {
            PackInspection out{was, {}, {}};
            if (was.report.empty()) {
                out.trouble = "No report of the check was kept with it.";
            } else {
                QFile file(QString::fromStdString((pack_.folder / was.report).string()));
                if (!file.open(QIODevice::ReadOnly)) {
                    out.trouble = "Its report '" + was.report +
                                  "' cannot be read: " + file.errorString().toStdString() + ".";
                } else if (const Expected<ReportSummary> then = readReport(file.readAll())) {
                    out.changes = changesSince(*then, summaryOf(pack_.report));
                } else {
                    out.trouble = "Its report '" + was.report + "': " + then.reason() + ".";
                }
            }
            pack_.inspections.push_back(std::move(out));
        }
    }

    void dates() {
        for (const DatedPaper& paper : job_.cage.papers) {
            PackDate out{paper.what, paper.number, paper.issued,
                         paper.due,  paper.note,   daysLeft(paper.due, pack_.made)};
            pack_.dates.push_back(std::move(out));
        }
        // What runs out first stands first; what never does, last.
        std::ranges::stable_sort(pack_.dates, [](const PackDate& a, const PackDate& b) {
            return a.days_left.value_or(1'000'000'000) < b.days_left.value_or(1'000'000'000);
        });
    }

    void photos() {
        for (const Finding& finding : pack_.report.findings) {
            if (!finding.answered || finding.answered->photo.empty()) continue;
            PackPhoto out;
            out.file = finding.answered->photo;
            out.of = finding.title + (finding.subject_name.empty() ? "" : ", " + finding.subject_name);
            out.says = finding.answered->who + ", " + finding.answered->when +
                       (finding.answered->note.empty() ? "" : ": " + finding.answered->note);
            std::error_code failed;
            out.there = std::filesystem::is_regular_file(pack_.folder / out.file, failed);
            pack_.photos.push_back(std::move(out));
        }
    }

    void outside() {
        // Outlines and cut ends reach as far as the metal does: from the left along and up, from the front
        // across.
        Box all;
        for (const std::size_t view : {std::size_t{0}, std::size_t{1}})
            for (const CageLine& line : lineDrawing(cage_, lineViews()[view]))
                for (const Vec3& p : line.points) {
                    all.extend(p);
                    if (line.of == CageLine::Of::tube) pack_.outside.extend(p);
                }
        if (pack_.outside.isEmpty()) return;
        for (int axis = 0; axis < 3; ++axis) {
            pack_.outside_mm[static_cast<std::size_t>(axis)] = pack_.outside.sizes()[axis];
            pack_.with_plates_mm[static_cast<std::size_t>(axis)] = all.sizes()[axis];
        }
    }

    const Job& job_;
    const CageGeometry& cage_;
    std::span<const RuleTableRef> tables_;
    InspectorPack pack_;
};

}  // namespace

int InspectorPack::resting(RestsOn what) const {
    return static_cast<int>(std::ranges::count(rests, what));
}

std::vector<int> InspectorPack::pictured() const {
    std::vector<int> out;
    for (std::size_t i = 0; i < report.findings.size(); ++i) {
        const Finding& f = report.findings[i];
        const bool to_show =
            !f.evidence.shapes.empty() || !f.evidence.members.empty() || !f.evidence.plates.empty();
        bool wanted = f.answer == Answer::fails || (f.answer == Answer::ask_person && !f.subject.empty());
        if (f.answer == Answer::meets && f.margin && f.limit && !f.evidence.shapes.empty() &&
            (f.dimension == Dimension::length || f.dimension == Dimension::angle ||
             f.dimension == Dimension::area))
            wanted = *f.margin <= kNearLimit * std::abs(*f.limit);
        if (wanted && to_show) out.push_back(static_cast<int>(i));
    }
    return out;
}

std::string spotTrouble(const PackSpot& spot) {
    if (!spot.read_mm) return "";
    const bool gauged = spot.limit && spot.limit->judged == wallWords(WallKind::measured);
    if (spot.bend == 0 && gauged && *spot.read_mm < spot.limit->wall_mm) return "thinner than the limit";
    if (spot.mill_least_mm && *spot.read_mm < *spot.mill_least_mm)
        return "thinner than the mill's least leaves it";
    return "";
}

std::optional<long long> daysLeft(const std::string& due, const std::string& today) {
    const QDate from = QDate::fromString(QString::fromStdString(today), Qt::ISODate);
    const QDate to = QDate::fromString(QString::fromStdString(due), Qt::ISODate);
    if (!from.isValid() || !to.isValid()) return std::nullopt;
    return from.daysTo(to);
}

std::string timeLeftWords(const std::optional<long long>& days_left) {
    if (!days_left) return "";
    if (*days_left == 0) return "runs out today";
    const auto days = [](long long n) { return std::to_string(n) + (n == 1 ? " day" : " days"); };
    return *days_left < 0 ? "RUN OUT " + days(-*days_left) + " ago" : days(*days_left) + " left";
}

bool isLeft(const LapStrap& strap, const Driver& driver) {
    return strap.anchor.y() > driver.hip.y();
}

std::vector<PackSpot> wallSpots(const Job& job, const CageGeometry& cage,
                                std::span<const RuleTableRef> tables) {
    return PackMaker(job, cage, tables, {}, {}).allSpots();
}

InspectorPack inspectorPack(const Job& job, const CageGeometry& cage, std::span<const RuleTableRef> tables,
                            const std::filesystem::path& folder, const std::string& made) {
    return PackMaker(job, cage, tables, folder, made).make();
}

}  // namespace hoopwright
