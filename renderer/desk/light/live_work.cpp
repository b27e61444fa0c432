// The worker. It picks one piece at a time of everything there is to trace.
#include "desk/light/at_full.h"
#include "desk/light/live_light.h"
#include "desk/light/picture_light.h"
#include "desk/light/sheet_json.h"

#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <new>

namespace rushlight::desk {

namespace {

constexpr std::size_t most_scales = 200;
constexpr double first_look = 0.05, longest_stage = 2;  // s
constexpr int coarse_stages = 2;                        // a quarter and half as wide

/// Tracing takes every core for as long as there is something to make surer. The threads that answer pages, and the
/// browser on the same machine, go before it. Threads that this one starts take after it.
void give_way() {
    ::setpriority(PRIO_PROCESS, static_cast<id_t>(::gettid()), 10);
}

}  // namespace

void LiveLight::work() {
    give_way();
    std::unique_lock lock(mutex_);
    while (!ending_) {
        std::string trouble;
        try {
            if (!step(lock)) news_.wait(lock);
        } catch (const std::bad_alloc&) {
            trouble = "not enough memory to trace this; a smaller picture may do";
        } catch (const std::exception& error) {
            trouble = document_.told(error.what());
        }
        if (!lock.owns_lock()) lock.lock();
        busy_ = false;
        current_ = {};
        if (trouble.empty()) continue;
        for (const auto& l : open_pages_) {
            l->events->tell("trouble", trouble_json(trouble));
            l->light = nullptr;  // not tried again until something changes
        }
    }
}

/// Sends what is new and does one job; returns false where there is none. Something may change while an event is sent,
/// and wakes nobody: then there may be more to do.
bool LiveLight::step(std::unique_lock<std::mutex>& lock) {
    bool sent = false;
    for (std::size_t i = 0; i < open_pages_.size(); ++i) {
        const std::shared_ptr<OpenPage> l = open_pages_[i];
        if (!l->light || l->view_fingerprint.empty()) continue;
        const auto p = l->light->pictures.find(l->view_fingerprint);
        if (p == l->light->pictures.end() || p->second.stages == 0) continue;
        if (l->told_view == l->light->fingerprint + l->view_fingerprint && l->told_stages == p->second.stages) continue;
        tell_picture(l, lock);
        sent = true;
    }
    Job job;
    if (!next_job(job)) return sent;
    current_ = job;
    busy_ = true;
    drop_ = false;
    lock.unlock();
    do_job(job);
    lock.lock();
    busy_ = false;
    forget_old();
    return true;
}

void LiveLight::do_job(const Job& job) {
    switch (job.kind) {
        case Job::Kind::scales:
            return find_scales(job);
        case Job::Kind::scene:
            return build(*job.light);
        case Job::Kind::meters:
            return trace_meters(job);
        case Job::Kind::outlines:
            return place_outlines_of(job);
        case Job::Kind::picture:
            return trace_picture(job);
    }
}

/// The scout's readings against the model, after which all pages are answered anew.
void LiveLight::find_scales(const Job& job) {
    Effort effort;
    effort.relative_error = 0.01;
    effort.most_seconds = 3;
    effort.drop = &drop_;
    Setup asked;
    {
        const std::lock_guard lock(mutex_);
        asked = job.open_page->as_in_file;
    }
    std::vector<SourceScale> scales = calibrate(asked, effort);
    if (drop_) return;
    const std::lock_guard lock(mutex_);
    if (scales_.size() >= most_scales) scales_.clear();  // those that are still wanted are found again
    scales_[scales_key(asked)] = std::move(scales);
    for (const auto& l : open_pages_) {
        resolve(*l);
        tell_sheet(*l);
    }
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
    OpenPage& l = *job.open_page;
    // The camera may look elsewhere by now: then its own outlines come next.
    if (l.light != job.light || l.revision != job.revision) return;
    l.outlines = std::move(outlines);
    auto& all = l.light->meters;
    const auto known = std::find_if(all.begin(), all.end(), [&](const auto& m) {
        return std::equal(spots.begin(), spots.end(), m->points().begin(), m->points().end(), same_point);
    });
    if (known == all.end()) {
        all.push_back(std::make_unique<MeterLight>(std::move(spots)));
        l.outline_light = all.back().get();
    } else {
        l.outline_light = known->get();
    }
    tell_sheet(l);
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
    for (const auto& l : open_pages_)
        if (l->reads(meters)) tell_sheet(*l);
}

void LiveLight::trace_picture(const Job& job) {
    PictureLight* picture = nullptr;
    int stages = 0;
    double spent = 0;
    {
        const std::lock_guard lock(mutex_);
        picture = &job.light->pictures[job.view_fingerprint];
        stages = picture->stages;
        spent = picture->frame.seconds;
    }
    Effort effort;
    effort.seed = 2000 + static_cast<std::uint64_t>(stages);
    effort.seconds = stages <= coarse_stages ? 0.01 : std::clamp(spent, 0.3, longest_stage);
    effort.drop = &drop_;
    const int part = stages < coarse_stages ? 4 >> stages : 1;
    LayeredFrame stage = trace_stage(job.asked, *job.light->scene, job.view, part, effort);
    if (drop_) return;
    const std::lock_guard lock(mutex_);
    picture->add(std::move(stage));
}

/// The lock is let go while the picture is packed: only the worker changes pictures.
void LiveLight::tell_picture(const std::shared_ptr<OpenPage>& l, std::unique_lock<std::mutex>& lock) {
    const std::shared_ptr<SceneLight> light = l->light;
    PictureLight& p = light->pictures[l->view_fingerprint];
    const std::string fingerprint = l->view_fingerprint;
    const View view = l->wish.view;
    const Setup asked = l->asked;
    current_ = {l,    light,   Job::Kind::picture, fingerprint, asked,
                view, nullptr, l->revision};  // kept from being forgotten
    busy_ = true;
    drop_ = false;
    lock.unlock();
    Effort effort;
    effort.drop = &drop_;
    // A page that returns to a picture sees it at once as it was, and then with everything traced since.
    const bool back =
        l->told_view != light->fingerprint + fingerprint && p.packed.bytes && p.packed.width == p.frame.width;
    PackedPicture packed = back ? p.packed : pack(p, asked, view.kind, true, effort);
    lock.lock();
    busy_ = false;
    current_ = {};
    if (drop_) return;
    p.packed = packed;
    if (l->light != light || l->view_fingerprint != fingerprint) return;
    l->told_view = light->fingerprint + fingerprint;
    l->told_stages = packed.stages;
    l->picture_before = std::move(l->picture);
    l->picture = {++last_picture_, packed.bytes};
    l->events->tell("picture", picture_json(*l, p, packed).dump());
}

}  // namespace rushlight::desk
