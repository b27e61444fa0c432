#include "results/balance/lamp_place.h"

#include "quantity/units.h"
#include "scene/rays/camera_view.h"
#include "setup/plain/whereabouts.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace rushlight {

namespace {

constexpr float clear = 0.25F;              // m from walls and the ceiling, and from the middle of a lamp to its edge
constexpr float from_heads = 0.6F;          // m
constexpr float stand_step = 0.2F;          // m between the places of a stand that are looked at
constexpr double steepest_hair_light = 60;  // degrees; beyond it the light comes down as a bib

/// Of directions from the person, and how far each of them is from the usual.
struct Wanted {
    Vec3 ahead{1, 0, 0};  // level; angles beside it are counted from here
    double beside = 45, up = 35, distance = 1.8;
    double least_up = 15, most_up = 60;
    double most_beside = 75;
    bool to_the_left = true, to_the_right = true;
};

Vec3 level(Vec3 v, const Vec3& otherwise) {
    v.z = 0;
    return v.length() < 1e-3F ? otherwise : v.normalized();
}

Vec3 turned(const Vec3& v, double degrees) {
    const double a = radians(Degree{degrees});
    const auto c = static_cast<float>(std::cos(a)), s = static_cast<float>(std::sin(a));
    return {v.x * c - v.y * s, v.x * s + v.y * c, v.z};
}

Wanted wanted_for(LampJob job, const Figure& figure, const Vec3& lens, const Vec3& lit) {
    const Vec3 nose = level(figure.nose, Vec3(1, 0, 0));
    Wanted w;
    switch (job) {
        case LampJob::key: {
            w.ahead = nose;
            const float left = turned(nose, 90).dot(lit);
            w.to_the_left = left > -0.2F;
            w.to_the_right = left < 0.2F;
            break;
        }
        case LampJob::hair:
            w.ahead = level(figure.head_centre - lens, -nose);
            w.beside = 20;
            w.up = 45;
            w.distance = 1.5;
            w.least_up = 30;
            w.most_up = steepest_hair_light;
            break;
        case LampJob::eye:
            w.ahead = level(lens - figure.head_centre, nose);
            w.beside = 12;
            w.up = 15;
            w.distance = 1.8;
            w.least_up = 5;
            w.most_up = 30;
            w.most_beside = 36;
            break;
    }
    return w;
}

class Judge {
public:
    Judge(const Setup& setup, const Scene& scene) : setup_(setup), scene_(scene) {
        if (setup.camera >= 0) view_ = CameraView::for_asking(*setup.its_camera());
    }

    bool stands_free(const Vec3& p) const {
        const Place& place = setup_.place;
        const bool in = p.x > place.lower.x + clear && p.y > place.lower.y + clear && p.z > place.lower.z + clear &&
                        p.x < place.upper.x - clear && p.y < place.upper.y - clear && p.z < place.upper.z - clear;
        if (!in || box_around(place, p) != nullptr) return false;
        for (const Figure& f : scene_.figures)
            if ((f.head_centre - p).length() < from_heads) return false;
        return std::all_of(setup_.rig.lamps.begin(), setup_.rig.lamps.end(),
                           [&](const Lamp& l) { return (l.at - p).length() > 2 * clear; });
    }
    bool in_shot(const Vec3& p) const {
        float x = 0, y = 0;
        if (!view_ || !view_->project(p, x, y) || !view_->in_picture(x, y)) return false;
        return reaches(view_->at(), p);
    }
    bool head_in_shot(const Vec3& p) const {
        for (const Vec3& off : {Vec3(0, 0, 0), Vec3(clear, 0, 0), Vec3(-clear, 0, 0), Vec3(0, clear, 0),
                                Vec3(0, -clear, 0), Vec3(0, 0, clear), Vec3(0, 0, -clear)})
            if (in_shot(p + off)) return true;
        return false;
    }
    bool stand_fits(const Vec3& p) const {
        for (float z = p.z - clear; z > setup_.place.lower.z; z -= stand_step) {
            const Vec3 at(p.x, p.y, z);
            if (in_shot(at) || box_around(setup_.place, at) != nullptr) return false;
        }
        return true;
    }
    bool reaches(const Vec3& from, const Vec3& to) const {
        const Vec3 way = to - from;
        Spectrum passed{1.0F};
        return scene_.rays.passes(Ray{from, way.normalized(), way.length() * 0.999F}, passed);
    }
    double off_lens(const Vec3& at, const Vec3& aimed_at) const {
        if (!view_ || !reaches(at, view_->at())) return 180;
        const float c = (aimed_at - at).normalized().dot((view_->at() - at).normalized());
        return degrees(std::acos(std::clamp(static_cast<double>(c), -1.0, 1.0)));
    }

private:
    static double degrees(double r) { return r * 180 / pi; }
    const Setup& setup_;
    const Scene& scene_;
    std::optional<CameraView> view_;
};

}  // namespace

const char* word_of(LampJob job) {
    constexpr const char* words[] = {"key", "hair light", "eye light"};
    return words[static_cast<int>(job)];
}

std::optional<LampPlace> place_for(const Setup& setup, const Scene& scene, LampJob job, std::size_t mark,
                                   const Vec3& lit) {
    const Figure& figure = scene.figures.at(mark);
    const Vec3 lens = setup.camera >= 0 ? setup.its_camera()->at : figure.eye_middle + figure.nose * 2.0F;
    const Wanted w = wanted_for(job, figure, lens, lit);
    const Judge judge(setup, scene);
    // A hair light is aimed at the crown; the others at the face.
    const Vec3 crown = figure.head_centre + Vec3(0, 0, static_cast<float>(figure.head_radius) * 0.8F);
    const Vec3 aimed_at = job == LampJob::hair ? crown : figure.eye_middle;
    // Seen from just off the head.
    const auto off_the_head = static_cast<float>(figure.head_radius) * 1.3F;

    std::optional<LampPlace> best;
    double least = INFINITY;
    int tried = 0, possible = 0;
    for (const double d : {1.0, 1.25, 1.5, 1.8, 2.2, 2.6, 3.0})
        for (double up = w.least_up; up <= w.most_up; up += 5)
            for (double beside = -w.most_beside; beside <= w.most_beside; beside += 6) {
                if ((beside > 0 && !w.to_the_left) || (beside < 0 && !w.to_the_right)) continue;
                ++tried;
                const auto rise = static_cast<float>(std::sin(radians(Degree{up})));
                const Vec3 toward =
                    turned(w.ahead, beside) * static_cast<float>(std::cos(radians(Degree{up}))) + Vec3(0, 0, rise);
                // From behind: it must not reach forehead and nose.
                if (job == LampJob::hair && toward.dot(figure.nose) > -0.2F) continue;
                const Vec3 at = aimed_at + toward * static_cast<float>(d);
                const Vec3 near_head = figure.head_centre + (at - figure.head_centre).normalized() * off_the_head;
                if (!judge.stands_free(at) || judge.head_in_shot(at) || !judge.reaches(at, near_head)) continue;
                LampPlace p;
                p.at = at;
                p.aimed_at = aimed_at;
                p.distance = d;
                p.up = up;
                p.on_arm = !judge.stand_fits(at);
                p.off_lens = judge.off_lens(at, aimed_at);
                ++possible;
                const double lens_in_beam = job == LampJob::hair && p.off_lens < 40 ? (40 - p.off_lens) / 20 : 0;
                const double cost = std::abs(std::abs(beside) - w.beside) / 20 + std::abs(up - w.up) / 15 +
                                    std::abs(std::log2(d / w.distance)) * 2 + (p.on_arm ? 1.5 : 0) + lens_in_beam;
                if (!(cost < least)) continue;
                least = cost;
                best = p;
            }
    if (best) {
        best->tried = tried;
        best->possible = possible;
    }
    return best;
}

}  // namespace rushlight
