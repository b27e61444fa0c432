#include "desk/live_light.h"

#include "desk/bare.h"
#include "desk/picture_light.h"
#include "desk/sheet_json.h"
#include "setup/where.h"

#include <algorithm>

namespace rushlight::desk {

namespace {

constexpr double first_look = 0.05, longest_stage = 2;  // s
constexpr double sure_meters = 0.004, sure_picture = 0.02;
constexpr double longest_meters = 60, longest_outlines = 30, longest_picture = 180;  // s, in all
constexpr std::size_t most_bytes = std::size_t{3} << 29;                             // of light kept in memory

bool same(const Wish& a, const Wish& b) {
    return a.setup == b.setup && a.option == b.option;
}

bool unsure(const MeterLight& m, const Setup& asked, const Lights& lights) {
    if (m.points().empty() || m.seconds() > longest_meters) return false;
    double worst = 0;
    for (const Measured& all : m.all(now_of_bare(asked, lights.sources())))
        worst = std::max(worst, all.relative_error());
    return m.stages() < 4 || worst > sure_meters;
}

}  // namespace

LiveLight::LiveLight(const Document& document) : document_(document), worker_([this] { work(); }) {}

LiveLight::~LiveLight() {
    end();
}

void LiveLight::end() {
    {
        const std::lock_guard lock(mutex_);
        ending_ = true;
        drop_ = true;
        for (const auto& l : lookers_) l->events->end();
    }
    news_.notify_all();
    if (worker_.joinable()) worker_.join();
}

std::shared_ptr<Looker> LiveLight::join(Wish wish) {
    auto looker = std::make_shared<Looker>();
    looker->wish = std::move(wish);
    const std::lock_guard lock(mutex_);
    if (ending_ || lookers_.size() >= most_lookers) return nullptr;
    resolve(*looker);
    lookers_.push_back(looker);
    tell_sheet(*looker);
    news_.notify_all();
    return looker;
}

void LiveLight::leave(const std::shared_ptr<Looker>& looker) {
    const std::lock_guard lock(mutex_);
    std::erase(lookers_, looker);
    if (busy_ && current_.looker == looker) drop_ = true;
    news_.notify_all();
}

void LiveLight::renew() {
    const std::lock_guard lock(mutex_);
    bool wanted = false;
    for (const auto& l : lookers_) {
        resolve(*l);
        tell_sheet(*l);
        wanted = wanted || (l->light == current_.light &&
                            (current_.kind != Job::Kind::picture || l->view_key == current_.view_key));
    }
    if (busy_ && !wanted) drop_ = true;
    news_.notify_all();
}

void LiveLight::tell(const std::string& kind, const std::string& data) {
    const std::lock_guard lock(mutex_);
    for (const auto& l : lookers_) l->events->tell(kind, data);
}

std::shared_ptr<const std::string> LiveLight::picture(unsigned long id) const {
    const std::lock_guard lock(mutex_);
    for (const auto& l : lookers_)
        for (const Picture* p : {&l->picture, &l->picture_before})
            if (p->id == id && p->bytes) return p->bytes;
    return nullptr;
}

/// What the page shows of the document as it is now: a set-up, and the light that belongs to it.
void LiveLight::resolve(Looker& l) {
    document_.with_file([&](const SetupFile& file) {
        const std::vector<std::string> setups = file.setup_names();
        if (std::find(setups.begin(), setups.end(), l.wish.setup) == setups.end()) l.wish.setup = setups.front();
        const std::vector<std::string> options = file.option_names(l.wish.setup);
        if (std::find(options.begin(), options.end(), l.wish.option) == options.end()) l.wish.option = options.front();
        l.asked = file.setup(l.wish.setup, l.wish.option);
    });
    l.revision = document_.state().revision;
    const TomlText text(document_.text(), document_.path().string());
    l.lamps.clear();
    for (const Lamp& lamp : l.asked.rig.lamps)
        if (auto written = written_thing(text, {l.wish.setup, l.wish.option}, "lamp", lamp.name))
            l.lamps[lamp.name] = std::move(*written);
    l.light = light_of(l.asked);
    l.view_key = view_key(l.asked, l.wish.view);
    l.meter_light = l.outline_light = nullptr;  // placed anew: the camera may have moved
    l.meters.clear();
    l.outlines.clear();
    if (l.light->scene) place_meters_of(l);
}

/// Meters that were placed the same way before keep what was traced of them.
void LiveLight::place_meters_of(Looker& l) {
    l.meters = meters_of(l.asked, *l.light->scene);
    std::vector<MeterPoint> points;
    for (const NamedMeter& m : l.meters) points.push_back(m.point);
    l.meter_light = meter_light_of(*l.light, std::move(points));
}

MeterLight* LiveLight::meter_light_of(SceneLight& light, std::vector<MeterPoint> points) {
    const auto same_point = [](const MeterPoint& a, const MeterPoint& b) {
        return a.kind == b.kind && a.at == b.at && a.facing == b.facing;
    };
    for (const auto& m : light.meters)
        if (std::equal(points.begin(), points.end(), m->points().begin(), m->points().end(), same_point))
            return m.get();
    light.meters.push_back(std::make_unique<MeterLight>(std::move(points), light.scene->lights.count()));
    return light.meters.back().get();
}

/// Small spots along heads: found by many rays, so the worker does it, after the first look at everything else.
void LiveLight::place_outlines_of(const Job& job) {
    std::vector<OutlineMeters> outlines = outlines_of(job.asked, *job.light->scene);
    std::vector<MeterPoint> spots;
    for (OutlineMeters& o : outlines) {
        for (std::size_t& i : o.on) i += spots.size();
        for (std::size_t& i : o.behind) i += spots.size();
        spots.insert(spots.end(), o.spots.begin(), o.spots.end());
    }
    const std::lock_guard lock(mutex_);
    Looker& l = *job.looker;
    if (l.light != job.light || l.meter_light != job.meters) return;
    l.outlines = std::move(outlines);
    l.outline_light = meter_light_of(*l.light, std::move(spots));
}

std::shared_ptr<SceneLight> LiveLight::light_of(const Setup& asked) {
    Setup traced = bare(asked);
    const std::string key = light_key(traced);
    for (const auto& one : lights_)
        if (one->key == key) {
            one->used = ++turn_;
            return one;
        }
    auto light = std::make_shared<SceneLight>();
    light->key = key;
    light->bare = std::move(traced);
    light->used = ++turn_;
    lights_.push_back(light);
    forget_old();
    return light;
}

void LiveLight::forget_old() {
    const auto in_use = [&](const std::shared_ptr<SceneLight>& one) {
        return one.use_count() > 1;  // a page's, a job's or a question's besides
    };
    std::size_t all = 0;
    for (const auto& one : lights_) all += one->bytes();
    while (all > most_bytes || lights_.size() > 100) {
        auto oldest = lights_.end();
        for (auto it = lights_.begin(); it != lights_.end(); ++it)
            if (!in_use(*it) && (oldest == lights_.end() || (*it)->used < (*oldest)->used)) oldest = it;
        if (oldest == lights_.end()) return;
        all -= (*oldest)->bytes();
        lights_.erase(oldest);
    }
}

void LiveLight::build(SceneLight& light) {
    const std::lock_guard one(building_);
    {
        const std::lock_guard lock(mutex_);
        if (light.scene) return;
    }
    auto scene = std::make_unique<Scene>(build_scene(light.bare));
    const std::lock_guard lock(mutex_);
    light.scene = std::move(scene);
}

LiveLight::Lit LiveLight::lit(const std::string& setup, const std::string& option) {
    Lit l{document_.setup(setup, option), nullptr};
    {
        const std::lock_guard lock(mutex_);
        l.light = light_of(l.asked);
    }
    build(*l.light);
    return l;
}

bool LiveLight::next_job(Job& job) {
    double least = INFINITY;
    const auto offer = [&](const std::shared_ptr<Looker>& l, Job::Kind kind, double spent, MeterLight* meters) {
        if (spent >= least) return;
        least = spent;
        job = {l, l->light, kind, l->view_key, l->asked, l->wish.view, meters};
    };
    for (const auto& l : lookers_) {
        if (!l->light) continue;
        if (!l->light->scene) {
            offer(l, Job::Kind::scene, -1, nullptr);
            continue;
        }
        if (!l->meter_light) place_meters_of(*l);
        const bool any_light = l->light->scene->lights.count() > 0;
        if (any_light && unsure(*l->meter_light, l->asked, l->light->scene->lights))
            offer(l, Job::Kind::meters, l->meter_light->seconds(), l->meter_light);
        constexpr double after_the_first_look = 0.4;  // s
        if (any_light && !l->outline_light)
            offer(l, Job::Kind::outlines, after_the_first_look, l->meter_light);
        else if (any_light && l->outline_light->seconds() < longest_outlines && !l->outline_light->points().empty())
            offer(l, Job::Kind::meters, after_the_first_look + 2 * l->outline_light->seconds(), l->outline_light);
        if (l->view_key.empty()) continue;
        const PictureLight& p = l->light->pictures[l->view_key];
        const bool sure = p.stages > 1 && (p.frame.noise < sure_picture || p.frame.seconds > longest_picture ||
                                           l->light->scene->lights.count() == 0);
        if (!sure) offer(l, Job::Kind::picture, p.frame.seconds, nullptr);
    }
    return least < INFINITY;
}

void LiveLight::work() {
    std::unique_lock lock(mutex_);
    while (!ending_) {
        for (std::size_t i = 0; i < lookers_.size(); ++i) {
            const std::shared_ptr<Looker> l = lookers_[i];
            if (!l->light || l->view_key.empty()) continue;
            const auto p = l->light->pictures.find(l->view_key);
            if (p == l->light->pictures.end() || p->second.stages == 0) continue;
            if (l->told_view == l->light->key + l->view_key && l->told_stages == p->second.stages) continue;
            tell_picture(l);
        }
        Job job;
        if (!next_job(job)) {
            news_.wait(lock);
            continue;
        }
        current_ = job;
        busy_ = true;
        drop_ = false;
        lock.unlock();
        try {
            do_job(job);
        } catch (const std::exception& error) {
            job.looker->events->tell("trouble", trouble_json(error.what()));
            lock.lock();
            job.looker->light = nullptr;  // not tried again until something changes
            lock.unlock();
        }
        lock.lock();
        busy_ = false;
        current_ = {};
        forget_old();
    }
}

void LiveLight::do_job(const Job& job) {
    if (job.kind == Job::Kind::scene) return build(*job.light);
    if (job.kind == Job::Kind::meters) return trace_meters(job);
    if (job.kind == Job::Kind::outlines) return place_outlines_of(job);
    trace_picture(job);
}

void LiveLight::trace_meters(const Job& job) {
    MeterLight* const meters = job.meters;
    Effort effort;
    {
        const std::lock_guard lock(mutex_);
        effort.seed = 1000 + meters->stages();
        effort.seconds = std::clamp(meters->seconds(), first_look, longest_stage);
    }
    effort.relative_error = 0;
    effort.drop = &drop_;
    const Scene& scene = *job.light->scene;
    MeterResults stage = measure(scene, meters->points(), effort, sharing_for(scene, 1, 64, 16), Wanted{});
    if (drop_ || stage.batches() < 2) return;
    const std::lock_guard lock(mutex_);
    meters->add(std::move(stage));
    for (const auto& l : lookers_)
        if (l->meter_light == meters || l->outline_light == meters) tell_sheet(*l);
}

void LiveLight::trace_picture(const Job& job) {
    PictureLight* picture = nullptr;
    int stages = 0;
    double spent = 0;
    {
        const std::lock_guard lock(mutex_);
        picture = &job.light->pictures[job.view_key];
        stages = picture->stages;
        spent = picture->frame.seconds;
    }
    Effort effort;
    effort.seed = 2000 + static_cast<std::uint64_t>(stages);
    effort.seconds = stages < 2 ? 0.01 : std::clamp(spent, 0.3, longest_stage);
    effort.drop = &drop_;
    LayeredFrame stage = trace_stage(job.asked, *job.light->scene, job.view, stages == 0, effort);
    if (drop_) return;
    const std::lock_guard lock(mutex_);
    picture->add(std::move(stage));
}

void LiveLight::tell_sheet(Looker& l) {
    if (!l.light || !l.light->scene || !l.meter_light) return;
    const Lights& lights = l.light->scene->lights;
    l.done =
        lights.count() == 0 || (!unsure(*l.meter_light, l.asked, lights) && l.outline_light &&
                                (l.outline_light->points().empty() || l.outline_light->seconds() >= longest_outlines));
    l.events->tell("sheet", sheet_json(l).dump());
}

/// Called with the lock held, which is let go while the picture is packed: only the worker changes pictures.
void LiveLight::tell_picture(const std::shared_ptr<Looker>& l) {
    const std::shared_ptr<SceneLight> light = l->light;
    const PictureLight& p = light->pictures[l->view_key];
    const std::string key = l->view_key;
    const Wish wish = l->wish;
    const Setup asked = l->asked;
    mutex_.unlock();
    PackedPicture packed = pack(p, asked, wish.view.kind);
    mutex_.lock();
    if (l->light != light || l->view_key != key || !same(l->wish, wish)) return;
    l->told_view = light->key + key;
    l->told_stages = p.stages;
    l->picture_before = std::move(l->picture);
    l->picture = {++last_picture_, packed.bytes};
    l->events->tell("picture", picture_json(*l, p, packed).dump());
}

}  // namespace rushlight::desk
