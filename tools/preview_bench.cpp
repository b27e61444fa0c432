// How far a preview is from the frame that a long run gives, by our own filter and by the denoising network:
//   rushlight_preview_bench FILE SET-UP WIDTH SECONDS REFERENCE-SECONDS FOLDER
// The long run is made twice, with other random numbers, and kept in the folder; pictures go there as well.
#include "paths/work/workers.h"
#include "pictures/draw/image.h"
#include "pictures/frames/frame_picture.h"
#include "quantity/colour.h"
#include "results/frame/denoised.h"
#include "results/frame/frames.h"
#include "results/frame/preview_filter.h"
#include "scene/rays/camera_view.h"
#include "scene/rays/first_seen.h"
#include "setup/read/setup_file.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

using namespace rushlight;

namespace {

std::vector<Vec3> light_of(const LayeredFrame& f) {
    std::vector<Vec3> all(f.error.size(), Vec3(0, 0, 0));
    for (const auto& layer : f.layers)
        for (std::size_t p = 0; p < all.size(); ++p) {
            const Tristimulus t = tristimulus(layer[p]);
            all[p] += Vec3(static_cast<float>(t.x), static_cast<float>(t.y), static_cast<float>(t.z));
        }
    return all;
}

std::vector<Vec3> long_run(const Setup& setup, const Scene& scene, int width, int height, double seconds,
                           std::uint64_t seed, const std::filesystem::path& kept) {
    std::vector<Vec3> light(static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
    const auto bytes = static_cast<std::streamsize>(light.size() * sizeof(Vec3));
    if (std::ifstream in(kept, std::ios::binary); in && in.read(reinterpret_cast<char*>(light.data()), bytes))
        return light;
    Effort e;
    e.seconds = seconds;
    e.seed = seed;
    const LayeredFrame f = trace_frame(setup, scene, width, height, e);
    std::printf("long run: %llu paths a pixel, noise %.1f %%\n", static_cast<unsigned long long>(f.paths_per_pixel),
                100 * f.noise);
    light = light_of(f);
    std::ofstream(kept, std::ios::binary).write(reinterpret_cast<const char*>(light.data()), bytes);
    return light;
}

void write_picture(const std::filesystem::path& path, const std::vector<Vec3>& light, const LayeredFrame& f) {
    std::vector<Tristimulus> t(light.size());
    for (std::size_t p = 0; p < t.size(); ++p)
        t[p] = {static_cast<double>(light[p].x), static_cast<double>(light[p].y), static_cast<double>(light[p].z)};
    write_png(path, developed(t, f.width, f.height, f.camera));
}

/// Share of pixels whose luminance on the display is off the median of the 5 x 5 around by .12, where that median is
/// within .12 of those two pixels further on every side: away from edges.
double specks(const std::vector<Vec3>& light, const LayeredFrame& f) {
    std::vector<Tristimulus> t(light.size());
    for (std::size_t p = 0; p < t.size(); ++p)
        t[p] = {static_cast<double>(light[p].x), static_cast<double>(light[p].y), static_cast<double>(light[p].z)};
    const Image image = developed(t, f.width, f.height, f.camera);
    std::vector<float> y(light.size());
    for (std::size_t p = 0; p < y.size(); ++p)
        y[p] = 0.2126F * image.rgb[3 * p] + 0.7152F * image.rgb[3 * p + 1] + 0.0722F * image.rgb[3 * p + 2];
    std::vector<float> middle = y;
    for (int j = 2; j < f.height - 2; ++j)
        for (int i = 2; i < f.width - 2; ++i) {
            std::array<float, 25> around{};
            for (int k = 0; k < 25; ++k) around[static_cast<std::size_t>(k)] = y[f.at(i + k % 5 - 2, j + k / 5 - 2)];
            std::nth_element(around.begin(), around.begin() + 12, around.end());
            middle[f.at(i, j)] = around[12];
        }
    std::size_t off = 0;
    for (int j = 4; j < f.height - 4; ++j)
        for (int i = 4; i < f.width - 4; ++i) {
            const float m = middle[f.at(i, j)];
            const bool edge = std::abs(middle[f.at(i - 2, j)] - middle[f.at(i + 2, j)]) > 0.12F ||
                              std::abs(middle[f.at(i, j - 2)] - middle[f.at(i, j + 2)]) > 0.12F;
            off += !edge && std::abs(y[f.at(i, j)] - m) > 0.12F;
        }
    return static_cast<double>(off) / static_cast<double>(y.size());
}

struct Truth {
    std::vector<Vec3> a, b;
    std::vector<PartKind> kind;
};

void tell(const char* what, const std::vector<Vec3>& light, const Truth& truth, const LayeredFrame& f, double seconds) {
    double mean = 0;
    for (std::size_t p = 0; p < light.size(); ++p) mean += static_cast<double>(truth.a[p].y + truth.b[p].y) / 2;
    mean /= static_cast<double>(light.size());
    // What both long runs say of the square of the departure: their own noise falls out.
    const auto departure = [&](PartKind kind, bool every) {
        double sum = 0, n = 0;
        for (std::size_t p = 0; p < light.size(); ++p) {
            if (!every && truth.kind[p] != kind) continue;
            const double a = static_cast<double>(light[p].y - truth.a[p].y), b = static_cast<double>(light[p].y - truth.b[p].y);
            const double of = static_cast<double>(truth.a[p].y + truth.b[p].y) / 2 + 0.02 * mean;
            sum += std::clamp(a * b / (of * of), -1.0, 1.0), n += 1;
        }
        return n > 0 ? std::sqrt(std::max(0.0, sum / n)) : 0.0;
    };
    double regions = 0, worst = 0, count = 0, face = 0, faces = 0, worst_face = 0;
    for (int j = 0; j + 32 <= f.height; j += 32)
        for (int i = 0; i + 32 <= f.width; i += 32) {
            double sum = 0, a = 0, b = 0;
            int skin = 0;
            for (int y = j; y < j + 32; ++y)
                for (int x = i; x < i + 32; ++x) {
                    sum += static_cast<double>(light[f.at(x, y)].y);
                    a += static_cast<double>(truth.a[f.at(x, y)].y), b += static_cast<double>(truth.b[f.at(x, y)].y);
                    skin += truth.kind[f.at(x, y)] == PartKind::skin;
                }
            if (!(a + b > 0)) continue;
            const double off = std::abs(2 * sum / (a + b) - 1);
            regions += off, count += 1, worst = std::max(worst, off);
            if (skin > 512) face += off, faces += 1, worst_face = std::max(worst_face, off);
        }
    std::printf("| %s | %.1f | %.1f | %.1f | %.1f / %.1f | %.1f / %.1f | %.2f | %.2f |\n", what,
                100 * departure({}, true), 100 * departure(PartKind::hair, false), 100 * departure(PartKind::skin, false),
                100 * regions / count, 100 * worst, faces > 0 ? 100 * face / faces : 0.0, 100 * worst_face,
                100 * specks(light, f), seconds);
    std::fflush(stdout);
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 7) return std::puts("FILE SET-UP WIDTH SECONDS REFERENCE-SECONDS FOLDER"), 2;
    const std::filesystem::path folder = argv[6];
    const int width = std::atoi(argv[3]);
    const std::string name = std::filesystem::path(argv[1]).stem().string() + "-" + argv[2] + "-" + argv[3];
    Clock clock;
    Setup setup = SetupFile::read(argv[1]).setup(argv[2], "as found");
    const Scene scene = build_scene(setup);
    const Camera& camera = *setup.its_camera();
    const int height = static_cast<int>(std::lround(width * camera.sensor_height / camera.sensor_width));
    std::printf("built in %.2f s\n", clock.seconds());
    Truth truth{long_run(setup, scene, width, height, std::atof(argv[5]), 101, folder / (name + "-a")),
                long_run(setup, scene, width, height, std::atof(argv[5]), 102, folder / (name + "-b")),
                {}};
    const CameraView view(camera, width, height);
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x) {
            const auto hit = first_seen(scene.rays, view.ray(static_cast<float>(x) + 0.5F, static_cast<float>(y) + 0.5F),
                                        looked_through);
            truth.kind.push_back(hit ? scene.rays.part(hit->part).kind : PartKind::outside);
        }
    Effort e;
    e.seconds = std::atof(argv[4]);
    clock = Clock();
    const LayeredFrame f = trace_frame(setup, scene, width, height, e);
    std::printf("%s: %zu sources, %llu paths a pixel in %.2f s, surfaces seen and the rest in %.2f s\n", name.c_str(),
                f.sources.size(), static_cast<unsigned long long>(f.paths_per_pixel), f.seconds,
                clock.seconds() - f.seconds);
    std::printf("| | all %% | hair %% | skin %% | regions, mean / worst %% | faces, mean / worst %% | specks %% | seconds |\n"
                "|---|---|---|---|---|---|---|---|\n");
    const std::vector<Vec3> raw = light_of(f);
    tell("as traced", raw, truth, f, f.seconds);
    write_picture(folder / (name + "-raw.png"), raw, f);
    clock = Clock();
    std::vector<Vec3> thrown = raw;
    for (std::size_t p = 0; p < thrown.size(); ++p) thrown[p] -= f.bounced[p] + f.soft[p];
    std::vector<Vec3> own = PreviewFilter(f).correction(f.bounced, f.soft, thrown);
    for (std::size_t p = 0; p < own.size(); ++p) own[p] += raw[p];
    tell("own filter", own, truth, f, clock.seconds());
    write_picture(folder / (name + "-own.png"), own, f);
    clock = Clock();
    const std::vector<Vec3> calm = denoised(f, raw, {});
    if (!calm.empty()) {
        tell("network", calm, truth, f, clock.seconds());
        write_picture(folder / (name + "-network.png"), calm, f);
        clock = Clock();
        denoised(f, raw, {});
        std::printf("again: %.2f s\n", clock.seconds());
    }
    std::vector<Vec3> both(raw.size());
    for (std::size_t p = 0; p < both.size(); ++p) both[p] = (truth.a[p] + truth.b[p]) / 2;
    write_picture(folder / (name + "-long.png"), both, f);
    return 0;
}
