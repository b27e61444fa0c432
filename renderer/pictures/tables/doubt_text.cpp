#include "pictures/tables/doubt_text.h"

#include "pictures/words/columns.h"
#include "pictures/words/numbers.h"
#include "pictures/words/utf8.h"

#include <cmath>

namespace rushlight {

std::string text(const Doubts& d) {
    std::string t;
    for (const std::string& piece : {d.title, d.setup, d.option})
        if (!piece.empty()) t += (t.empty() ? "" : " · ") + piece;
    t += "\n" + wrapped(
                    "How far each rough input moves each reading, in stops, if it is off by its usual error (common "
                    "practice, no source). Measure the first line again first. ~: within noise.",
                    "", "");
    Column names{"Reading", true, {}};
    for (const std::string& r : d.readings) names.cells.push_back(cut_to(r, 24));
    std::vector<Column> block{names};
    std::string legend;
    const auto close = [&] {
        if (block.size() > 1) t += "\n" + side_by_side(block) + legend;
        block.resize(1);
        legend.clear();
    };
    for (std::size_t i = 0; i < d.inputs.size(); ++i) {
        const Doubt& input = d.inputs[i];
        Column column{"(" + std::to_string(i + 1) + ")", false, {}};
        for (const Measured& m : input.stops) {
            const bool known = std::isfinite(m.value) && std::isfinite(m.error);
            column.cells.push_back(!known ? "-"
                                   : std::abs(m.value) > 3 * m.error
                                       ? (m.value < 0 ? "−" : "+") + fixed(std::abs(m.value), 2)
                                       : "~");
        }
        block.push_back(std::move(column));
        legend += "  (" + std::to_string(i + 1) + ") " + input.input + "\n";
        if (block.size() > 8) close();
    }
    close();
    return t + "\n  Took " + fixed(d.seconds, 1) + " s.\n";
}

}  // namespace rushlight
