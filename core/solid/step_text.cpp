#include "core/solid/step_text.h"

#include <cmath>

#include "core/base/text.h"

namespace hoopwright {
namespace {

std::string real(double value) {
    std::string text = shortest(value);
    const std::size_t e = text.find('e');
    const std::string tail = e == std::string::npos ? "" : "E" + text.substr(e + 1);
    text.resize(std::min(e, text.size()));
    if (text.find('.') == std::string::npos) text += '.';
    return text + tail;
}
/// To a billionth of a millimetre.
std::string place(double mm) {
    return real(std::round(mm * 1e9) / 1e9);
}

std::string fourHex(unsigned value) {
    std::string out;
    for (int shift = 12; shift >= 0; shift -= 4) out += "0123456789ABCDEF"[value >> shift & 15u];
    return out;
}

/// A string as ISO 10303-21 writes it: beyond ASCII in two or four octets a letter.
std::string quoted(const std::string& words) {
    std::string out = "'";
    for (std::size_t i = 0; i < words.size();) {
        const auto lead = static_cast<unsigned char>(words[i]);
        const std::size_t bytes = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
        if (bytes == 1) {
            if (words[i] == '\'' || words[i] == '\\') out += words[i];
            out += lead < 32 ? ' ' : words[i];
        } else {
            unsigned code = lead & (0xFFu >> (bytes + 1));
            for (std::size_t k = 1; k < bytes && i + k < words.size(); ++k)
                code = code << 6 | (static_cast<unsigned char>(words[i + k]) & 0x3Fu);
            out += code > 0xFFFF ? "\\X4\\" + fourHex(code >> 16) + fourHex(code & 0xFFFF) + "\\X0\\"
                                 : "\\X2\\" + fourHex(code) + "\\X0\\";
        }
        i += bytes;
    }
    return out + "'";
}

class StepWriter {
public:
    /// Its number, as "#12".
    std::string add(const std::string& entity) {
        const std::string number = "#" + std::to_string(++last_);
        text_ += number + "=" + entity + ";\n";
        return number;
    }
    std::string point(const Vec3& p) {
        return add("CARTESIAN_POINT('',(" + place(p.x()) + "," + place(p.y()) + "," + place(p.z()) + "))");
    }
    std::string direction(const Vec3& d) {
        return add("DIRECTION('',(" + real(d.x()) + "," + real(d.y()) + "," + real(d.z()) + "))");
    }
    std::string placement(const Vec3& at, const Vec3& axis, const Vec3& towards) {
        const std::string p = point(at), z = direction(axis), x = direction(towards);
        return add("AXIS2_PLACEMENT_3D(''," + p + "," + z + "," + x + ")");
    }
    std::string take() { return std::move(text_); }

private:
    std::string text_;
    int last_ = 0;
};

std::string list(const std::vector<std::string>& items) {
    std::string out = "(";
    for (const std::string& item : items) out += (out.size() > 1 ? "," : "") + item;
    return out + ")";
}

std::string knotList(const KnotRow& row) {
    std::vector<std::string> counts, knots;
    for (const int count : row.counts) counts.push_back(std::to_string(count));
    for (const double knot : row.knots) knots.push_back(real(knot));
    return list(counts) + "," + list(knots);
}

/// One solid's faces, edges and corners.
class BrepWriter {
public:
    BrepWriter(StepWriter& step, const SolidBody& solid) : step_(step), solid_(solid) {}

    /// @return the solid's number
    std::string write(const std::string& name) {
        for (const Vec3& corner : solid_.corners) {
            points_.push_back(step_.point(corner));
            corners_.push_back(step_.add("VERTEX_POINT(''," + points_.back() + ")"));
        }
        for (const SolidEdge& edge : solid_.edges) {
            const std::string curve =
                std::visit([&](const auto& c) { return this->curve(edge, c); }, edge.curve);
            edges_.push_back(step_.add("EDGE_CURVE(''," + corners_[index(edge.from)] + "," +
                                       corners_[index(edge.to)] + "," + curve + ",.T.)"));
        }
        std::vector<std::string> faces;
        for (const SolidFace& face : solid_.faces) faces.push_back(writeFace(face));
        const std::string shell = step_.add("CLOSED_SHELL(''," + list(faces) + ")");
        return step_.add("MANIFOLD_SOLID_BREP(" + quoted(name) + "," + shell + ")");
    }

private:
    static std::size_t index(int i) { return static_cast<std::size_t>(i); }

    std::string writeFace(const SolidFace& face) {
        const std::string surface = std::visit([&](const auto& s) { return this->surface(s); }, face.surface);
        std::vector<std::string> bounds;
        for (const EdgeLoop& loop : face.loops) {
            std::vector<std::string> uses;
            for (const EdgeUse& use : loop)
                uses.push_back(step_.add("ORIENTED_EDGE('',*,*," + edges_[index(use.edge)] +
                                         (use.forward ? ",.T.)" : ",.F.)")));
            const std::string closed = step_.add("EDGE_LOOP(''," + list(uses) + ")");
            bounds.push_back(
                step_.add((bounds.empty() ? "FACE_OUTER_BOUND(''," : "FACE_BOUND('',") + closed + ",.T.)"));
        }
        return step_.add("ADVANCED_FACE(''," + list(bounds) + "," + surface +
                         (face.along_normal ? ",.T.)" : ",.F.)"));
    }

    std::string curve(const SolidEdge& edge, const StraightEdge&) {
        const Vec3 way = solid_.corners[index(edge.to)] - solid_.corners[index(edge.from)];
        const std::string towards = step_.direction(way.normalized());
        const std::string vector = step_.add("VECTOR(''," + towards + ",1.)");
        return step_.add("LINE(''," + points_[index(edge.from)] + "," + vector + ")");
    }
    std::string curve(const SolidEdge&, const CircleEdge& circle) {
        return step_.add("CIRCLE(''," + step_.placement(circle.centre, circle.axis, circle.towards) + "," +
                         place(circle.radius_mm) + ")");
    }
    std::string curve(const SolidEdge&, const EllipseEdge& ellipse) {
        return step_.add("ELLIPSE(''," + step_.placement(ellipse.centre, ellipse.axis, ellipse.towards) +
                         "," + place(ellipse.long_mm) + "," + place(ellipse.short_mm) + ")");
    }
    std::string curve(const SolidEdge&, const SplineEdge& spline) {
        std::vector<std::string> poles;
        for (const Vec3& pole : spline.poles) poles.push_back(step_.point(pole));
        return step_.add("B_SPLINE_CURVE_WITH_KNOTS('',3," + list(poles) + ",.UNSPECIFIED.,.F.,.F.," +
                         knotList(spline.row) + ",.UNSPECIFIED.)");
    }

    std::string surface(const PlaneSurface& plane) {
        return step_.add("PLANE(''," +
                         step_.placement(plane.at, plane.normal, plane.normal.unitOrthogonal()) + ")");
    }
    std::string surface(const CylinderSurface& round) {
        return step_.add("CYLINDRICAL_SURFACE(''," + step_.placement(round.at, round.axis, round.away) + "," +
                         place(round.radius_mm) + ")");
    }
    std::string surface(const TorusSurface& torus) {
        return step_.add("TOROIDAL_SURFACE(''," + step_.placement(torus.centre, torus.axis, torus.away) +
                         "," + place(torus.ring_radius_mm) + "," + place(torus.tube_radius_mm) + ")");
    }
    std::string surface(const SplineSurface& spline) {
        std::vector<std::string> rows;
        for (const auto& row : spline.poles) {
            std::vector<std::string> poles;
            for (const Vec3& pole : row) poles.push_back(step_.point(pole));
            rows.push_back(list(poles));
        }
        const std::string along = knotList(spline.first), across = knotList({{0, 1}, {4, 4}});
        const std::size_t one = along.find("),(") + 1, two = across.find("),(") + 1;
        return step_.add("B_SPLINE_SURFACE_WITH_KNOTS('',3,3," + list(rows) + ",.UNSPECIFIED.,.F.,.F.,.F.," +
                         along.substr(0, one) + "," + across.substr(0, two) + along.substr(one) +
                         across.substr(two) + ",.UNSPECIFIED.)");
    }

    StepWriter& step_;
    const SolidBody& solid_;
    std::vector<std::string> points_, corners_, edges_;
};

/// What the whole file shares, and the products in it.
class StepFile {
public:
    StepFile() {
        const std::string application =
            step_.add("APPLICATION_CONTEXT('core data for automotive mechanical design processes')");
        step_.add("APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000," +
                  application + ")");
        product_context_ = step_.add("PRODUCT_CONTEXT(''," + application + ",'mechanical')");
        definition_context_ =
            step_.add("PRODUCT_DEFINITION_CONTEXT('part definition'," + application + ",'design')");
        const std::string mm = step_.add("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))");
        const std::string rad = step_.add("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))");
        const std::string round = step_.add("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())");
        const std::string near = step_.add("UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-05)," + mm +
                                           ",'distance_accuracy_value','edges and faces meet within this')");
        space_ = step_.add("(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((" +
                           near + "))GLOBAL_UNIT_ASSIGNED_CONTEXT((" + mm + "," + rad + "," + round +
                           "))REPRESENTATION_CONTEXT('','3D'))");
        origin_ = step_.placement(Vec3::Zero(), Vec3::UnitZ(), Vec3::UnitX());
    }

    void part(const StepPart& part) {
        const std::string solid = BrepWriter(step_, part.solid).write(part.name);
        colour(solid, part.colour);
        const std::string shape =
            step_.add("ADVANCED_BREP_SHAPE_REPRESENTATION(''," + list({origin_, solid}) + "," + space_ + ")");
        const std::string place = step_.placement(Vec3::Zero(), Vec3::UnitZ(), Vec3::UnitX());
        parts_.push_back({product(part.id, part.name, shape), shape, place, part.name});
    }

    std::string finish(const std::string& assembly) {
        std::vector<std::string> items = {origin_};
        for (const Placed& each : parts_) items.push_back(each.place);
        const std::string shape = step_.add("SHAPE_REPRESENTATION(''," + list(items) + "," + space_ + ")");
        const std::string whole = product(assembly, assembly, shape);
        for (const Placed& each : parts_) put(each, whole, shape);
        if (!styled_.empty())
            step_.add("MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION(''," + list(styled_) + "," +
                      space_ + ")");
        return "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((" + quoted(assembly) + "),'2;1');\nFILE_NAME(" +
               quoted(assembly) +
               ",'',(''),(''),'Hoopwright','Hoopwright','');\n"
               "FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'));\nENDSEC;\nDATA;\n" +
               step_.take() + "ENDSEC;\nEND-ISO-10303-21;\n";
    }

private:
    struct Placed {
        std::string definition, shape, place, name;
    };

    /// @return its definition
    std::string product(const std::string& id, const std::string& name, const std::string& shape) {
        const std::string made =
            step_.add("PRODUCT(" + quoted(id) + "," + quoted(name) + ",'',(" + product_context_ + "))");
        step_.add("PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,(" + made + "))");
        const std::string version = step_.add("PRODUCT_DEFINITION_FORMATION('',''," + made + ")");
        const std::string definition =
            step_.add("PRODUCT_DEFINITION('design',''," + version + "," + definition_context_ + ")");
        const std::string of = step_.add("PRODUCT_DEFINITION_SHAPE('',''," + definition + ")");
        step_.add("SHAPE_DEFINITION_REPRESENTATION(" + of + "," + shape + ")");
        return definition;
    }
    void put(const Placed& part, const std::string& whole, const std::string& whole_shape) {
        const std::string use =
            step_.add("NEXT_ASSEMBLY_USAGE_OCCURRENCE('" + std::to_string(++uses_) + "'," +
                      quoted(part.name) + ",''," + whole + "," + part.definition + ",$)");
        const std::string of = step_.add("PRODUCT_DEFINITION_SHAPE('',''," + use + ")");
        const std::string moved =
            step_.add("ITEM_DEFINED_TRANSFORMATION('',''," + origin_ + "," + part.place + ")");
        const std::string relation =
            step_.add("(REPRESENTATION_RELATIONSHIP('',''," + part.shape + "," + whole_shape +
                      ")REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION(" + moved +
                      ")SHAPE_REPRESENTATION_RELATIONSHIP())");
        step_.add("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION(" + relation + "," + of + ")");
    }
    void colour(const std::string& solid, const std::array<double, 3>& rgb) {
        const std::string colour =
            step_.add("COLOUR_RGB(''," + real(rgb[0]) + "," + real(rgb[1]) + "," + real(rgb[2]) + ")");
        const std::string fill = step_.add("FILL_AREA_STYLE_COLOUR(''," + colour + ")");
        const std::string area = step_.add("FILL_AREA_STYLE('',(" + fill + "))");
        const std::string style = step_.add("SURFACE_STYLE_FILL_AREA(" + area + ")");
        const std::string side = step_.add("SURFACE_SIDE_STYLE('',(" + style + "))");
        const std::string usage = step_.add("SURFACE_STYLE_USAGE(.BOTH.," + side + ")");
        const std::string assigned = step_.add("PRESENTATION_STYLE_ASSIGNMENT((" + usage + "))");
        styled_.push_back(step_.add("STYLED_ITEM('colour',(" + assigned + ")," + solid + ")"));
    }

    StepWriter step_;
    std::string product_context_, definition_context_, space_, origin_;
    std::vector<Placed> parts_;
    std::vector<std::string> styled_;
    int uses_ = 0;
};

}  // namespace

std::string stepText(const std::string& assembly, const std::vector<StepPart>& parts) {
    StepFile file;
    for (const StepPart& part : parts) file.part(part);
    return file.finish(assembly);
}

}  // namespace hoopwright
