#include "pictures/frames/exposure_picture.h"

#include "pictures/maps/map_parts.h"
#include "pictures/words/numbers.h"
#include "quantity/exposure.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

using namespace map_parts;

namespace {

constexpr int least_width = 720;  // pixels of the picture itself, so that numbers have room
constexpr int numbers_across = 5, numbers_down = 3;

double mean_stops(const StopsMap& field, double x, double y, double radius) {
    double sum = 0;
    int count = 0;
    const int r = std::max(1, static_cast<int>(std::lround(radius)));
    for (int j = -r; j <= r; ++j)
        for (int i = -r; i <= r; ++i) {
            const int px = static_cast<int>(x) + i, py = static_cast<int>(y) + j;
            if (px < 0 || py < 0 || px >= field.width || py >= field.height || i * i + j * j > r * r) continue;
            sum += std::exp2(static_cast<double>(field.value[field.at(px, py)]));
            ++count;
        }
    return count > 0 ? std::log2(sum / count) : NAN;
}

/// A cross with its number, and its name if that has room too; nothing where they would lie over others.
void print_number(Image& image, Point at, const std::string& name, double stops, int size,
                  std::vector<PixelBox>& taken) {
    const auto x = std::clamp(static_cast<int>(at.x), 0, image.width - 1);
    const auto y = std::clamp(static_cast<int>(at.y), 0, image.height - 1);
    const int above = static_cast<int>(at.y - size * 0.6), below = static_cast<int>(at.y + size * 1.4);
    const Lettering how = lettering_on(image.pixel(x, y), size);
    const auto free = [&](const PixelBox& box) {
        return std::none_of(taken.begin(), taken.end(), [&](const PixelBox& t) { return t.touches(box); });
    };
    PixelBox number = text_box(x, above, stops_text(stops), how);
    number.y1 = std::max(number.y1, y + size / 2);  // and its cross
    if (!free(number)) return;
    draw_cross(image, at, size * 0.38, {*how.halo, 3, 0.7});
    draw_cross(image, at, size * 0.38, {how.ink, 1, 1});
    write_text(image, x, above, stops_text(stops), how);
    taken.push_back(number);
    if (name.empty() || !free(text_box(x, below, name, how))) return;
    taken.push_back(write_text(image, x, below, name, how));
}

void draw_range(Image& image, const StopsMap& field, const Camera& camera) {
    for (int y = 0; y < field.height; ++y)
        for (int x = 0; x < field.width; ++x) {
            const double stops = static_cast<double>(field.value[field.at(x, y)]);
            if (stops >= camera.headroom) image.set(x, y, clip_mark(x, y));
            if (stops <= -camera.footroom) image.set(x, y, floor_mark(x, y));
        }
}

std::string share_text(double share, const std::string& what) {
    return share > 0 ? " · " + percent_text(share) + " " + what : "";
}

}  // namespace

RangeShares beyond_range(const std::vector<Tristimulus>& light, const Camera& camera) {
    RangeShares shares;
    if (light.empty()) return shares;
    const double grey = grey_luminance(camera.exposure).value;
    const double clip = grey * std::exp2(camera.headroom), floor = grey * std::exp2(-camera.footroom);
    const double one = 1.0 / static_cast<double>(light.size());
    for (const Tristimulus& t : light) {
        if (t.y >= clip) shares.clipped += one;
        if (t.y <= floor) shares.lost += one;
    }
    return shares;
}

Image exposure_picture(const LayeredFrame& frame, const FrameLook& look, const std::vector<ExposureMark>& marks,
                       const std::vector<ExposureKey>& keys) {
    std::vector<Notch> notches;
    for (const ExposureKey& k : keys) notches.push_back({k.mark, k.stops});
    const std::vector<Tristimulus> light = light_on_sensor(frame, look);
    const double grey = grey_luminance(frame.camera.exposure).value;
    StopsMap small{frame.width, frame.height, std::vector<float>(light.size(), no_light_stops)};
    for (std::size_t i = 0; i < light.size(); ++i)
        if (light[i].y > 0) small.value[i] = std::max(no_light_stops, static_cast<float>(std::log2(light[i].y / grey)));
    const int times = std::max(1, (least_width + frame.width - 1) / std::max(1, frame.width));
    const StopsMap field = enlarged(small, times);
    const Page page = page_for(field.height);

    Image colours = coloured(field, MapUnit::stops);
    draw_range(colours, field, frame.camera);
    // Colours stay as the legend has them.
    if (const Guides guides = guides_for(look.guides, frame.camera); guides.any()) draw_guides(colours, guides, 0);
    std::vector<PixelBox> taken;
    for (const ExposureMark& m : marks)
        print_number(colours, {m.x * times, m.y * times}, m.name, mean_stops(small, m.x, m.y, m.radius), page.letters,
                     taken);
    for (int j = 0; j < numbers_down && marks.empty(); ++j)
        for (int i = 0; i < numbers_across; ++i) {
            const double x = (i + 0.5) * frame.width / numbers_across, y = (j + 0.5) * frame.height / numbers_down;
            print_number(colours, {x * times, y * times}, "", mean_stops(small, x, y, frame.width / 240.0),
                         page.letters, taken);
        }

    const int head = page.letters * 4, legend = legend_width(page);
    const int area = std::max(field.height, page.letters * 22);
    Image image(field.width + 3 * page.margin + legend, head + area + page.margin, page.paper);
    Lettering heading = page.text(Align::left, true);
    heading.size += 3;
    const int room = image.width - 2 * page.margin;
    std::string title = frame.setup;
    if (!frame.option.empty()) title += (title.empty() ? "" : " · ") + frame.option;
    write_text(image, page.margin, page.letters * 2, fitted(title.empty() ? "Exposure" : title, room, heading),
               heading);
    const RangeShares shares = beyond_range(light, frame.camera);
    const std::string says = "Exposure in stops over grey · holds " + stops_text(-frame.camera.footroom) + " to " +
                             stops_text(frame.camera.headroom) + share_text(shares.clipped, "clips (chequer)") +
                             share_text(shares.lost, "under the footroom (dots)") + notch_text(notches);
    write_text(image, page.margin, page.letters * 7 / 2, fitted(says, room, page.text()), page.text());
    paste(image, colours, page.margin, head);
    draw_legend(image, page, 2 * page.margin + field.width, head, area, field, {grey, true}, MapUnit::stops,
                {"cd/m2", -frame.camera.footroom, frame.camera.headroom, notches});
    return image;
}

}  // namespace rushlight
