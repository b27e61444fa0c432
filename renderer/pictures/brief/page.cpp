#include "pictures/brief/page.h"

#include "pictures/brief/frames.h"
#include "pictures/brief/page_parts.h"
#include "pictures/draw/display_curve.h"
#include "pictures/maps/map_picture.h"
#include "pictures/plan/plan.h"
#include "pictures/words/json_value.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

using Block = BriefBlock::Kind;

/// Words as they stand between tags or in an attribute.
std::string escaped(const std::string& words) {
    std::string out;
    for (const char c : words) switch (c) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '"':
                out += "&quot;";
                break;
            case '\'':
                out += "&#39;";
                break;
            case '\n':
                out += "<br>";
                break;
            default:
                if (static_cast<unsigned char>(c) >= 0x20 || c == '\t') out += c;
        }
    return out;
}
std::string in_attribute(const std::string& words) {
    std::string flat = utf8(code_points(words));
    return escaped(flat);
}

/// JSON between the tags of a script: a name may hold what would end it or begin another ("</", "<!--", "<script"),
/// and in JSON every '<' stands within words.
std::string in_script(const std::string& json) {
    std::string out;
    out.reserve(json.size());
    for (const char c : json)
        if (c == '<')
            out += "\\u003C";
        else
            out += c;
    return out;
}

std::string base64(const std::string& bytes) {
    constexpr const char* letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string out;
    out.reserve(bytes.size() * 4 / 3 + 4);
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        unsigned v = 0;
        for (std::size_t k = 0; k < 3; ++k)
            v = v << 8 | (i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0U);
        for (std::size_t k = 0; k < 4; ++k) out += i + k <= bytes.size() ? letters[v >> (18 - 6 * k) & 63] : '=';
    }
    return out;
}

std::string data_address(const char* kind, const std::string& bytes) {
    return std::string("data:") + kind + ";base64," + base64(bytes);
}

class Page {
public:
    Page(const Brief& brief, const BriefLook& look) : brief_(brief), look_(look) {
        constexpr double most_layers = 16e6;  // bytes in the page
        page_.fader_width = fader_width(brief, most_layers);
    }

    BriefPage made() {
        const BriefDocument d = brief_document(brief_, look_);
        std::string body, contents;
        std::size_t sections = 0;
        bool open = false;
        for (const BriefBlock& b : d.blocks) {
            if (b.kind == Block::section) {
                const std::string id = "s" + std::to_string(++sections);
                body += open ? "</section>\n" : "";
                body += "<section id=\"" + id + "\"><h2>" + escaped(b.text) + "</h2>\n";
                contents += "<li><a href=\"#" + id + "\">" + escaped(b.text) + "</a></li>";
                open = true;
                continue;
            }
            body += block(b);
        }
        if (open) body += "</section>\n";
        page_.html =
            "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n"
            "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>" +
            escaped(d.title) + "</title>\n<style>\n" + std::string(brief_page_style()) +
            "</style></head>\n<body>\n<header><p class=\"whom\">" + escaped(d.whom) + "</p><h1>" + escaped(d.title) +
            "</h1><p>" + escaped(d.subtitle) + "</p></header>\n<nav aria-label=\"Sections\"><ul>" + contents +
            "</ul></nav>\n<main>\n" + body +
            "</main>\n<footer><p>Made by rushlight. Nothing on this page is fetched from elsewhere; it works "
            "without a network.</p></footer>\n" +
            data_ + "<script>\n" + std::string(brief_page_script()) + "</script>\n</body></html>\n";
        return std::move(page_);
    }

private:
    std::string block(const BriefBlock& b) {
        switch (b.kind) {
            case Block::section:
                break;
            case Block::heading:
                return "<h3>" + escaped(b.text) + "</h3>\n";
            case Block::text:
                return "<p>" + escaped(b.text) + "</p>\n";
            case Block::small:
                return "<p class=\"small\">" + escaped(b.text) + "</p>\n";
            case Block::caution:
                return "<p class=\"caution\">" + escaped(b.text) + "</p>\n";
            case Block::list: {
                std::string html = "<ul>";
                for (const std::string& item : b.items) html += "<li>" + escaped(item) + "</li>";
                return html + "</ul>\n";
            }
            case Block::table:
                return table(b.table);
            case Block::figures: {
                std::string html = "<div class=\"figures across" + std::to_string(b.across) + "\">";
                for (const BriefFigure& f : b.figures) html += figure(f);
                return html + "</div>\n";
            }
            case Block::beside:
                return "<div class=\"beside\">" + figure(b.figures.front()) + table(b.table) + "</div>\n";
            case Block::faders:
                return faders(b.setup);
        }
        return "";
    }

    static std::string table(const BriefTable& t) {
        const auto attributes = [](const BriefTable::Column& c) {
            return std::string(c.right ? " class=\"number\"" : c.fixed ? " class=\"file\"" : "");
        };
        std::string html = "<div class=\"table\"><table><thead><tr>";
        for (const auto& c : t.columns) html += "<th scope=\"col\"" + attributes(c) + ">" + escaped(c.head) + "</th>";
        html += "</tr></thead><tbody>\n";
        for (const auto& row : t.rows) {
            html += "<tr>";
            for (std::size_t i = 0; i < row.size(); ++i)
                html += "<td" + attributes(t.columns[i]) + ">" + escaped(row[i]) + "</td>";
            html += "</tr>\n";
        }
        return html + "</tbody></table></div>\n";
    }

    std::string figure(const BriefFigure& f) const {
        const BriefSetup& s = brief_.setups[f.setup];
        std::string address;
        switch (f.kind) {
            case BriefFigure::Kind::frame:
                address = data_address("image/jpeg", jpeg(picture_of(s.options[f.option].frame)));
                break;
            case BriefFigure::Kind::map:
                address = data_address("image/png", png(map_picture(*s.map, MapUnit::stops)));
                break;
            case BriefFigure::Kind::plan: {
                PlanLook plan;
                plan.units = look_.units;
                plan.tables = brief_parts::is_for(look_.whom, {BriefFor::camera, BriefFor::lighting});
                address = data_address("image/svg+xml", plan_svg(s.options[f.option].setup, plan_size, plan));
                break;
            }
        }
        return "<figure><img src=\"" + address + "\" alt=\"" + in_attribute(f.words) + "\">" +
               (f.caption.empty() ? "" : "<figcaption>" + escaped(f.caption) + "</figcaption>") + "</figure>";
    }

    /// Frames side by side, and what the script needs to mix them again.
    std::string faders(std::size_t setup) {
        const BriefSetup& s = brief_.setups[setup];
        const std::string id = "faders" + std::to_string(setup + 1);
        std::string html = "<div class=\"faders\" data-for=\"" + id + "\"><div class=\"options\">";
        JsonValue data;
        const Camera& camera = s.options.front().frame.camera;
        data["t_stop"] = camera.exposure.t_stop;
        data["units"] = look_.units == BriefUnits::metric ? "lx" : "fc";
        data["lux_a_unit"] = look_.units == BriefUnits::metric ? 1.0 : lux_per_footcandle;
        data["footroom"] = camera.footroom;
        data["headroom"] = camera.headroom;
        const DisplayCurve curve(camera.headroom, camera.footroom);
        constexpr int steps = 512;
        data["curve"] = JsonValue::array();
        for (int i = 0; i <= steps; ++i) {
            const double stops = -camera.footroom + (camera.headroom + camera.footroom) * i / steps;
            data["curve"].push_back(std::round(1e5 * curve.light(0.18 * std::exp2(stops))) / 1e5);
        }
        data["sources"] = sources_of(s);
        data["options"] = JsonValue::array();
        for (const BriefOption& o : s.options) {
            html += "<figure><canvas hidden></canvas><img src=\"" +
                    data_address("image/jpeg", jpeg(picture_of(o.frame))) + "\" alt=\"" +
                    in_attribute("Frame, option " + o.setup.option) + "\"><figcaption>" + escaped(o.setup.option) +
                    "</figcaption><table class=\"live\"></table></figure>";
            data["options"].push_back(option_data(o));
        }
        html += "</div><div class=\"desk\" hidden></div></div>\n";
        data_ += "<script type=\"application/json\" id=\"" + id + "\">" + in_script(data.dump()) + "</script>\n";
        return html;
    }

    /// Every source of any option, and how far its fader goes: a lamp to full, daylight as clouds and sheets change it.
    static JsonValue sources_of(const BriefSetup& s) {
        constexpr double outside = 3;  // stops up
        JsonValue all = JsonValue::array();
        std::vector<std::string> known;
        for (const BriefOption& o : s.options)
            for (const std::string& name : o.frame.sources) {
                if (std::find(known.begin(), known.end(), name) != known.end()) continue;
                known.push_back(name);
                double most = outside;
                std::string kind = "daylight";
                for (const Lamp& l : o.setup.rig.lamps)
                    if (l.name == name) {
                        kind = "lamp";
                        most = l.level > 0 ? -std::log2(l.level) : 0;
                    }
                all.push_back({{"name", json_text(name)}, {"kind", kind}, {"most", std::round(100 * most) / 100}});
            }
        return all;
    }

    JsonValue option_data(const BriefOption& o) {
        JsonValue j{{"name", json_text(o.setup.option)}};
        j["layers"] = JsonValue::array();
        if (page_.fader_width > 0) {
            const FaderFrame small = fader_frame(o.frame, page_.fader_width);
            j["width"] = small.width;
            j["height"] = small.height;
            for (const FaderLayer& l : small.layers) {
                const std::string address = data_address("image/png", l.png);
                page_.layer_bytes += address.size();
                j["layers"].push_back({{"source", json_text(l.source)}, {"scale", l.scale}, {"png", address}});
            }
        }
        j["readings"] = JsonValue::array();
        for (const Reading& r : o.sheet.readings) {
            if (r.kind == "dome" && !r.mark.empty()) continue;
            JsonValue by = JsonValue::object();
            for (std::size_t i = 0; i < r.by_source.size() && i < o.sheet.sources.size(); ++i)
                by[utf8(code_points(o.sheet.sources[i]))] = json_number(r.by_source[i].value);
            const double per_lux = r.lux.value > 0 ? r.t_stop * r.t_stop / r.lux.value : 0;
            j["readings"].push_back({{"name", json_text(r.name)},
                                     {"mark", json_text(r.mark)},
                                     {"t2_a_lux", per_lux},
                                     {"by_source", std::move(by)}});
        }
        return j;
    }

    static constexpr PaperSize plan_size{720, 560};
    const Brief& brief_;
    const BriefLook& look_;
    BriefPage page_;
    std::string data_;
};

}  // namespace

BriefPage brief_page(const Brief& brief, const BriefLook& look) {
    return Page(brief, look).made();
}

}  // namespace rushlight
