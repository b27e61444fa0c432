#include "pictures/frames/comparison_picture.h"

#include "pictures/draw/drawing.h"
#include "pictures/draw/lettering.h"
#include "pictures/frames/frame_picture.h"
#include "pictures/words/numbers.h"
#include "results/frame/preview_filter.h"

#include <algorithm>

namespace rushlight {
namespace {

const Colour paper{0.955F, 0.955F, 0.95F}, ink{0.13F, 0.13F, 0.14F}, faint{0.42F, 0.42F, 0.43F};
constexpr int gap = 22, head = 78, foot = 44;

int letters_for(int width) {
    return std::clamp(width / 36, 11, 20);
}

void write_numbers(Image& image, int x, int y, int width, const Compared& option, const std::vector<MainNumber>& first,
                   bool is_first) {
    const int letters = letters_for(width), line = letters * 3 / 2;
    const Lettering plain{letters, false, Align::left, ink, {}}, right{letters, false, Align::right, ink, {}};
    const Lettering strong{letters, true, Align::right, ink, {}}, quiet{letters, false, Align::right, faint, {}};
    const Lettering title{letters + 2, true, Align::left, ink, {}};
    y += letters + 10;
    write_text(image, x, y, fitted(option.sheet.option, width, title), title);
    const int value = x + width * 68 / 100, change = x + width;
    for (const MainNumber& n : main_numbers(option.sheet)) {
        y += line;
        write_text(image, x, y, fitted(n.name, width * 44 / 100, plain), plain);
        write_text(image, value, y, n.said, right);
        if (is_first) continue;
        const MainDifference d = difference(n, first);
        if (!d.known)
            write_text(image, change, y, "-", quiet);
        else if (is_real(d.stops))
            write_text(image, change, y, with_error(stops_text(d.stops.value), d.stops.error), strong);
        else
            write_text(image, change, y, "within noise", quiet);
    }
}

}  // namespace

int tile_columns(std::size_t tiles) {
    if (tiles <= 3) return static_cast<int>(tiles);
    return tiles == 4 ? 2 : 3;
}

Image comparison_picture(const Comparison& c, bool filtered) {
    if (c.options.empty()) throw OutputError("cannot show a comparison of nothing");
    const LayeredFrame& size = c.options.front().frame;
    const int width = size.width, letters = letters_for(width);
    std::vector<MainNumber> first = main_numbers(c.options.front().sheet);
    std::size_t most_lines = 0;
    for (const Compared& o : c.options) most_lines = std::max(most_lines, main_numbers(o.sheet).size());
    const int numbers = letters + 18 + static_cast<int>(most_lines) * letters * 3 / 2 + letters;
    const int across = tile_columns(c.options.size());
    const int down = (static_cast<int>(c.options.size()) + across - 1) / across;
    Image image(gap + across * (width + gap), head + down * (size.height + numbers + gap) + foot, paper);

    const Lettering title{letters + 5, true, Align::left, ink, {}},
        small{std::max(11, letters - 2), false, Align::left, faint, {}};
    const int page = image.width - 2 * gap;
    write_text(image, gap, 32, fitted(c.setup + ", option by option", page, title), title);
    const Exposure& e = size.camera.exposure;
    write_text(
        image, gap, 58,
        fitted("All at one exposure: " + size.camera.name + ", " + t_stop_text(e.t_stop) + ", ISO " + fixed(e.iso, 0) +
                   ". Differences in stops from \"" + c.options.front().sheet.option + "\", ± one standard error.",
               page, small),
        small);
    for (std::size_t i = 0; i < c.options.size(); ++i) {
        const Compared& o = c.options[i];
        const int x = gap + static_cast<int>(i) % across * (width + gap);
        const int y = head + static_cast<int>(i) / across * (size.height + numbers + gap);
        FrameLook look;
        look.caption = false;
        if (filtered) look.correction = preview_correction(o.frame);
        paste(image, frame_picture(o.frame, look), x, y);
        write_numbers(image, x, y + size.height, width, o, first, i == 0);
    }
    double noise = 0;
    for (const Compared& o : c.options) noise = std::max(noise, o.frame.noise);
    write_text(image, gap, image.height - 18,
               fitted("Within noise: less than three errors. Frames: noise of a pixel up to " + fixed(100 * noise, 0) +
                          " %" + (filtered ? ", filtered for preview" : "") + ". Estimate for planning light.",
                      page, small),
               small);
    return image;
}

}  // namespace rushlight
