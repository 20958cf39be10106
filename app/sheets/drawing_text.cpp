// The writers that write text: SVG, DXF, CSV.
#include <QBuffer>
#include <array>
#include <cmath>
#include <numbers>

#include "app/sheets/drawing.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

constexpr double kDxfPoint_mm = 25.4 / 72;
constexpr int kDecimals = 5;
constexpr std::array<DrawnLine, 7> kLines = {DrawnLine::cut,  DrawnLine::bore, DrawnLine::grind,
                                             DrawnLine::mark, DrawnLine::fold, DrawnLine::part,
                                             DrawnLine::hair};

std::string escaped(const std::string& words) {
    std::string out;
    for (const char c : words) {
        if (c == '&') {
            out += "&amp;";
        } else if (c == '<') {
            out += "&lt;";
        } else if (c == '>') {
            out += "&gt;";
        } else {
            out += c;
        }
    }
    return out;
}

std::string mm(double value) {
    return shortest(std::round(value * 1e5) / 1e5);
}
std::string at(const Vec2& p) {
    return mm(p.x()) + " " + mm(p.y());
}

std::string strokeOf(DrawnLine line) {
    switch (line) {
        case DrawnLine::cut:
            return "stroke-width:0.35";
        case DrawnLine::bore:
            return "stroke-width:0.2;stroke-dasharray:0.4 0.6";
        case DrawnLine::grind:
            return "stroke-width:0.25;stroke-dasharray:2 1";
        case DrawnLine::mark:
            return "stroke-width:0.2;stroke-dasharray:4 1 0.6 1";
        case DrawnLine::fold:
            return "stroke-width:0.3;stroke-dasharray:4 0.8 0.6 0.8 0.6 0.8";
        case DrawnLine::part:
            return "stroke-width:0.45";
        case DrawnLine::hair:
            break;
    }
    return "stroke-width:0.15";
}

Vec2 onArc(const DrawnArc& arc, double turn) {
    return arc.centre + arc.radius_mm * Vec2(std::cos(arc.from_rad + turn), std::sin(arc.from_rad + turn));
}

std::string textSvg(const DrawnText& text) {
    const char* anchor = text.align == DrawnText::Align::left    ? "start"
                         : text.align == DrawnText::Align::right ? "end"
                                                                 : "middle";
    return "<text x=\"" + mm(text.at.x()) + "\" y=\"" + mm(text.at.y()) + "\" font-size=\"" +
           mm(text.points * kDxfPoint_mm) + "\" text-anchor=\"" + anchor + "\"" +
           (text.strong ? " font-weight=\"600\"" : "") + " fill=\"" + (text.soft ? "#555B63" : "#1C2024") +
           "\">" + escaped(text.words) + "</text>\n";
}

std::string pictureSvg(const DrawnPicture& picture) {
    QByteArray png;
    QBuffer buffer(&png);
    buffer.open(QIODevice::WriteOnly);
    picture.image.save(&buffer, "PNG");
    return "<image x=\"" + mm(picture.at.x()) + "\" y=\"" + mm(picture.at.y()) + "\" width=\"" +
           mm(picture.size.x()) + "\" height=\"" + mm(picture.size.y()) + "\" href=\"data:image/png;base64," +
           png.toBase64().toStdString() + "\"/>\n";
}

/// Words as this DXF can hold them: what is not ASCII by its number.
std::string dxfWords(const std::string& words) {
    std::string out;
    for (std::size_t i = 0; i < words.size();) {
        const auto lead = static_cast<unsigned char>(words[i]);
        const std::size_t bytes = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
        if (bytes == 1) {
            out += words[i];
        } else {
            unsigned code = lead & (0xFFu >> (bytes + 1));
            for (std::size_t k = 1; k < bytes && i + k < words.size(); ++k)
                code = code << 6 | (static_cast<unsigned char>(words[i + k]) & 0x3Fu);
            constexpr const char* kHex = "0123456789ABCDEF";
            std::string number;
            for (int shift = 12; shift >= 0; shift -= 4) number += kHex[code >> shift & 0xFu];
            out += code == 0xB0 ? "%%d" : "\\U+" + number;
        }
        i += bytes;
    }
    return out;
}

/// DXF: a group code on one line, its value on the next.
class DxfWriter {
public:
    explicit DxfWriter(double height_mm) : height_(height_mm) {}
    void put(int code, const std::string& value) {
        text_ += std::to_string(code);
        text_ += "\n";
        text_ += value;
        text_ += "\n";
    }
    void number(int code, double value) { put(code, fixed(value, kDecimals)); }
    void entity(const std::string& kind, const std::string& layer) {
        put(0, kind);
        put(8, layer);
    }
    void point(int code, const Vec2& p) {
        number(code, p.x());
        number(code + 10, height_ - p.y());
        number(code + 20, 0);
    }
    QByteArray take() const { return QByteArray::fromStdString(text_); }

private:
    double height_;
    std::string text_;
};

void dxfHead(DxfWriter& dxf) {
    dxf.put(0, "SECTION");
    dxf.put(2, "HEADER");
    dxf.put(9, "$ACADVER");
    dxf.put(1, "AC1009");
    dxf.put(9, "$INSUNITS");
    dxf.put(70, "4");  // millimetres
    dxf.put(0, "ENDSEC");
    dxf.put(0, "SECTION");
    dxf.put(2, "TABLES");
    dxf.put(0, "TABLE");
    dxf.put(2, "LAYER");
    dxf.put(70, std::to_string(kLines.size() + 1));
    int colour = 1;
    const auto layer = [&](const std::string& name) {
        dxf.put(0, "LAYER");
        dxf.put(2, name);
        dxf.put(70, "0");
        dxf.put(62, std::to_string(colour++));
        dxf.put(6, "CONTINUOUS");
    };
    for (const DrawnLine line : kLines) layer(lineWord(line));
    layer("TEXT");
    dxf.put(0, "ENDTAB");
    dxf.put(0, "ENDSEC");
    dxf.put(0, "SECTION");
    dxf.put(2, "ENTITIES");
}

void dxfPath(DxfWriter& dxf, const DrawnPath& path) {
    const std::string layer = lineWord(path.line);
    if (path.points.size() == 2 && !path.closed) {
        dxf.entity("LINE", layer);
        dxf.point(10, path.points[0]);
        dxf.point(11, path.points[1]);
        return;
    }
    dxf.entity("POLYLINE", layer);
    dxf.put(66, "1");
    dxf.put(70, path.closed ? "1" : "0");
    for (const Vec2& p : path.points) {
        dxf.entity("VERTEX", layer);
        dxf.point(10, p);
    }
    dxf.entity("SEQEND", layer);
}

void dxfArc(DxfWriter& dxf, const DrawnArc& arc) {
    constexpr double kDegrees = 180 / std::numbers::pi;
    if (std::abs(arc.sweep_rad) > 2 * std::numbers::pi - 1e-9) {
        dxf.entity("CIRCLE", lineWord(arc.line));
        dxf.point(10, arc.centre);
        dxf.number(40, arc.radius_mm);
        return;
    }
    dxf.entity("ARC", lineWord(arc.line));
    dxf.point(10, arc.centre);
    dxf.number(40, arc.radius_mm);
    // y is turned over, and with it the way round.
    dxf.number(50, -(arc.from_rad + arc.sweep_rad) * kDegrees);
    dxf.number(51, -arc.from_rad * kDegrees);
}

}  // namespace

std::string lineWord(DrawnLine line) {
    switch (line) {
        case DrawnLine::cut:
            return "CUT";
        case DrawnLine::bore:
            return "BORE";
        case DrawnLine::grind:
            return "GRIND";
        case DrawnLine::mark:
            return "MARK";
        case DrawnLine::fold:
            return "FOLD";
        case DrawnLine::part:
            return "PART";
        case DrawnLine::hair:
            break;
    }
    return "SHEET";
}

QByteArray svgOf(const Drawing& drawing) {
    std::string out =
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" +
        mm(drawing.size_mm.x()) + "mm\" height=\"" + mm(drawing.size_mm.y()) + "mm\" viewBox=\"0 0 " +
        at(drawing.size_mm) + "\" font-family=\"Inter, sans-serif\">\n<title>" + escaped(drawing.title) +
        "</title>\n<g fill=\"#F2B705\">\n";
    for (const DrawnBlock& block : drawing.blocks)
        out += "<rect x=\"" + mm(block.at.x()) + "\" y=\"" + mm(block.at.y()) + "\" width=\"" +
               mm(block.size.x()) + "\" height=\"" + mm(block.size.y()) + "\"/>\n";
    out += "</g>\n";
    for (const DrawnPicture& picture : drawing.pictures) out += pictureSvg(picture);
    out += "<g fill=\"none\" stroke=\"#1C2024\">\n";
    for (const DrawnPath& path : drawing.paths) {
        out += "<path class=\"" + lineWord(path.line) + "\" style=\"" + strokeOf(path.line) + "\" d=\"M";
        for (std::size_t i = 0; i < path.points.size(); ++i) out += (i > 0 ? " L" : "") + at(path.points[i]);
        out += path.closed ? " Z\"/>\n" : "\"/>\n";
    }
    for (const DrawnArc& arc : drawing.arcs) {
        // Two halves: an arc of a full turn has no ends to be told by.
        const std::string round =
            " A" + mm(arc.radius_mm) + " " + mm(arc.radius_mm) + " 0 0 " + (arc.sweep_rad > 0 ? "1 " : "0 ");
        out += "<path class=\"" + lineWord(arc.line) + "\" style=\"" + strokeOf(arc.line) + "\" d=\"M" +
               at(onArc(arc, 0)) + round + at(onArc(arc, arc.sweep_rad / 2)) + round +
               at(onArc(arc, arc.sweep_rad)) + "\"/>\n";
    }
    out += "</g>\n";
    for (const DrawnText& text : drawing.texts) out += textSvg(text);
    return QByteArray::fromStdString(out + "</svg>\n");
}

QByteArray dxfOf(const Drawing& drawing) {
    DxfWriter dxf(drawing.size_mm.y());
    dxfHead(dxf);
    for (const DrawnPath& path : drawing.paths) dxfPath(dxf, path);
    for (const DrawnArc& arc : drawing.arcs) dxfArc(dxf, arc);
    for (const DrawnText& text : drawing.texts) {
        dxf.entity("TEXT", "TEXT");
        dxf.point(10, text.at);
        dxf.number(40, text.points * kDxfPoint_mm * 0.7);  // height of its capitals
        dxf.put(1, dxfWords(text.words));
        if (text.align == DrawnText::Align::left) continue;
        dxf.put(72, text.align == DrawnText::Align::right ? "2" : "1");
        dxf.point(11, text.at);
    }
    dxf.put(0, "ENDSEC");
    dxf.put(0, "EOF");
    return dxf.take();
}

QByteArray csvOf(const std::vector<std::vector<std::string>>& rows) {
    std::string out;
    for (const std::vector<std::string>& row : rows) {
        for (std::size_t i = 0; i < row.size(); ++i) {
            std::string cell = row[i];
            if (cell.find_first_of(",\"\r\n") != std::string::npos) {
                for (std::size_t at = cell.find('"'); at != std::string::npos; at = cell.find('"', at + 2))
                    cell.insert(at, "\"");
                cell.insert(0, "\"");
                cell += "\"";
            }
            out += (i > 0 ? "," : "") + cell;
        }
        out += "\r\n";
    }
    return QByteArray::fromStdString(out);
}

}  // namespace hoopwright
