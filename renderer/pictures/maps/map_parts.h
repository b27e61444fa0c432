// The parts of the camera map and the plan map.
#pragma once

#include "pictures/draw/drawing.h"
#include "pictures/draw/lettering.h"
#include "pictures/maps/map_picture.h"
#include "pictures/maps/stops_map.h"

#include <string>
#include <vector>

namespace rushlight::map_parts {

/// The value that is 0 stops on this map.
struct Reference {
    double lux = 1;        // or cd/m2, of an exposure picture
    bool metered = false;  // the camera asks for it; otherwise a round number
};
Reference reference_of(const LightMap& map);

/// The nearest of 1, 2, 5 times a power of ten, and the one above a given one.
double round_lux(double lux);
double next_round_lux(double round);
/// 0.5, 5, 10 000: a round number of lux without zeros behind the point.
std::string round_lux_text(double round);

/// Paper, ink and sizes of one picture.
struct Page {
    Colour paper{0.955F, 0.955F, 0.95F}, ink{0.13F, 0.13F, 0.14F}, faint{0.45F, 0.45F, 0.46F};
    int letters = 14;  // size of the text
    int margin = 14;
    Lettering text(Align align = Align::left, bool bold = false) const { return {letters, bold, align, ink, {}}; }
    Lettering small(Align align = Align::left) const { return {letters - 2, false, align, faint, {}}; }
};
Page page_for(int area_height);

Colour colour_of(double stops, MapUnit unit);
/// How the number at a point is said in this unit.
std::string number_text(double lux, const Reference& reference, MapUnit unit);
/// Ink and halo that read on `under`.
Lettering lettering_on(const Colour& under, int size);

/// The whole field in colour; pixels with nothing to measure are hatched.
Image coloured(const StopsMap& field, MapUnit unit);

/// Isolines of the field: stops and what is written on each.
struct Contour {
    double stops = 0;
    std::string label;
    bool strong = false;
};
/// Lines of equal light that fall in the range of the field: 1, 2, 5 ... lux, or whole stops; and the
/// reference, strong.
std::vector<Contour> contours_of(const StopsMap& field, const Reference& reference, MapUnit unit);
void draw_contour(Image& image, const StopsMap& field, double stops, double width, const Colour& colour, double cover);
/// Up to two labels along each line, clear of each other and of `taken`.
void label_contours(Image& image, const StopsMap& field, const std::vector<Contour>& contours, int size,
                    std::vector<PixelBox>& taken);

/// Where a target wants the key of a person, stops; the bar is notched there.
struct Notch {
    std::string mark;
    double stops = 0;
};
std::vector<Notch> notches_of(const LightMap& map, const Reference& reference);
/// " · notch: planned key, A +0.6, B 0.0"; empty without notches.
std::string notch_text(const std::vector<Notch>& notches);

/// Width that the legend needs, and the legend with its upper left corner at x, y.
int legend_width(const Page& page);
/// The words beside the stops, and the ends of a camera's range on the scale: the range marks are drawn beyond them.
struct LegendOf {
    const char* unit = "lux";
    double floor = -100, clip = 100;  // stops
    std::vector<Notch> notches = {};
};
void draw_legend(Image& image, const Page& page, int x, int y, int height, const StopsMap& field,
                 const Reference& reference, MapUnit unit, const LegendOf& of = {});

/// The marks for what lies beyond the camera's range: a chequer of white and black over it, dots on black under it.
Colour clip_mark(int x, int y);
Colour floor_mark(int x, int y);

/// The lines over the map: whose light it is; what is shown and how sure; remarks, if there are any.
int title_height(const Page& page, const LightMap& map);
void draw_title(Image& image, const Page& page, int x, int width, const LightMap& map, const Reference& reference,
                MapUnit unit);

/// Marks, lamps and cameras seen from above, to scale.
void draw_signs(Image& image, const LightMap& map, Point lower_left, double pixels_per_metre, int size,
                std::vector<PixelBox>& taken);

Image camera_map(const LightMap& map, MapUnit unit);
Image plane_map(const LightMap& map, MapUnit unit);

}  // namespace rushlight::map_parts
