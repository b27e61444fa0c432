// Ten lessons, one law each: a set-up to look at before and after one change, the numbers that follow from the law, and
// what is said about them. One list, two users: lessons_test.cpp holds the numbers to their sources, and
// tools/lessons.cpp renders the pages of docs/lessons/.
#pragma once

#include "quantity/measured.h"
#include "results/frame/layered_frame.h"
#include "results/sheet/sheet.h"

#include <cmath>
#include <functional>
#include <map>
#include <string>
#include <vector>

namespace rushlight::lessons {

/// Which of the lesson's files, set-ups and options. Files are those of scenes/lessons/, without their ending.
struct View {
    std::string file, option = "as found", setup = {};
    auto operator<=>(const View&) const = default;
};

/// Sheets and frames of views, each traced when it is first asked for.
class Runs {
public:
    Runs(std::string folder, double error) : folder_(std::move(folder)), error_(error) {}

    const Sheet& sheet(const View& view);
    /// Lux of a meter, without all else that a sheet holds.
    Measured lux(const View& view, const std::string& meter);
    /// Mean of the frame, cd/m2, as it comes through a polarizer before the lens.
    Measured seen(const View& view);
    const std::string& folder() const { return folder_; }

private:
    std::string folder_;
    double error_;  // relative, wanted of every reading
    std::map<View, Sheet> sheets_;
    std::map<View, std::map<std::string, Measured>> meters_;
    std::map<View, Measured> seen_;
};

/// log2(a / b) with the errors of both.
inline Measured stops_over(const Measured& a, const Measured& b) {
    return stops_between(b, a);
}

/// One line of a lesson's table.
struct Number {
    std::string key;  // by which the words name it: {key}
    std::string what, unit;
    int decimals = 1;
    std::function<Measured()> find;
    double expected = NAN;  // by the law; none: nobody can say but the tracing
    std::string source = {};
    double allowance = 0;  // what the law itself leaves out, in the unit
};

struct Panel {
    std::string name;
    View view;
};

enum class Exposed { each, by_the_first, as_written };

struct Lesson {
    std::string file, title;
    std::string law, formula, source;
    std::string guess;
    std::string picture;  // what is seen
    std::vector<Panel> panels;
    int in_a_row = 3;
    std::string exposed_for;  // the meter
    Exposed exposed = Exposed::each;
    double opened = 0.7;  // stops over what a flat meter asks for
    std::function<std::vector<Number>(Runs&)> numbers;
    std::string why, command, exercise, answer;  // with {key} for numbers
};

Lesson fall_off();
Lesson softness();
Lesson bounce();
Lesson negative_fill();
Lesson wall_distance();
Lesson colour_mix();
Lesson diffusion();
Lesson window_exposure();
Lesson hair_light();
Lesson polarizer();
std::vector<Lesson> all_lessons();

}  // namespace rushlight::lessons
