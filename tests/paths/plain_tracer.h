// A second opinion: a path tracer that shares nothing with the renderer but the numbers of the room. It walks from the
// meter alone, in double, tries every face in turn, asks no light for anything, and takes what it happens to meet.
#pragma once

#include <array>
#include <cmath>
#include <random>
#include <vector>

namespace plain {

struct V {
    double x = 0, y = 0, z = 0;
};
inline V operator+(V a, V b) {
    return {a.x + b.x, a.y + b.y, a.z + b.z};
}
inline V operator-(V a, V b) {
    return {a.x - b.x, a.y - b.y, a.z - b.z};
}
inline V operator*(V a, double k) {
    return {a.x * k, a.y * k, a.z * k};
}
inline double dot(V a, V b) {
    return a.x * b.x + a.y * b.y + a.z * b.z;
}
inline V cross(V a, V b) {
    return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
inline V unit(V a) {
    return a * (1 / std::sqrt(dot(a, a)));
}

struct Stuff {
    enum Kind { matt, mirror, cloth, glass, lamp } kind = matt;
    double back = 0;                 // matt and cloth: share sent back; mirror: at normal incidence
    double through = 0;              // cloth: scattered through
    double glow = 0;                 // cd/m2 of a lamp, on the side that the face's normal points to; black besides
    double index = 1.52, clear = 1;  // glass: its index, and what it passes inside, straight on
};

/// A parallelogram.
struct Face {
    V corner, a, b;
    Stuff stuff;
};
struct Ball {
    V centre;
    double radius = 0, glow = 0;
};

struct Place {
    std::vector<Face> faces;
    std::vector<Ball> balls;
    double sky = 0, ground = 0;  // cd/m2 above and below the horizon

    void box(V low, V high, double turn, const Stuff& stuff) {
        const V c = (low + high) * 0.5, h = (high - low) * 0.5;
        const V x{h.x * std::cos(turn), h.x * std::sin(turn), 0}, y{-h.y * std::sin(turn), h.y * std::cos(turn), 0},
            z{0, 0, h.z};
        for (const double s : {-1.0, 1.0}) {
            faces.push_back({c + x * s - y - z, y * 2, z * 2, stuff});
            faces.push_back({c + y * s - x - z, x * 2, z * 2, stuff});
            faces.push_back({c + z * s - x - y, x * 2, y * 2, stuff});
        }
    }
};

class Tracer {
public:
    Tracer(const Place& place, unsigned seed) : place_(place), random_(seed) {}

    struct Mean {
        double value = 0, error = 0;
    };
    /// Illuminance on a flat meter.
    Mean lux(V at, V facing, int walks) {
        double sum = 0, squares = 0;
        for (int i = 0; i < walks; ++i) {
            const double e = 3.14159265358979323846 * walk(at, lambert(unit(facing)));
            sum += e;
            squares += e * e;
        }
        const double mean = sum / walks;
        return {mean, std::sqrt(std::max(0.0, squares / walks - mean * mean) / walks)};
    }

private:
    double even() { return std::uniform_real_distribution<double>(0, 1)(random_); }
    V lambert(V n) {
        // A point on the unit sphere about the tip of the normal.
        const double z = 2 * even() - 1, a = 2 * 3.14159265358979323846 * even(), r = std::sqrt(1 - z * z);
        const V d = n + V{r * std::cos(a), r * std::sin(a), z};
        return dot(d, d) > 1e-12 ? unit(d) : n;
    }
    /// R and T of a sheet by rays bounced to and fro in it, one polarisation after the other.
    static std::array<double, 2> sheet(double c, double n, double clear) {
        const double inside = std::sqrt(1 - (1 - c * c) / (n * n)), t = std::pow(clear, 1 / inside);
        std::array<double, 2> both{0, 0};
        for (const double r : {(c - n * inside) / (c + n * inside), (n * c - inside) / (n * c + inside)}) {
            const double face = r * r;
            double back = face, through = 0, in = 1 - face;
            for (int i = 0; i < 60; ++i) {
                in *= t;
                (i % 2 == 0 ? through : back) += in * (1 - face);
                in *= face;
            }
            both[0] += back / 2;
            both[1] += through / 2;
        }
        return both;
    }
    /// Radiance that comes against the direction.
    double walk(V at, V way) {
        double carried = 1;
        for (int step = 0; step < 400; ++step) {
            double nearest = 1e30;
            const Face* face = nullptr;
            const Ball* ball = nullptr;
            for (const Face& f : place_.faces) {
                const V n = cross(f.a, f.b);
                const double slope = dot(n, way);
                if (slope == 0) continue;
                const double t = dot(n, f.corner - at) / slope;
                if (t < 1e-7 || t >= nearest) continue;
                const V p = at + way * t - f.corner;
                const double area2 = dot(n, n), u = dot(cross(p, f.b), n) / area2, v = dot(cross(f.a, p), n) / area2;
                if (u < 0 || v < 0 || u > 1 || v > 1) continue;
                nearest = t;
                face = &f;
            }
            for (const Ball& b : place_.balls) {
                const V o = at - b.centre;
                const double h = dot(o, way), q = h * h - dot(o, o) + b.radius * b.radius;
                if (q < 0) continue;
                const double t = -h - std::sqrt(q);
                if (t < 1e-7 || t >= nearest) continue;
                nearest = t;
                ball = &b;
            }
            if (ball != nullptr) return carried * ball->glow;
            if (face == nullptr) return carried * (way.z > 0 ? place_.sky : place_.ground);
            V n = unit(cross(face->a, face->b));
            const Stuff& s = face->stuff;
            if (s.kind == Stuff::lamp) return dot(n, way) < 0 ? carried * s.glow : 0;
            if (dot(n, way) > 0) n = n * -1;
            const double c = -dot(n, way);
            at = at + way * nearest;
            const V mirrored = way + n * (2 * c);
            if (s.kind == Stuff::mirror) {
                carried *= s.back + (1 - s.back) * std::pow(1 - c, 5);
                way = mirrored;
            } else if (s.kind == Stuff::glass) {
                const auto [r, t] = sheet(c, s.index, s.clear);
                carried *= r + t;
                if (even() * (r + t) < r) way = mirrored;
            } else {
                const double all = s.back + s.through;
                if (even() >= all) return 0;
                way = lambert(even() * all < s.back ? n : n * -1);
            }
        }
        return 0;
    }

    const Place& place_;
    std::mt19937_64 random_;
};

}  // namespace plain
