// The same frame by Embree's own sample path tracer (Debian package embree-tools) and by rushlight: how long each
// takes to the same noise. Only what both can hold: a closed matt room, two heads, one small lamp; docs/speed.md.
//   rushlight_bench_against [seconds a measurement]

#include "bench_scenes.h"

#include "paths/field.h"
#include "scene/rays/camera_view.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <stdexcept>

using namespace rushlight;
using namespace rushlight::bench;

namespace {

constexpr int width = 480, height = 270;
constexpr std::size_t pixels = static_cast<std::size_t>(width) * height;
const Vec3 lamp_at(1.5F, 0.8F, 2.2F), eye(5.7F, 3.6F, 1.5F), looks_at(3.4F, 1.7F, 1.1F);
constexpr double lamp_candela = 100, lens = 21, sensor_width = 24.9;

using Picture = std::vector<double>;

double mean(const Picture& p) {
    double sum = 0;
    for (const double v : p) sum += v;
    return sum / static_cast<double>(p.size());
}

/// Mean over the pixels of (departure from the truth) / (truth + 2 % of the mean), as a standard deviation. Pixels that
/// eight bits clip, or of which they leave little, are left out; the same ones for both programs.
double noise(const Picture& p, const Picture& truth, const std::vector<bool>& counts) {
    const double least = 0.02 * mean(truth);
    double sum = 0, n = 0;
    for (std::size_t i = 0; i < p.size(); ++i) {
        if (!counts[i]) continue;
        sum += std::abs(p[i] - truth[i]) / (truth[i] + least);
        ++n;
    }
    return std::sqrt(pi / 2) * sum / n;
}

struct Part {
    Mesh mesh;
    double reflectance;
};

std::vector<Part> parts() {
    Room room;
    room.width = 6;
    room.depth = 4;
    room.height = 2.7;
    std::vector<Part> all;
    for (std::size_t w = 0; w < 6; ++w) {
        const auto wall = static_cast<Wall>(w);
        all.push_back({wall_mesh(room, wall), wall == Wall::floor ? 0.2 : wall == Wall::ceiling ? 0.7 : 0.5});
    }
    for (const Vec3& h : heads) all.push_back({ball(h, 0.12F, 20000), 0.3});
    return all;
}

Scene our_scene() {
    Scene s;
    for (const Part& p : parts()) add(s, p.mesh, matt(p.reflectance));
    bench::add_lamp(s, LampShape::ball, lamp_at, lamp_at + Vec3(0, 0, -1), 0.02, Lamp::Output::lumen,
                    4 * pi * lamp_candela);
    s.lights.settle();
    s.rays.commit();
    return s;
}

struct Run {
    Picture luminance;
    double seconds = 0;
};

Run ours(const Scene& s, double seconds, std::uint64_t seed) {
    Camera camera;
    camera.at = eye;
    camera.look_at = looks_at;
    camera.lens = lens;
    camera.sensor_width = sensor_width;
    camera.sensor_height = sensor_width * height / width;
    const CameraView view(camera, width, height);
    Effort e;
    e.seconds = seconds;
    e.seed = seed;
    const Field f = trace_field(
        s, pixels, true,
        [&](std::size_t p, const LightPaths& pool, const Sharing& sharing, Sampler& sampler, std::span<Spectrum> sum,
            SplitLight& split) {
            const auto x = static_cast<float>(p % width) + sampler.next();
            const auto y = static_cast<float>(p / width) + sampler.next();
            collect_along(s, view.ray(x, y), pool, sharing, sampler, sum, &split);
        },
        e);
    Run run{Picture(pixels), f.seconds};
    for (std::size_t p = 0; p < pixels; ++p) run.luminance[p] = static_cast<double>(photometric(f.layers[0][p]));
    return run;
}

void write_model(const std::filesystem::path& folder) {
    std::ofstream obj(folder / "room.obj"), mtl(folder / "room.mtl");
    obj << "mtllib room.mtl\n";
    std::size_t first = 1, number = 0;
    for (const Part& p : parts()) {
        mtl << "newmtl m" << number << "\nillum 1\nd 1\nNs 1\nKs 0 0 0\nKd " << p.reflectance << ' ' << p.reflectance
            << ' ' << p.reflectance << '\n';
        obj << "usemtl m" << number++ << '\n';
        for (const Vec3& v : p.mesh.positions) obj << "v " << v.x << ' ' << v.y << ' ' << v.z << '\n';
        for (const auto& t : p.mesh.triangles)
            obj << "f " << first + t[0] << ' ' << first + t[1] << ' ' << first + t[2] << '\n';
        first += p.mesh.positions.size();
    }
}

/// Its picture has eight bits, linear: one unit of radiance is 255.
Picture read_ppm(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::string magic;
    int w = 0, h = 0, most = 0;
    in >> magic >> w >> h >> most;
    in.get();
    std::string bytes(3 * pixels, '\0');
    in.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    if (magic != "P6" || w != width || h != height || !in) throw std::runtime_error("no picture came of it");
    Picture p(pixels);
    // Half a step up: it cuts off what is behind the point.
    for (std::size_t i = 0; i < pixels; ++i) p[i] = (static_cast<unsigned char>(bytes[3 * i + 1]) + 0.5) / 255;
    return p;
}

Run theirs(const std::filesystem::path& folder, int samples, double exposure, int longest) {
    const auto out = folder / "out.ppm";
    const double intensity = lamp_candela * exposure;
    // The vertical field of view of the lens, degrees.
    const double fov = 2 * std::atan(sensor_width * height / width / 2 / lens) * 180 / pi;
    char line[600];
    std::snprintf(
        line, sizeof line,
        "pathtracer -i %s --pointlight %g %g %g %g %g %g --righthanded --vp %g %g %g --vi %g %g %g --vu 0 0 1 "
        "--fov %g --size %d %d --spp %d --max-path-length %d -o %s >/dev/null 2>&1",
        (folder / "room.obj").c_str(), lamp_at.x, lamp_at.y, lamp_at.z, intensity, intensity, intensity, eye.x, eye.y,
        eye.z, looks_at.x, looks_at.y, looks_at.z, fov, width, height, samples, longest, out.c_str());
    const Clock clock;
    if (std::system(line) != 0) throw std::runtime_error("pathtracer did not run: install embree-tools");
    const double seconds = clock.seconds();
    Run run{read_ppm(out), seconds};
    for (double& v : run.luminance) v /= exposure;
    return run;
}

}  // namespace

int main(int argc, char** argv) try {
    const double each = argc > 1 ? std::clamp(std::atof(argv[1]), 0.1, 60.0) : 2;
    char name[] = "/tmp/rushlight-bench-XXXXXX";
    const std::filesystem::path folder = mkdtemp(name);
    write_model(folder);
    const Scene s = our_scene();
    const Picture our_truth = ours(s, 16 * each, 1001).luminance;
    const double exposure = 0.2 / mean(our_truth);
    const Picture their_truth = theirs(folder, 1024, exposure, 8).luminance;
    std::vector<bool> counts(pixels);
    for (std::size_t p = 0; p < pixels; ++p)
        counts[p] = their_truth[p] * exposure > 0.06 && their_truth[p] * exposure < 0.45;

    std::printf(
        "| seed | rushlight: seconds, noise | its sample: seconds, noise | time to the same noise "
        "|\n|---|---|---|---|\n");
    for (std::uint64_t seed = 1; seed <= 5; ++seed) {
        const Run our = ours(s, each, seed);
        const int samples = 64;
        // Loading is taken off: it is in both of its runs.
        const double loading = theirs(folder, 1, exposure, 8).seconds;
        Run their = theirs(folder, samples + 1, exposure, 8);
        their.seconds -= loading;
        const double a = noise(our.luminance, our_truth, counts), b = noise(their.luminance, their_truth, counts);
        std::printf("| %d | %.2f, %.1f %% | %.2f, %.1f %% | %.2f |\n", static_cast<int>(seed), our.seconds, 100 * a,
                    their.seconds, 100 * b, b * b * their.seconds / (a * a * our.seconds));
        std::fflush(stdout);
    }
    double ratio = 0, n = 0;
    for (std::size_t p = 0; p < pixels; ++p)
        if (counts[p]) ratio += their_truth[p] / our_truth[p], ++n;
    std::printf(
        "\nMean of its long run over ours, pixel by pixel: %.4f, of %.0f %% of the pixels (8 steps a path at most)\n",
        ratio / n, 100 * n / pixels);
    const Picture longer = theirs(folder, 256, exposure, 60).luminance;
    ratio = 0;
    for (std::size_t p = 0; p < pixels; ++p)
        if (counts[p]) ratio += longer[p] / our_truth[p];
    std::printf("The same with 60 steps: %.4f\n", ratio / n);
    std::filesystem::remove_all(folder);
    return 0;
} catch (const std::exception& e) {
    std::fprintf(stderr, "rushlight_bench_against: %s\n", e.what());
    return 1;
}
