// Polygons cut into triangles that cover just them: a simple polygon of n corners has n - 2 triangles (Meisters,
// Polygons have ears, 1975), all wound as it is, whose areas sum to its own, which Newell's sum over its corners gives.
#include "setup/model/polygon.h"

#include "setup/model/model_checks.h"
#include "setup/text/where.h"

#include <gtest/gtest.h>

#include <stdlib.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace rushlight {
namespace {

using Imath::V3d;

double area_of(const std::vector<V3d>& corners) {
    V3d sum(0);
    for (std::size_t i = 0; i < corners.size(); ++i) sum += corners[i].cross(corners[(i + 1) % corners.size()]);
    return sum.z / 2;
}

void expect_covered(const std::vector<V3d>& corners, const char* what, double looks_a_corner) {
    const CutPolygon cut = cut_polygon(corners);
    EXPECT_FALSE(cut.crosses_itself) << what;
    EXPECT_EQ(cut.triangles.size(), corners.size() - 2) << what;
    double covered = 0;
    for (const auto& [a, b, c] : cut.triangles) {
        const double area = (corners[b] - corners[a]).cross(corners[c] - corners[a]).z / 2;
        EXPECT_GT(area, 0) << what;
        covered += area;
    }
    EXPECT_NEAR(covered / area_of(corners), 1, 1e-9) << what;
    EXPECT_LT(static_cast<double>(cut.looks) / static_cast<double>(corners.size()), looks_a_corner) << what;
}

/// A band that winds inwards and back.
std::vector<V3d> spiral(int corners, double step) {
    std::vector<V3d> all;
    const int half = corners / 2;
    for (int i = 0; i < half; ++i) {
        const double turn = step * i, r = 1 + 0.05 * turn;
        all.emplace_back((r + 0.1) * std::cos(turn), (r + 0.1) * std::sin(turn), 0);
    }
    for (int i = half; i-- > 0;) {
        const double turn = step * i, r = 1 + 0.05 * turn;
        all.emplace_back(r * std::cos(turn), r * std::sin(turn), 0);
    }
    return all;
}
/// Teeth side by side, the whole turned.
std::vector<V3d> comb(int corners, double turn) {
    std::vector<V3d> all;
    const int teeth = corners / 2 - 1;
    for (int i = 0; i <= 2 * teeth; ++i) all.emplace_back(0.5 * i / teeth, i % 2 == 0 ? 0.01 : 1.0, 0);
    all.emplace_back(1.0, -0.1, 0);
    all.emplace_back(0.0, -0.1, 0);
    std::reverse(all.begin(), all.end());
    for (V3d& p : all)
        p = V3d(p.x * std::cos(turn) - p.y * std::sin(turn), p.x * std::sin(turn) + p.y * std::cos(turn), 0);
    return all;
}

TEST(Polygon, SpiralsAndCombsAreCoveredWithLittleWork) {
    for (const int corners : {12, 40, 200, 1000}) {
        expect_covered(spiral(corners, 0.3), "a spiral", 200);
        expect_covered(spiral(corners, 0.05), "a fine spiral", 200);
        for (const double turn : {0.0, 0.785, 1.571}) expect_covered(comb(corners, turn), "a comb", 200);
    }
}

TEST(Polygon, StarsAndConvexOnes) {
    for (const int corners : {5, 31, 33, 64, 999}) {
        std::vector<V3d> star, disc;
        for (int i = 0; i < corners; ++i) {
            const double turn = 6.283185307179586 * i / corners, r = 1 + 0.5 * std::sin(12.9898 * i * i);
            star.emplace_back(r * std::cos(turn), r * std::sin(turn), 0);
            disc.emplace_back(3 + std::cos(turn), std::sin(turn), 0);
        }
        expect_covered(star, "a star", 200);
        expect_covered(disc, "a disc", 60);
    }
}

TEST(Polygon, AHoleOnABridgeStaysOpen) {
    // A square of 4 with a square hole of 2, cut open along one line that is passed twice.
    const std::vector<V3d> frame{{0, 0, 0}, {4, 0, 0}, {4, 4, 0}, {0, 4, 0}, {0, 0, 0},
                                 {1, 1, 0}, {1, 3, 0}, {3, 3, 0}, {3, 1, 0}, {1, 1, 0}};
    const CutPolygon cut = cut_polygon(frame);
    double covered = 0;
    for (const auto& [a, b, c] : cut.triangles) covered += (frame[b] - frame[a]).cross(frame[c] - frame[a]).z / 2;
    EXPECT_NEAR(covered, 12, 1e-9);
    EXPECT_FALSE(cut.crosses_itself);
}

TEST(Polygon, AHundredSpiralsAreReadInTheTimeTheirSizeAllows) {
    std::string pattern = (std::filesystem::temp_directory_path() / "rushlight-spirals-XXXXXX").string();
    const std::filesystem::path folder = ::mkdtemp(pattern.data());
    std::ostringstream obj;
    const std::vector<V3d> corners = spiral(1000, 0.3);
    std::string face = "f";
    for (std::size_t i = 0; i < corners.size(); ++i) {
        obj << "v " << corners[i].x << ' ' << corners[i].y << " 0\n";
        face += " " + std::to_string(i + 1);
    }
    for (int i = 0; i < 100; ++i) obj << face << "\n";
    RoughModelRequest request;
    request.path = (folder / "m.obj").string();
    std::ofstream(request.path) << obj.str();
    const auto start = std::chrono::steady_clock::now();
    const RoughModel m = read_rough_model(request);
    const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - start;
    EXPECT_NEAR(model_checks::area(m) / (100 * area_of(corners)), 1, 1e-3);
    EXPECT_LT(spent.count(), 10);  // half a second is usual; corner by corner it took 37 s
    std::filesystem::remove_all(folder);
}

}  // namespace
}  // namespace rushlight
