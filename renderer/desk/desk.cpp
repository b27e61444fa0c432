#include "desk/desk.h"

#include "desk/document/edits.h"
#include "desk/light/sheet_json.h"
#include "desk/plan/new_place.h"
#include "desk/plan/plan_json.h"
#include "desk/point_answers.h"
#include "pictures/files/write_file.h"
#include "setup/text/where.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>

namespace rushlight::desk {

namespace {

/// A number of the address, brought within bounds; `usual` for what is none.
double number_in(const Request& r, const char* name, double least, double most, double usual) {
    const double v = std::strtod(r.of(name, "nan").c_str(), nullptr);
    return std::isnan(v) ? usual : std::clamp(v, least, most);
}

View view_of(const Request& r) {
    View v;
    const std::string kind = r.of("view", "none");
    if (kind == "frame") v.kind = View::Kind::frame;
    if (kind == "map") v.kind = View::Kind::map;
    if (kind == "plan_map") v.kind = View::Kind::plan;
    constexpr int narrowest = 32, widest = 1280;
    v.width = static_cast<int>(number_in(r, "width", narrowest, widest, 480));
    v.height = number_in(r, "height", 0, 100, 1.2);
    return v;
}

JsonValue body_of(const Request& r) {
    JsonValue body = JsonValue::parse(r.body, nullptr, false);
    if (!body.is_object()) throw InputError("the request's body is no JSON object");
    return body;
}

/// As a body would say it: u, v in the frame, or x, y and height on the plan.
JsonValue point_of(const Request& r) {
    const auto number = [&](const char* name) { return std::strtod(r.of(name, "nan").c_str(), nullptr); };
    if (r.query.count("u") > 0) return {{"at", {{"frame", {number("u"), number("v")}}}}};
    return {{"at",
             {{"plan", {number("x"), number("y")}}, {"height", std::strtod(r.of("height", "1.2").c_str(), nullptr)}}}};
}

}  // namespace

Desk::Desk(std::optional<std::filesystem::path> file) {
    if (file) open(*file);
    watcher_ = std::thread([this] { watch(); });
}

Desk::~Desk() {
    end();
}

std::size_t Desk::kept_bytes() const {
    const auto open = opened();
    return open ? open->light.kept_bytes() : 0;
}

void Desk::end() {
    ending_ = true;
    if (watcher_.joinable()) watcher_.join();
    if (const auto open = opened()) open->light.end();
}

std::shared_ptr<Desk::Open> Desk::opened() const {
    const std::lock_guard lock(mutex_);
    return opened_;
}

void Desk::open(const std::filesystem::path& path) {
    auto one = std::make_shared<Open>(path);
    const std::lock_guard lock(mutex_);
    opened_ = std::move(one);
}

void Desk::tell_state(Open& open) {
    const Document::State s = open.document.state();
    open.light.tell("state", [&](const OpenPage& l) { return state_json(open.document, l.read_only).dump(); });
    if (!s.trouble.empty()) open.light.tell("trouble", [&](const OpenPage&) { return trouble_json(s.trouble); });
}

void Desk::watch() {
    constexpr auto pause = std::chrono::milliseconds(200);
    bool all_told = true;
    while (!ending_) {
        std::this_thread::sleep_for(pause);
        const auto open = opened();
        try {
            if (!open || (!open->document.look_outside() && all_told)) continue;
            all_told = false;
            tell_state(*open);
            open->light.renew();
            all_told = true;
        } catch (const std::exception& error) {  // no memory for it: the file is as it was, and looked at again
            open->light.tell("trouble", [&](const OpenPage&) { return trouble_json(open->document.told(error.what())); });
        }
    }
}

std::shared_ptr<OpenPage> Desk::join(const Request& request, bool read_only) {
    const auto open = opened();
    if (!open) return nullptr;
    auto open_page =
        open->light.join({request.of("setup"), request.of("option", as_found_name), view_of(request)}, read_only);
    if (open_page) open_page->events->tell("state", state_json(open->document, read_only).dump());
    return open_page;
}

void Desk::leave(const std::shared_ptr<OpenPage>& open_page) {
    if (const auto open = opened()) open->light.leave(open_page);
}

Answer Desk::answer(const Request& request, bool read_only) {
    const auto open = opened();
    const auto told = [&](const std::exception& error) {
        return open ? open->document.told(error.what()) : error.what();
    };
    try {
        if (request.method != "GET") {
            if (read_only) return refusal(403, "this is shared to be looked at, not to be changed");
            if (!open && request.path == "/api/new") return make_new(request);
            if (!open) return refusal(409, "no set-up file is open yet");
            return post(request, *open);
        }
        if (!open) {
            if (request.path == "/api/state") return rushlight::desk::answer(state_without_file());
            return refusal(409, "no set-up file is open yet");
        }
        return get(request, *open, read_only);
    } catch (const InputError& error) {
        return refusal(422, told(error));
    } catch (const OutputError& error) {
        return refusal(422, told(error));
    } catch (const JsonValue::exception&) {
        return refusal(422, "the request holds a value of another kind than is expected there");
    } catch (const std::bad_alloc&) {
        return refusal(507, "not enough memory for this");
    } catch (const std::exception& error) {
        return refusal(500, told(error));
    }
}

Answer Desk::get(const Request& r, Open& open, bool read_only) {
    using rushlight::desk::answer;
    const std::string setup = r.of("setup"), option = r.of("option", as_found_name);
    if (r.path == "/api/state") return answer(state_json(open.document, read_only));
    if (r.path == "/api/plan") return answer(plan_json(open.document, setup, option));
    if (r.path == "/api/colour") return answer(colour_json(open.document.setup(setup, option)));
    if (r.path == "/api/reading") return answer(reading_at(open.light.lit(setup, option), point_of(r)));
    if (r.path == "/api/sphere") return sphere_of_light(open.light.lit(setup, option), r.of("mark"));
    constexpr std::string_view picture = "/api/picture/";
    if (r.path.compare(0, picture.size(), picture) == 0) {
        const std::string id = r.path.substr(picture.size());
        const bool number = !id.empty() && id.size() < 19 && id.find_first_not_of("0123456789") == std::string::npos;
        if (auto bytes = number ? open.light.picture(std::stoul(id)) : nullptr)
            return {200, "application/octet-stream", std::move(bytes)};
        return refusal(404, "this picture has been replaced by a newer one");
    }
    return refusal(404, "nothing is here");
}

Answer Desk::post(const Request& r, Open& open) {
    using rushlight::desk::answer;
    const JsonValue body = body_of(r);
    const auto base = [&] {
        const auto revision = body.find("base");
        if (revision == body.end() || !revision->is_number_unsigned())
            throw InputError("expected the revision that the page has seen, as \"base\"");
        return revision->get<std::uint64_t>();
    };
    if (r.path == "/api/edit") {
        const Edits edits = edits_from(body);
        const std::string path = open.document.path().string();
        // The document may make the change once more, when this request is long answered.
        const auto wrote = std::make_shared<std::string>();
        const auto change = [edits, path, wrote](const std::string& text) {
            return edited(text, path, edits, wrote.get());
        };
        return outcome(open.document.edit(base(), edits.token, change), open, *wrote);
    }
    if (r.path == "/api/undo") return outcome(open.document.undo(base()), open);
    if (r.path == "/api/redo") return outcome(open.document.redo(base()), open);
    if (r.path == "/api/new") return refusal(409, "a set-up file is open already");
    return refusal(404, "nothing is here");
}

Answer Desk::outcome(const Outcome& o, Open& open, const std::string& wrote) {
    using rushlight::desk::answer;
    tell_state(open);
    open.light.renew();
    if (o.kind == Outcome::Kind::done)
        return o.beside.empty() ? answer({{"revision", o.revision}, {"wrote", json_text(wrote)}})
                                : answer({{"revision", o.revision}, {"wrote", ""}, {"beside", json_text(o.beside)}});
    JsonValue said{{"revision", o.revision}, {"message", json_text(o.message)}};
    if (!o.beside.empty()) said["kept"] = json_text(o.beside);
    return answer(said, o.kind == Outcome::Kind::stale ? 409 : 422);
}

Answer Desk::make_new(const Request& request) {
    const std::lock_guard one(making_);
    if (opened()) return refusal(409, "a set-up file is open already");
    const std::filesystem::path path = write_new_place(body_of(request));
    open(path);
    return rushlight::desk::answer({{"file", json_text(path.filename().string())}});
}

}  // namespace rushlight::desk
