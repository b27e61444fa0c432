#include "setup/picture/hung_picture.h"

#include "quantity/colour.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace rushlight {

namespace {

using Paint = std::array<float, 3>;

float luminous(const Paint& p) {
    return 0.2126F * p[0] + 0.7152F * p[1] + 0.0722F * p[2];  // ITU-R BT.709
}

/// The factor that brings the mean to what is wanted though the brightest are held at `whitest`.
float factor_for(double wanted, const std::vector<Paint>& paints) {
    const auto mean = [&](float factor) {
        double sum = 0;
        for (const Paint& p : paints)
            sum += static_cast<double>(luminous({std::min(p[0] * factor, whitest), std::min(p[1] * factor, whitest),
                                                 std::min(p[2] * factor, whitest)}));
        return sum / static_cast<double>(paints.size());
    };
    float low = 0, high = 1;
    while (mean(high) < wanted && high < 1e6F) high *= 2;
    for (int i = 0; i < 40; ++i) {
        const float middle = (low + high) / 2;
        (mean(middle) < wanted ? low : high) = middle;
    }
    return high;
}

struct Palette {
    std::vector<Paint> colours;
    std::vector<std::uint32_t> of;  // by paint
};

/// Median cut (Heckbert, Color image quantization for frame buffer display, 1982), in display values, where steps look
/// alike; each box stands for its mean light.
Palette thinned(const std::vector<Paint>& paints) {
    std::vector<Paint> looks(paints.size());
    for (std::size_t i = 0; i < paints.size(); ++i)
        for (std::size_t c = 0; c < 3; ++c) looks[i][c] = srgb_encoded(paints[i][c]);

    struct Box {
        std::size_t first, end;
        std::size_t axis = 0;
        float spread = 0;  // widest range, by the root of how many have it
    };
    std::vector<std::size_t> order(paints.size());
    std::iota(order.begin(), order.end(), 0);
    const auto measured = [&](std::size_t first, std::size_t end) {
        Box box{first, end};
        for (std::size_t c = 0; c < 3; ++c) {
            float low = 1, high = 0;
            for (std::size_t i = first; i < end; ++i) {
                low = std::min(low, looks[order[i]][c]);
                high = std::max(high, looks[order[i]][c]);
            }
            const float spread = (high - low) * std::sqrt(static_cast<float>(end - first));
            if (spread > box.spread) box = {first, end, c, spread};
        }
        return box;
    };
    std::vector<Box> boxes{measured(0, order.size())};
    while (boxes.size() < most_colours) {
        const auto widest = std::max_element(boxes.begin(), boxes.end(),
                                             [](const Box& a, const Box& b) { return a.spread < b.spread; });
        if (!(widest->spread > 0)) break;
        const Box box = *widest;
        const std::size_t middle = box.first + (box.end - box.first) / 2;
        const auto at = [&](std::size_t i) { return order.begin() + static_cast<std::ptrdiff_t>(i); };
        std::nth_element(at(box.first), at(middle), at(box.end), [&](std::size_t a, std::size_t b) {
            return looks[a][box.axis] != looks[b][box.axis] ? looks[a][box.axis] < looks[b][box.axis] : a < b;
        });
        *widest = measured(box.first, middle);
        boxes.push_back(measured(middle, box.end));
    }

    Palette palette;
    palette.of.resize(paints.size());
    for (const Box& box : boxes) {
        Paint sum{};
        for (std::size_t i = box.first; i < box.end; ++i) {
            for (std::size_t c = 0; c < 3; ++c) sum[c] += paints[order[i]][c];
            palette.of[order[i]] = static_cast<std::uint32_t>(palette.colours.size());
        }
        for (float& c : sum) c /= static_cast<float>(box.end - box.first);
        palette.colours.push_back(sum);
    }
    return palette;
}

}  // namespace

double height_of(const PictureCells& cells, double width) {
    return width * cells.down / cells.across;
}

Triangles hung_picture(const PictureCells& cells, const PictureHanging& hanging) {
    std::vector<std::size_t> painted;
    std::vector<Paint> paints;
    for (std::size_t i = 0; i < cells.colour.size(); ++i) {
        if (cells.clear[i]) continue;
        painted.push_back(i);
        paints.push_back(cells.colour[i]);
    }
    Triangles hung;
    if (paints.empty()) return hung;
    const float factor = factor_for(hanging.reflectance, paints);
    for (Paint& p : paints)
        for (float& c : p) c = std::min(c * factor, whitest);

    const Palette palette = thinned(paints);
    for (const Paint& p : palette.colours) {
        Finish finish;
        finish.name = hanging.name;
        finish.reflectance = reflectance_from_rgb(p[0], p[1], p[2]);
        hung.finishes.push_back(std::move(finish));
    }

    const double turn = radians(Degree{hanging.turn});
    Vec3 right(static_cast<float>(std::cos(turn)), static_cast<float>(std::sin(turn)), 0);
    // With up, to the right of whoever it faces.
    const Vec3 faces(right.y, -right.x, 0);
    if (faces.dot(hanging.seen_from - hanging.middle) < 0) right = -right;
    const double cell = hanging.width / cells.across;
    const auto corner = [&](int column, int row) {
        const auto x = static_cast<float>(column * cell - hanging.width / 2);
        const auto z = static_cast<float>(height_of(cells, hanging.width) / 2 - row * cell);
        return hanging.middle + right * x + Vec3(0, 0, z);
    };
    const auto line = static_cast<std::uint32_t>(cells.across + 1);
    for (int row = 0; row <= cells.down; ++row)
        for (int column = 0; column <= cells.across; ++column) hung.positions.push_back(corner(column, row));
    for (std::size_t i = 0; i < painted.size(); ++i) {
        const auto row = static_cast<std::uint32_t>(painted[i] / static_cast<std::size_t>(cells.across));
        const auto column = static_cast<std::uint32_t>(painted[i] % static_cast<std::size_t>(cells.across));
        const std::uint32_t a = row * line + column, b = a + 1, c = b + line, d = a + line;
        hung.faces.push_back({{a, d, c}, palette.of[i]});
        hung.faces.push_back({{a, c, b}, palette.of[i]});
    }
    return hung;
}

}  // namespace rushlight
