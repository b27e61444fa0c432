#include "desk/light/live_light.h"

#include "desk/light/at_full.h"
#include "desk/light/picture_light.h"
#include "desk/light/sheet_json.h"
#include "results/readings/spots.h"
#include "setup/text/where.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace rushlight::desk {

namespace {

constexpr std::size_t most_bytes = std::size_t{3} << 29;  // of light kept in memory
constexpr std::size_t most_numbers = 200'000;             // meters times sources of one sheet
constexpr std::size_t most_lights = 100, most_pictures = 12;
constexpr std::size_t most_meter_lights = 48;  // of one scene: a meter that is dragged about leaves many behind
constexpr double sure_picture = 0.02, longest_outlines = 30, longest_picture = 180;  // s, in all

/// When meters have been traced enough: so sure, or so many seconds long.
struct Enough {
    double error, seconds;
};
constexpr Enough of_meters{0.004, 60}, of_spots{0.01, 30};

bool unsure(const MeterLight& m, const Setup& asked, const Lights& lights, const Enough& enough) {
    if (m.points().empty() || m.seconds() > enough.seconds) return false;
    if (m.stages() < 4) return true;
    double worst = 0;
    for (const Measured& all : m.all(burning(asked, lights.sources()))) worst = std::max(worst, all.relative_error());
    return worst > enough.error;
}

/// Outlines are shared out the same way, but are never sure: what lies behind a head may be a window or a wall.
bool unsure_outlines(const MeterLight& m) {
    return !m.points().empty() && m.seconds() < longest_outlines;
}

/// Each once, in the order of the sheet.
std::vector<MeterLight*> lights_of(const std::vector<HeldMeter>& meters) {
    std::vector<MeterLight*> all;
    for (const HeldMeter& m : meters)
        if (std::find(all.begin(), all.end(), m.light) == all.end()) all.push_back(m.light);
    return all;
}

}  // namespace

bool OpenPage::reads(const MeterLight* one) const {
    const auto by = [&](const HeldMeter& m) { return m.light == one; };
    return outline_light == one || std::any_of(meters.begin(), meters.end(), by) ||
           std::any_of(spots.begin(), spots.end(), by);
}

LiveLight::LiveLight(const Document& document) : document_(document), worker_([this] { work(); }) {}

LiveLight::~LiveLight() {
    end();
}

void LiveLight::end() {
    {
        const std::lock_guard lock(mutex_);
        ending_ = true;
        drop_ = true;
        for (const auto& l : open_pages_) l->events->end();
    }
    news_.notify_all();
    if (worker_.joinable()) worker_.join();
}

std::shared_ptr<OpenPage> LiveLight::join(Wish wish, bool read_only) {
    auto open_page = std::make_shared<OpenPage>();
    open_page->wish = std::move(wish);
    open_page->read_only = read_only;
    const std::lock_guard lock(mutex_);
    const auto of_the_kind =
        std::count_if(open_pages_.begin(), open_pages_.end(), [&](const auto& l) { return l->read_only == read_only; });
    if (ending_ || static_cast<std::size_t>(of_the_kind) >= (read_only ? most_shared_lookers : most_lookers))
        return nullptr;
    resolve(*open_page);
    open_pages_.push_back(open_page);
    tell_sheet(*open_page);
    news_.notify_all();
    return open_page;
}

void LiveLight::leave(const std::shared_ptr<OpenPage>& open_page) {
    const std::lock_guard lock(mutex_);
    std::erase(open_pages_, open_page);
    if (busy_ && current_.open_page == open_page) drop_ = true;
    news_.notify_all();
}

void LiveLight::renew() {
    const std::lock_guard lock(mutex_);
    bool wanted = false;
    for (const auto& l : open_pages_) {
        resolve(*l);
        tell_sheet(*l);
        wanted = wanted || (l->light == current_.light &&
                            (current_.kind != Job::Kind::picture || l->view_fingerprint == current_.view_fingerprint));
    }
    if (busy_ && !wanted) drop_ = true;
    forget_old();
    news_.notify_all();
}

void LiveLight::tell(const std::string& kind, const std::function<std::string(const OpenPage&)>& data) {
    const std::lock_guard lock(mutex_);
    for (const auto& l : open_pages_) l->events->tell(kind, data(*l));
}

std::shared_ptr<const std::string> LiveLight::picture(unsigned long id) const {
    const std::lock_guard lock(mutex_);
    for (const auto& l : open_pages_)
        for (const Picture* p : {&l->picture, &l->picture_before})
            if (p->id == id && p->bytes) return p->bytes;
    return nullptr;
}

/// Finds the set-up that the page shows of the document as it is now, and the light that belongs to it.
void LiveLight::resolve(OpenPage& l) try {
    const std::shared_ptr<SceneLight> light_before = std::exchange(l.light, nullptr);
    MeterLight* const outlines_before = std::exchange(l.outline_light, nullptr);
    l.placed = false;  // anew: the camera may have moved
    l.meters.clear();
    l.spots.clear();
    document_.with_file([&](const SetupFile& file) {
        const std::vector<std::string> setups = file.setup_names();
        if (std::find(setups.begin(), setups.end(), l.wish.setup) == setups.end()) l.wish.setup = setups.front();
        const std::vector<std::string> options = file.option_names(l.wish.setup);
        if (std::find(options.begin(), options.end(), l.wish.option) == options.end()) l.wish.option = options.front();
        l.as_in_file = file.setup(l.wish.setup, l.wish.option);
    });
    l.revision = document_.state().revision;
    l.asked = as_measured(l.as_in_file);
    l.light = light_of(l.asked);
    l.view_fingerprint = view_fingerprint(l.asked, l.wish.view);
    // Outlines take a while to find; under another level they are the same.
    const std::string outlined_by = view_fingerprint(l.asked, {View::Kind::frame});
    if (l.light == light_before && outlined_by == l.outlined_by) l.outline_light = outlines_before;
    l.outlined_by = outlined_by;
    if (l.light->scene) place_meters_of(l);
} catch (const std::exception& error) {  // a model that is gone
    l.events->tell("trouble", trouble_json(document_.told(error.what())));
}

/// Scaled to the scout's readings as far as that is known yet; the worker finds it out.
Setup LiveLight::as_measured(const Setup& setup) {
    if (setup.rig.measured.empty()) return setup;
    const auto known = scales_.find(scales_key(setup));
    return known == scales_.end() ? setup : scaled(setup, known->second);
}

/// Meters that are held where they were held before keep what was traced of them.
std::vector<HeldMeter> LiveLight::held(SceneLight& light, std::vector<NamedMeter> meters) {
    std::vector<HeldMeter> all_held;
    std::vector<MeterPoint> fresh;
    auto& all = light.meters;
    for (NamedMeter& m : meters) {
        HeldMeter held{std::move(m), nullptr, 0};
        for (auto one = all.rbegin(); one != all.rend() && !held.light; ++one)
            for (std::size_t i = 0; i < (*one)->points().size() && !held.light; ++i)
                if (same_point((*one)->points()[i], held.meter.point)) held.light = one->get(), held.number = i;
        if (!held.light) {
            held.number = fresh.size();
            fresh.push_back(held.meter.point);
        }
        all_held.push_back(std::move(held));
    }
    if (fresh.empty()) return all_held;
    all.push_back(std::make_unique<MeterLight>(std::move(fresh)));
    for (HeldMeter& held : all_held)
        if (!held.light) held.light = all.back().get();
    return all_held;
}

void LiveLight::place_meters_of(OpenPage& l) {
    const Scene& scene = *l.light->scene;
    std::vector<NamedMeter> meters = meters_of(l.asked, scene), spots = spots_of(l.asked, scene);
    const std::size_t sources = scene.lights.count();
    if (meters.size() * sources > most_numbers)
        throw InputError(std::to_string(meters.size()) + " meters times " + std::to_string(sources) +
                         " sources are too many for the desk");
    if ((meters.size() + spots.size()) * sources > most_numbers) spots.clear();
    l.meters = held(*l.light, std::move(meters));
    l.spots = held(*l.light, std::move(spots));
    l.placed = true;
}

std::shared_ptr<SceneLight> LiveLight::light_of(const Setup& asked) {
    Setup traced = at_full(asked);
    const std::string fingerprint = light_fingerprint(traced);
    for (const auto& one : lights_)
        if (one->fingerprint == fingerprint) {
            one->used = ++turn_;
            return one;
        }
    auto light = std::make_shared<SceneLight>();
    light->fingerprint = fingerprint;
    light->at_full = std::move(traced);
    light->used = ++turn_;
    lights_.push_back(light);
    forget_old();
    return light;
}

bool LiveLight::in_use(const MeterLight* meters) const {
    const auto holds = [&](const std::shared_ptr<OpenPage>& l) { return l->reads(meters); };
    // A page that has left is still answered by the work that was begun for it.
    if (busy_ && (current_.meters == meters || holds(current_.open_page))) return true;
    return std::any_of(open_pages_.begin(), open_pages_.end(), holds);
}

/// The oldest first.
void LiveLight::forget_meters(SceneLight& light) {
    auto& all = light.meters;
    for (auto one = all.begin(); one != all.end() && all.size() > most_meter_lights;)
        one = in_use(one->get()) ? one + 1 : all.erase(one);
}

/// The light that nobody has looked at for longest goes first.
void LiveLight::forget_old() {
    for (const auto& one : lights_) {
        forget_meters(*one);
        // However much one scene is looked at, it leaves room for others.
        while (one->pictures.size() > most_pictures || one->bytes() > most_bytes / 2) {
            const auto shown = [&](const std::string& fingerprint) {
                return (busy_ && current_.view_fingerprint == fingerprint) ||
                       std::any_of(open_pages_.begin(), open_pages_.end(),
                                   [&](const auto& l) { return l->view_fingerprint == fingerprint; });
            };
            auto oldest = one->pictures.end();
            for (auto p = one->pictures.begin(); p != one->pictures.end(); ++p)
                if (!shown(p->first) && (oldest == one->pictures.end() || p->second.used < oldest->second.used))
                    oldest = p;
            if (oldest == one->pictures.end()) break;
            one->pictures.erase(oldest);
        }
    }
    const auto held = [&](const std::shared_ptr<SceneLight>& one) {
        return one.use_count() > 1;  // a page's, a job's or a question's besides
    };
    while (lights_.size() > most_lights || all_bytes() > most_bytes) {
        auto oldest = lights_.end();
        for (auto it = lights_.begin(); it != lights_.end(); ++it)
            if (!held(*it) && (oldest == lights_.end() || (*it)->used < (*oldest)->used)) oldest = it;
        if (oldest == lights_.end()) return;
        lights_.erase(oldest);
    }
}

std::size_t LiveLight::all_bytes() const {
    std::size_t all = shared_bytes(lights_);
    for (const auto& one : lights_) all += one->bytes();
    for (const auto& l : open_pages_)
        for (const Picture* p : {&l->picture, &l->picture_before}) all += p->bytes ? p->bytes->size() : 0;
    return all;
}

std::size_t LiveLight::kept_bytes() const {
    const std::lock_guard lock(mutex_);
    return all_bytes();
}

void LiveLight::build(SceneLight& light) {
    const std::lock_guard one(building_);
    {
        const std::lock_guard lock(mutex_);
        if (light.scene) return;
    }
    auto scene = std::make_unique<Scene>(build_scene(light.at_full));
    const std::lock_guard lock(mutex_);
    light.scene = std::move(scene);
}

LiveLight::Lit LiveLight::lit(const std::string& setup, const std::string& option) {
    Lit l{document_.setup(setup, option), nullptr};
    {
        const std::lock_guard lock(mutex_);
        l.asked = as_measured(l.asked);
        l.light = light_of(l.asked);
    }
    build(*l.light);
    return l;
}

bool LiveLight::next_job(Job& job) {
    double least = INFINITY;
    const auto offer = [&](const std::shared_ptr<OpenPage>& l, Job::Kind kind, double spent,
                           MeterLight* meters = nullptr) {
        constexpr double of_guests = 4;  // the owner's own pages come first
        if (l->read_only && spent > 0) spent *= of_guests;
        if (spent >= least) return;
        least = spent;
        job = {l, l->light, kind, l->view_fingerprint, l->asked, l->wish.view, meters, l->revision};
    };
    constexpr double before_all = -2, first = -1, after_the_first_look = 0.4;  // s
    for (const auto& l : open_pages_) {
        if (!l->light) continue;
        if (!l->asked.rig.measured.empty() && scales_.count(scales_key(l->as_in_file)) == 0)
            offer(l, Job::Kind::scales, before_all);
        if (!l->light->scene) {
            offer(l, Job::Kind::scene, first);
            continue;
        }
        try {
            if (!l->placed) place_meters_of(*l);
        } catch (const InputError& error) {  // others have fewer meters
            l->events->tell("trouble", trouble_json(document_.told(error.what())));
            l->light = nullptr;
            continue;
        }
        const Lights& lights = l->light->scene->lights;
        if (lights.count() > 0) {
            for (MeterLight* m : lights_of(l->meters))
                if (unsure(*m, l->asked, lights, of_meters)) offer(l, Job::Kind::meters, m->seconds(), m);
            for (MeterLight* m : lights_of(l->spots))
                if (unsure(*m, l->asked, lights, of_spots))
                    offer(l, Job::Kind::meters, after_the_first_look / 2 + 2 * m->seconds(), m);
            if (!l->outline_light)
                offer(l, Job::Kind::outlines, after_the_first_look);
            else if (unsure_outlines(*l->outline_light))
                offer(l, Job::Kind::meters, after_the_first_look + 2 * l->outline_light->seconds(), l->outline_light);
        }
        if (l->view_fingerprint.empty()) continue;
        PictureLight& p = l->light->pictures[l->view_fingerprint];
        p.used = ++turn_;
        const bool sure =
            p.stages > 2 && (p.frame.noise < sure_picture || p.frame.seconds > longest_picture || lights.count() == 0);
        if (!sure) offer(l, Job::Kind::picture, p.frame.seconds);
    }
    return least < INFINITY;
}

void LiveLight::tell_sheet(OpenPage& l) {
    if (!l.light || !l.light->scene || !l.placed) return;
    const Lights& lights = l.light->scene->lights;
    const std::vector<MeterLight*> meters = lights_of(l.meters);
    // Not before there is something of every meter: it is a matter of a twentieth of a second.
    const auto not_yet = [](const MeterLight* m) { return m->stages() == 0; };
    if (lights.count() > 0 && std::any_of(meters.begin(), meters.end(), not_yet)) return;
    const auto sure = [&](const std::vector<MeterLight*>& all, const Enough& enough) {
        return std::none_of(all.begin(), all.end(),
                            [&](const MeterLight* m) { return unsure(*m, l.asked, lights, enough); });
    };
    l.done = lights.count() == 0 || (sure(meters, of_meters) && sure(lights_of(l.spots), of_spots) && l.outline_light &&
                                     !unsure_outlines(*l.outline_light));
    l.events->tell("sheet", sheet_json(l).dump());
}

}  // namespace rushlight::desk
