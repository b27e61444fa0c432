// What a page of the desk sends, and what is drawn. Nothing is written to the disk.
#include "desk/document/document.h"
#include "desk/document/edits.h"
#include "desk/door/request_head.h"
#include "desk/plan/new_place.h"
#include "fuzz/entry_points.h"
#include "fuzz/must.h"
#include "pictures/draw/guides.h"
#include "setup/read/setup_file.h"

namespace rushlight::fuzz {

namespace {

const std::string a_place = R"(title = "small"   # a comment
[place]
room = { width = 4, depth = "9ft", height = 2.6 }
[[lamp]]     # the first
name = "key"
shape = "ball"
at = [1.0,   # from the left
      1.5, 2.0]
output = "900 lm"
level = "50%"  # half
[[mark]]
name = "A"
at = [2, 1.5]
facing = 0
person = { pose = "seated" }
[[camera]]
name = "close"
at = [3.6, 1.6, 1.6]
look_at = "A"
[[setup]]
name = "one"
change.lamp.key = { level = "-1 stop" }
[[setup.add.flag]]
name = "black"
at = [1, 1, 1]
facing = "A"
[[option]]
name = "low"
)";

void feed_json(const std::string& bytes, const std::function<void(const JsonValue&)>& read) {
    const JsonValue body = JsonValue::parse(bytes, nullptr, false);
    if (!body.is_object()) return;
    try {
        feed([&] { read(body); });
    } catch (const JsonValue::exception&) {  // the desk answers it in a sentence of its own
    }
}

}  // namespace

void feed_guides(const std::string& bytes) {
    Guides guides;
    std::string wrong;
    if (!guides_from(bytes, guides, wrong)) return;
    constexpr int width = 48, height = 27;
    for (const double aspect : guides.aspects) {
        const Window w = window_of(aspect, width, height);
        must(w.x0 >= 0 && w.y0 >= 0 && w.x1 <= width && w.y1 <= height && w.x0 < w.x1 && w.y0 < w.y1,
             "a narrower picture lies within the picture");
    }
    Image image(width, height);
    draw_guides(image, guides);
}

void feed_edits(const std::string& bytes) {
    feed_json(bytes, [](const JsonValue& body) {
        const desk::Edits edits = desk::edits_from(body);
        std::string wrote;
        const std::string next = desk::edited(a_place, "fuzz.toml", edits, &wrote);
        must(one_line(wrote), "an edit says where it was made");
        const desk::Step step = desk::Step::between(a_place, next, edits.token);
        std::string text = next;
        step.undo(text);
        must(text == a_place, "a step back is the text before");
        step.redo(text);
        must(text == next, "a step forth is the text after");
        SetupFile::from_text(next, "fuzz.toml");
    });
}

void feed_request(const std::string& bytes) {
    try {
        const std::size_t length = desk::head_length(bytes);
        must(length <= desk::most_head_bytes && length <= bytes.size(), "a head is bounded");
        if (length == 0) return;
        const desk::RequestHead head = desk::head_from(std::string_view(bytes).substr(0, length));
        must(head.path.size() < length && head.path.front() == '/', "a path begins at the root");
        must(!head.method.empty() && head.fields.size() <= desk::most_fields, "header lines are few");
        for (const auto& [name, value] : head.fields) {
            must(!name.empty() && name.find_first_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ: \r\n") == std::string::npos,
                 "a name is a word in lower case");
            must(value.find_first_of("\r\n") == std::string::npos, "a value is one line");
        }
    } catch (const desk::NoRequest& no) {
        must(one_line(no.what()) && no.status >= 400 && no.status < 600, "a refusal is one line");
    }
}

void feed_new_place(const std::string& bytes) {
    feed_json(bytes, [](const JsonValue& body) { SetupFile::from_text(desk::new_place_text(body), "fuzz.toml"); });
}

}  // namespace rushlight::fuzz
