#include "scene/person/subdivide.h"

#include <algorithm>
#include <limits>

namespace rushlight {

namespace {

constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();

std::size_t sides_of(const Quad& q) {
    return q[2] == q[3] ? 3 : 4;
}

/// The edges of a cage: each once, with the faces on both sides.
struct Edges {
    struct Edge {
        std::uint32_t a = 0, b = 0;
        std::uint32_t face = none, other = none;
        bool rim() const { return other == none; }
    };
    std::vector<Edge> all;
    std::vector<std::array<std::uint32_t, 4>> of_face;

    explicit Edges(const Cage& cage) {
        struct Side {
            std::uint64_t key;
            std::uint32_t face, side;
        };
        std::vector<Side> sides;
        sides.reserve(4 * cage.faces.size());
        for (std::uint32_t f = 0; f < cage.faces.size(); ++f) {
            const Quad& q = cage.faces[f];
            const std::size_t n = sides_of(q);
            for (std::uint32_t i = 0; i < n; ++i) {
                const std::uint64_t u = q.at(i), v = q.at((i + 1) % n);
                sides.push_back({std::min(u, v) << 32U | std::max(u, v), f, i});
            }
        }
        std::sort(sides.begin(), sides.end(),
                  [](const Side& s, const Side& t) { return s.key != t.key ? s.key < t.key : s.face < t.face; });
        of_face.assign(cage.faces.size(), {none, none, none, none});
        for (std::size_t i = 0; i < sides.size(); ++i) {
            const Side& s = sides[i];
            const bool second = i > 0 && sides[i - 1].key == s.key && all.back().rim();
            if (second) {
                all.back().other = s.face;
            } else {
                all.push_back({static_cast<std::uint32_t>(s.key >> 32U), static_cast<std::uint32_t>(s.key), s.face});
            }
            of_face[s.face].at(s.side) = static_cast<std::uint32_t>(all.size() - 1);
        }
    }
};

/// Where the corners of the cage, the middles of its faces and of its edges go.
struct Moved {
    Points corners, middles, edges;

    Moved(const Cage& cage, const Edges& e) {
        const std::size_t n = cage.points.size();
        middles.reserve(cage.faces.size());
        Points about(n, Vec3(0)), along(n, Vec3(0)), rim(n, Vec3(0));
        std::vector<int> faces(n, 0), ends(n, 0), rims(n, 0);
        for (const Quad& q : cage.faces) {
            Vec3 sum(0);
            const std::size_t sides = sides_of(q);
            for (std::size_t i = 0; i < sides; ++i) sum += cage.points[q.at(i)];
            middles.push_back(sum / static_cast<float>(sides));
            for (std::size_t i = 0; i < sides; ++i) {
                about[q.at(i)] += middles.back();
                ++faces[q.at(i)];
            }
        }
        edges.reserve(e.all.size());
        for (const Edges::Edge& edge : e.all) {
            const Vec3 half = (cage.points[edge.a] + cage.points[edge.b]) * 0.5F;
            edges.push_back(edge.rim() ? half : half * 0.5F + (middles[edge.face] + middles[edge.other]) * 0.25F);
            for (const std::uint32_t end : {edge.a, edge.b}) {
                along[end] += half;
                ++ends[end];
                if (!edge.rim()) continue;
                rim[end] += half;
                ++rims[end];
            }
        }
        corners = cage.points;
        for (std::size_t i = 0; i < n; ++i) {
            if (faces[i] == 0) continue;
            const Vec3& p = cage.points[i];
            if (rims[i] == 2) {
                corners[i] = p * 0.5F + rim[i] * 0.25F;
            } else if (rims[i] == 0) {
                const auto k = static_cast<float>(faces[i]);
                const Vec3 f = about[i] / k, r = along[i] / static_cast<float>(ends[i]);
                corners[i] = (f + r * 2.0F + p * (k - 3)) / k;
            }
        }
    }
};

}  // namespace

Cage subdivided(const Cage& cage) {
    const Edges edges(cage);
    Moved moved(cage, edges);
    const auto first_middle = static_cast<std::uint32_t>(cage.points.size());
    const auto first_edge = static_cast<std::uint32_t>(first_middle + moved.middles.size());
    Cage fine;
    fine.points = std::move(moved.corners);
    fine.points.insert(fine.points.end(), moved.middles.begin(), moved.middles.end());
    fine.points.insert(fine.points.end(), moved.edges.begin(), moved.edges.end());
    fine.faces.reserve(4 * cage.faces.size());
    for (std::uint32_t f = 0; f < cage.faces.size(); ++f) {
        const std::size_t n = sides_of(cage.faces[f]);
        for (std::size_t i = 0; i < n; ++i) {
            fine.faces.push_back({cage.faces[f].at(i), first_edge + edges.of_face[f].at(i), first_middle + f,
                                  first_edge + edges.of_face[f].at((i + n - 1) % n)});
            if (!cage.part.empty()) fine.part.push_back(cage.part[f]);
        }
    }
    return fine;
}

Mesh divided_mesh(const Cage& cage, const std::function<bool(std::size_t)>& fine) {
    const Edges edges(cage);
    const Moved moved(cage, edges);
    std::vector<std::uint32_t> of_edge(edges.all.size(), none);
    Mesh m;
    m.positions = moved.corners;
    const auto point_of = [&](std::uint32_t edge) {
        if (of_edge[edge] == none) {
            of_edge[edge] = static_cast<std::uint32_t>(m.positions.size());
            m.positions.push_back(moved.edges[edge]);
        }
        return of_edge[edge];
    };
    const auto quad = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c, std::uint32_t d) {
        // Along the shorter diagonal, or a fold shows across it.
        if ((m.positions[a] - m.positions[c]).length2() <= (m.positions[b] - m.positions[d]).length2()) {
            m.triangles.push_back({a, b, c});
            m.triangles.push_back({a, c, d});
        } else {
            m.triangles.push_back({b, c, d});
            m.triangles.push_back({b, d, a});
        }
    };
    std::vector<bool> divided(cage.faces.size());
    for (std::size_t f = 0; f < cage.faces.size(); ++f) {
        divided[f] = fine(f);
        if (!divided[f]) continue;
        const std::size_t n = sides_of(cage.faces[f]);
        const auto middle = static_cast<std::uint32_t>(m.positions.size());
        m.positions.push_back(moved.middles[f]);
        for (std::size_t i = 0; i < n; ++i)
            quad(cage.faces[f].at(i), point_of(edges.of_face[f].at(i)), middle,
                 point_of(edges.of_face[f].at((i + n - 1) % n)));
    }
    for (std::size_t f = 0; f < cage.faces.size(); ++f) {
        if (divided[f]) continue;
        const std::size_t n = sides_of(cage.faces[f]);
        std::vector<std::uint32_t> around;
        std::size_t from = 0;
        for (std::size_t i = 0; i < n; ++i) {
            around.push_back(cage.faces[f].at(i));
            const std::uint32_t between = of_edge[edges.of_face[f].at(i)];
            if (between == none) continue;
            from = around.size();
            around.push_back(between);
        }
        if (around.size() == 4) {
            quad(around[0], around[1], around[2], around[3]);
            continue;
        }
        for (std::size_t i = 1; i + 1 < around.size(); ++i)
            m.triangles.push_back({around[from % around.size()], around[(from + i) % around.size()],
                                   around[(from + i + 1) % around.size()]});
    }
    return m;
}

Cage part_of(const Cage& cage, const std::function<bool(std::size_t)>& keep) {
    Cage part;
    std::vector<std::uint32_t> number(cage.points.size(), none);
    for (std::size_t f = 0; f < cage.faces.size(); ++f) {
        if (!keep(f)) continue;
        Quad q = cage.faces[f];
        for (std::uint32_t& c : q) {
            if (number[c] == none) {
                number[c] = static_cast<std::uint32_t>(part.points.size());
                part.points.push_back(cage.points[c]);
            }
            c = number[c];
        }
        part.faces.push_back(q);
        if (!cage.part.empty()) part.part.push_back(cage.part[f]);
    }
    return part;
}

}  // namespace rushlight
