// What people read is written as somebody in the trade would say it. These phrases are not: a translator's, or they say
// the opposite of what is meant, or they name a thing by a word that means another.
#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

namespace rushlight {
namespace {

namespace fs = std::filesystem;

/// Small letters; and what a native writes instead.
struct Phrase {
    const char *banned, *instead;
};
const std::vector<Phrase> phrases{
    {"half as near", "at half the distance"},
    {"would burn", "are on"},
    {"ever surer", "refining"},
    {"if left out)", "(default: ...)"},
    {"left out: ", "default: "},
    {"how sure every", "how accurate every"},
    {"this sure (", "this accurate ("},
    {"sends back", "has a reflectance of; reflects"},
    {"is met:", "(say what happens)"},
    {"quite black", "perfectly black"},
    {"stops lies", "stops down is"},
    {"said aloud", "listed"},
    {"answered by its line", "reported with its line"},
    {"unknown word", "unknown key, unknown option"},
    {"every word of the file", "every key of the file"},
    {"held by themselves", "placed automatically"},
    {"take away a", "remove"},
    {"to take away\"", "to remove"},
    {"put in...", "Add..."},
    {"none there", "Remove"},
    {"what was guessed", "Assumptions"},
    {"as the day gives it", "from date, time and sky"},
    {"smoothed to look at", "denoised preview"},
    {"as it stands in the file", "saved"},
    {"plugged in nowhere", "not on a circuit"},
    {"more than it carries", "OVERLOADED"},
    {"least on the way", "minimum along the edge"},
    {"is forgiven", "tolerance"},
    {"takes the place for", "as modelled"},
    {"hangs on no hour", "no daylight"},
    {"ways out stay", "keep exits clear"},
    {"through nothing", "clear of everything"},
    {"before no lamp", "not blocking a lamp"},
    {"nothing there", "not measured"},
    {"nobody on the marks", "clear set"},
    {"what looks.", "The camera."},
    {"named are", "It names"},
    {"solved for are", "It solves for"},
    {"told at the start", "shown first"},
    {"within a blink", "at once"},
    {"stops below all", "share, in stops"},
    {"all together:", "Total"},
    {"is no length", "isn't a length"},
    {"is no frame guide", "isn't a frame guide"},
    {"is no whole number", "isn't a whole number"},
    {"lives on that", "relies on this"},
    {"nobody looks at any more", "nobody is viewing"},
    {"a third of a stop and more", "at least a third of a stop"},
    {"were started with other words", "different arguments"},
    {"reckoned at", "estimated at"},
    {"rendered losses", "losses, as traced"},
    {"before the order below", "before the order above"},
    {"hand before", "a hand in front of"},
    {"before the cornea", "in front of the cornea"},
    {"mm before it", "in front of it"},
    {"before the lens:", "in front of the lens"},
    {"before the glass", "inside the glass, in front of the glass"},
    {"passes unbent", "passes straight through"},
    {"passing unbent", "passing straight through"},
    {"endless number", "the converged value"},
    {"without the place of the lens", "whatever the lens position"},
    {"for it covers", "because it covers"},
    {"and what, when", "and with"},
    {"repaired in silence", "fixed silently"},
    {"the fair way to", "the right way to"},
    {"own patience", "times out"},
    {"one sentence that names it", "one line naming it"},
    {"no veil but", "no veiling glare except"},
    {"are sure to", "are accurate to"},
    {"is sure to", "is accurate to"},
    {"numbers are held to", "Validation"},
    {"have no chance in them", "are deterministic"},
    {"fault is mended", "a fault is fixed"},
    {"faults are mended", "fixed"},
    {"begins anew", "starts over"},
    {"wholly so", "fully so"},
    {"of the key a tenth of a stop", "down to 0.1 stop"},
    {"stands elsewhere", "has moved"},
    {"else hangs on it", "else is on it"},
    {"beats all of that", "your own readings beat all of that"},
    {"held against", "compared with"},
    {"trace anew", "trace again"},
    {"traced anew", "traced again"},
    {"be through after", "finish within"},
    {"else as walls", "default: as walls"},
    {"found from where", "the path counts from the folder of"},
    {"that are put in", "to put in"},
    {"mirror-like share", "how much it mirrors"},
    {"view by the", "view through the"},
    {"is the error wanted of", "good to 1 %"},
    {"is waited for", "(say who waits)"},
    {"weighed by its share", "weighted by its share"},
};

std::string small(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return std::tolower(c); });
    return text;
}

/// What stands between quotation marks: of code only that is read by people.
std::string in_its_quotes(const std::string& line) {
    const std::size_t begins = line.find_first_not_of(' ');
    if (begins == std::string::npos || line.compare(begins, 2, "//") == 0) return {};
    std::string all;
    bool inside = false;
    for (std::size_t i = 0; i < line.size(); ++i) {
        if (line[i] == '\\') {
            ++i;
            continue;
        }
        if (line[i] == '"') inside = !inside;
        if (inside || line[i] == '"') all += line[i];
    }
    return all;
}

/// Lines of a file that people read, with their place for messages.
void look_into(const fs::path& path, int& lines) {
    const std::string kind = path.extension();
    const bool code = kind == ".cpp" || kind == ".h";
    std::ifstream in(path);
    int number = 0;
    for (std::string line; std::getline(in, line);) {
        ++number, ++lines;
        const std::string read = small(code ? in_its_quotes(line) : line);
        for (const Phrase& p : phrases)
            EXPECT_EQ(read.find(p.banned), std::string::npos)
                << path.string() << ":" << number << ": \"" << p.banned << "\"; write \"" << p.instead << "\"";
    }
}

TEST(Phrases, AreThoseOfTheTrade) {
    const fs::path top = RUSHLIGHT_SOURCE;
    int lines = 0;
    for (const char* page : {"README.md", "DEVELOPERS.md"}) look_into(top / page, lines);
    for (const char* folder : {"docs", "renderer", "scenes", "tests/lessons", "tools"})
        for (auto e = fs::recursive_directory_iterator(top / folder); e != fs::recursive_directory_iterator(); ++e) {
            if (e->path().filename() == "node_modules") e.disable_recursion_pending();
            const std::string kind = e->path().extension();
            if (kind == ".md" || kind == ".cpp" || kind == ".h" || kind == ".tsx" || kind == ".toml")
                look_into(e->path(), lines);
        }
    EXPECT_GT(lines, 20'000) << "the files were not found";
}

}  // namespace
}  // namespace rushlight
