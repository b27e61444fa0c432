#include "setup/plain/face.h"
#include "setup/plain/shot.h"
#include "setup/read/readers.h"
#include "setup/text/typed_number.h"
#include "setup/text/words.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight {

namespace {

/// Recorded areas by the trade's words for their width; a camera's mode may differ, so millimetres are better.
struct SensorSize {
    std::string_view name;
    double width, height;  // mm, 16:9 but where the word itself says otherwise; from memory
};
constexpr std::array sensor_sizes{
    SensorSize{"full frame", 36.0, 20.25}, SensorSize{"full frame 3:2", 36.0, 24.0},
    SensorSize{"super 35", 24.9, 14.0},    SensorSize{"super 35 4:3", 24.9, 18.7},
    SensorSize{"super 16", 12.5, 7.0},     SensorSize{"one inch", 13.2, 7.4},
};

/// Shares are guesses in the middle of what is said of each; no standard grades exist. From memory.
struct MistGrade {
    std::string_view name;
    double share;
};
constexpr std::array mist_grades{MistGrade{"eighth", 0.02}, MistGrade{"quarter", 0.045}, MistGrade{"half", 0.09}};

template <class List>
std::vector<std::string> names_in(const List& list) {
    std::vector<std::string> names;
    for (const auto& item : list) names.emplace_back(item.name);
    return names;
}

/// Reads keys over a camera that is there already: those that are not written keep what it has.
class CameraReader {
public:
    CameraReader(const LayeredTable& t, const std::vector<Mark>& marks, Camera& camera, bool fresh)
        : t_(t), marks_(marks), c_(camera), fresh_(fresh) {}

    void glass_and_sensor() {
        number(c_.roll, "roll");
        number(c_.lens, "lens");
        number(c_.lens_passes, "lens_passes");
        sensor();
        number(c_.exposure.t_stop, "t_stop");
        number(c_.exposure.shutter_angle, "shutter");
        number(c_.exposure.frames_per_second, "fps");
        number(c_.exposure.iso, "iso");
        number(c_.exposure.nd_density, "nd");
        number(c_.white_balance, "white_balance");
        number(c_.tint, "tint");
        number(c_.headroom, "headroom");
        number(c_.footroom, "footroom");
        delivery();
    }

    void filters() {
        if (const toml::node* node = t_.find("mist"); node && node->is_string()) {
            const std::string found = t_.text("mist");
            const auto* grade = std::find_if(mist_grades.begin(), mist_grades.end(),
                                             [&](const MistGrade& g) { return g.name == tidy(found); });
            if (grade == mist_grades.end())
                throw InputError(t_.where("mist"), t_.title() + ": unknown mist " + in_quotes(found) +
                                                       hint(found, names_in(mist_grades)));
            c_.mist.share = grade->share;
        } else {
            number(c_.mist.share, "mist");
        }
        number(c_.mist.core, "mist_core");
        number(c_.mist.skirt, "mist_skirt");
        if (c_.mist.skirt < c_.mist.core) t_.refuse("mist_skirt", "is narrower than mist_core");
        if (t_.has("polarizer")) c_.polarizer = t_.number("polarizer");
        if (c_.polarizer) {
            if (fresh_ || t_.has("polarizer_stops") || t_.has("polarizer"))
                c_.exposure.filter_stops = t_.number("polarizer_stops");
        } else if (t_.has("polarizer_stops")) {
            t_.refuse("polarizer_stops", "needs polarizer; give its angle too");
        }
        number(c_.graduated.density, "graduated");
        number(c_.graduated.edge, "graduated_edge");
        number(c_.graduated.blend, "graduated_blend");
        number(c_.graduated.turn, "graduated_turn");
    }

    void place() {
        const Mark* of = t_.has("of") ? &mark_named(t_, "of", marks_) : nullptr;
        if (t_.has("reverse_of")) reverse(of);
        if (t_.has("shot")) return shoot(of);
        for (const char* key : {"off_eyeline", "lens_height"})
            if (t_.has(key)) t_.refuse(key, "means something for a shot only; add shot");
        if (of != nullptr && !t_.has("reverse_of")) t_.refuse("of", "means something for a shot or a reverse only");
        if (fresh_ && !t_.has("at")) throw InputError(t_.where(), t_.title() + " needs 'at'");
        if (t_.has("at")) c_.at = point_in(t_, "at");
        if (t_.has("look_at") || fresh_) {
            if (!t_.has("look_at")) throw InputError(t_.where(), t_.title() + " needs 'look_at', or a 'shot'");
            c_.look_at = point_or_face(t_, "look_at", marks_, c_.at);
            const toml::node* node = t_.find("look_at");
            c_.of = node->is_string() ? t_.text("look_at") : "";
        }
        direction_to(t_, t_.has("look_at") ? "look_at" : "reverse_of", c_.at, c_.look_at);
    }

    /// Metres along the axis to what shall be sharp.
    void focus() {
        constexpr double nearest = 0.05;
        Vec3 on = c_.look_at;
        if (const toml::node* node = t_.find("focus")) {
            if (node->is_number()) {
                c_.focus = t_.number("focus");
                return within_reach("focus");
            }
            if (node->is_string() && tidy(t_.text("focus")) == "everything") {
                c_.focus = 0;
                return;
            }
            on = point_or_face(t_, "focus", marks_, c_.at);
        } else if (!c_.of.empty()) {
            for (const Mark& m : marks_)
                if (m.name == c_.of) on = face_of(m);
        }
        const Vec3 axis = (c_.look_at - c_.at).normalized();
        c_.focus = static_cast<double>((on - c_.at).dot(axis));
        if (c_.focus < nearest) t_.refuse(t_.has("focus") ? "focus" : "look_at", "is behind or in the lens");
        within_reach(t_.has("focus") ? "focus" : "look_at");
    }

private:
    void number(double& value, const char* key) {
        if (fresh_ || t_.has(key)) value = t_.number(key);
    }

    void sensor() {
        const toml::node* node = t_.find("sensor");
        if (!node) return;
        if (node->is_string()) {
            const std::string found = t_.text("sensor");
            for (const SensorSize& s : sensor_sizes)
                if (s.name == tidy(found)) {
                    c_.sensor_width = s.width;
                    c_.sensor_height = s.height;
                    return;
                }
            throw InputError(t_.where("sensor"), t_.title() + ": unknown sensor size " + in_quotes(found) +
                                                     hint(found, names_in(sensor_sizes)));
        }
        const auto* list = node->as_array();
        if (!list || list->size() != 2) t_.refuse_kind("sensor", *node, "[width, height] in mm");
        c_.sensor_width = t_.number_in(*list->get(0), "sensor");
        c_.sensor_height = t_.number_in(*list->get(1), "sensor");
    }

    /// 2.39, "2.39:1" or "16:9".
    void delivery() {
        const toml::node* node = t_.find("delivery");
        if (!node) return;
        const auto* text = node->as_string();
        if (!text) {
            c_.delivery = t_.number_in(*node, "delivery");
            return;
        }
        constexpr double narrowest = 0.2, widest = 5;
        const double aspect = typed_aspect(tidy(text->get()));
        if (!(aspect >= narrowest && aspect <= widest))
            t_.refuse("delivery", "is " + found_value(*node) +
                                      "; expected width over height from 0.2 to 5, such as 2.39 or \"16:9\"");
        c_.delivery = aspect;
    }

    void shoot(const Mark* of) {
        const std::string found = t_.text("shot");
        const ShotSize* size = shot_size(tidy(found));
        if (!size) {
            std::vector<std::string> valid;
            for (const ShotSize& s : shot_sizes()) {
                valid.emplace_back(s.name);
                valid.emplace_back(s.also);
            }
            throw InputError(t_.where("shot"), t_.title() + ": unknown shot " + in_quotes(found) + hint(found, valid));
        }
        if (of == nullptr) throw InputError(t_.where("shot"), t_.title() + ": a shot needs 'of', the name of a mark");
        if (t_.has("look_at")) t_.refuse("look_at", "can't go with shot, which aims the camera itself");
        const Vec3 face = face_of(*of);
        Vec3 toward = c_.at - face;
        double height = t_.has("lens_height") ? t_.length("lens_height") : static_cast<double>(face.z);
        if (t_.has("at")) {
            if (t_.has("off_eyeline")) t_.refuse("off_eyeline", "can't go with at; expected one of the two");
            const Vec3 at = point_in(t_, "at");
            toward = at - face;
            if (!t_.has("lens_height")) height = static_cast<double>(at.z);
        } else if (t_.has("off_eyeline")) {
            const double a = radians(Degree{of->facing + t_.number("off_eyeline")});
            toward = {static_cast<float>(std::cos(a)), static_cast<float>(std::sin(a)), 0};
        } else if (!t_.has("reverse_of")) {
            throw InputError(t_.where("shot"), t_.title() + ": a shot needs a direction, 'off_eyeline' or 'at'");
        }
        toward.z = 0;
        if (toward.length() < 0.01F) t_.refuse(t_.has("at") ? "at" : "shot", "is inside the face");
        place_for_shot(c_, *of, *size, toward, height);
        if (std::abs(static_cast<double>(c_.at.z) - static_cast<double>(c_.look_at.z)) >
            0.9 * static_cast<double>((c_.at - c_.look_at).length()))
            t_.refuse(t_.has("lens_height") ? "lens_height" : "shot", "is too far above or below for this shot");
    }

    void reverse(const Mark* of) {
        const std::string name = t_.text("reverse_of");
        const auto now = std::find_if(marks_.begin(), marks_.end(), [&](const Mark& m) { return m.name == c_.of; });
        if (now == marks_.end())
            t_.refuse("reverse_of", "names a camera that looks at no mark by name: " + in_quotes(name));
        if (of == nullptr) {
            const auto line = line_of_action(marks_);
            if (!line) throw InputError(t_.where("reverse_of"), t_.title() + ": a reverse needs 'of', whom it shows");
            const auto shown = static_cast<std::size_t>(now - marks_.begin());
            if (shown != line->first && shown != line->second)
                t_.refuse("reverse_of", "shows someone who faces nobody; add 'of'");
            of = &marks_[shown == line->first ? line->second : line->first];
        }
        if (of == &*now) t_.refuse(t_.has("of") ? "of" : "reverse_of", "is whom the other camera shows already");
        mirror_across(c_, *now, *of);
    }

    void within_reach(const char* key) const {
        if (c_.focus * 1000 <= 1.05 * c_.lens) t_.refuse(key, "is nearer than a lens of this length can focus");
    }

    const LayeredTable& t_;
    const std::vector<Mark>& marks_;
    Camera& c_;
    bool fresh_;
};

}  // namespace

Camera read_camera(const LayeredTable& t, const std::vector<Mark>& marks, const std::vector<Camera>& above) {
    Camera c;
    bool fresh = true;
    if (t.has("reverse_of")) {
        const std::string name = t.text("reverse_of");
        const auto other = std::find_if(above.begin(), above.end(), [&](const Camera& o) { return o.name == name; });
        if (other == above.end()) {
            std::vector<std::string> names;
            for (const Camera& o : above) names.push_back(o.name);
            throw InputError(t.where("reverse_of"),
                             t.title() + ": no camera " + in_quotes(name) + " stands above it" + hint(name, names));
        }
        c = *other;
        fresh = false;
    }
    c.name = t.text("name");
    CameraReader reader(t, marks, c, fresh);
    reader.glass_and_sensor();
    reader.filters();
    reader.place();
    reader.focus();
    return c;
}

}  // namespace rushlight
