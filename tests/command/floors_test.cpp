// The order of the source tree: who may include what, and how long a file may grow.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <vector>

namespace rushlight {
namespace {

namespace fs = std::filesystem;

const fs::path source = RUSHLIGHT_SOURCE;
// docs/architecture.md: data flows one way.
constexpr std::array<const char*, 8> floors{"quantity", "setup",    "scene", "paths",
                                            "results",  "pictures", "desk",  "command"};

/// The rooms of a floor, lowest first. A floor's own files may stand above its rooms or between them: `here` is their
/// place.
constexpr const char* here = ".";
const std::map<std::string, std::vector<std::string>> rooms{
    {"setup", {"text", "keys", "luminaire", "plain", "picture", "model", "read", "edit", "advice"}},
    {"scene", {"surface", "rays", "light", "furniture", "person", "figure", here}},
    {"paths", {"work", "walk", here}},
    {"results", {"light", "network", "frame", "sheet", "glint", "readings", "compare", "balance", "day", "brief"}},
    {"pictures", {"files", "words", "draw", "tables", "maps", "frames", "plan", "brief"}},
    {"desk", {"document", "light", "plan", here, "door"}},
};
/// The page of the desk is no C++.
const std::set<std::string> not_cpp{"desk/page"};

std::vector<fs::path> files_under(const fs::path& folder, const std::set<std::string>& suffixes) {
    std::vector<fs::path> files;
    for (const auto& e : fs::recursive_directory_iterator(folder))
        if (e.is_regular_file() && suffixes.count(e.path().extension().string()) > 0) files.push_back(e.path());
    std::sort(files.begin(), files.end());
    return files;
}

std::vector<std::string> lines_of(const fs::path& path) {
    std::vector<std::string> lines;
    std::ifstream in(path);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

/// What a file includes, `mark` being '"' or '<'.
std::vector<std::string> includes_of(const fs::path& path, char mark) {
    std::vector<std::string> names;
    const std::regex wanted(std::string(R"(^\s*#\s*include\s*)") + mark + R"(([^">]+)[">])");
    for (const std::string& line : lines_of(path))
        if (std::smatch m; std::regex_search(line, m, wanted)) names.push_back(m[1]);
    return names;
}

int floor_of(const std::string& path) {
    const std::string first = path.substr(0, path.find('/'));
    const auto it = std::find(floors.begin(), floors.end(), first);
    return it == floors.end() ? -1 : static_cast<int>(it - floors.begin());
}

/// The place of a file among the rooms of its floor; -1 where the floor has no such room.
int room_of(const std::string& path, const std::vector<std::string>& order) {
    const std::size_t from = path.find('/') + 1, to = path.find('/', from);
    const std::string room = to == std::string::npos ? here : path.substr(from, to - from);
    const auto it = std::find(order.begin(), order.end(), room);
    return it == order.end() ? -1 : static_cast<int>(it - order.begin());
}

std::vector<fs::path> renderer_files() {
    return files_under(source / "renderer", {".h", ".cpp"});
}

TEST(Floors, NoneIncludesAHigherOne) {
    int includes = 0;
    for (const fs::path& file : renderer_files()) {
        const std::string name = fs::relative(file, source / "renderer").generic_string();
        ASSERT_GE(floor_of(name), 0) << name << " is on no floor";
        for (const std::string& other : includes_of(file, '"')) {
            ++includes;
            EXPECT_GE(floor_of(other), 0) << name << " includes \"" << other << "\" without its floor";
            EXPECT_LE(floor_of(other), floor_of(name)) << name << " includes " << other << " from a higher floor";
            EXPECT_TRUE(fs::exists(source / "renderer" / other)) << name << " includes " << other;
        }
    }
    EXPECT_GT(includes, 300);
}

TEST(Floors, NoRoomIncludesAHigherOne) {
    int includes = 0;
    for (const fs::path& file : renderer_files()) {
        const std::string name = fs::relative(file, source / "renderer").generic_string();
        const std::string floor = name.substr(0, name.find('/'));
        const auto order = rooms.find(floor);
        if (order == rooms.end()) continue;
        ASSERT_GE(room_of(name, order->second), 0) << name << " is in no room";
        for (const std::string& other : includes_of(file, '"')) {
            if (other.substr(0, other.find('/')) != floor) continue;
            ++includes;
            EXPECT_LE(room_of(other, order->second), room_of(name, order->second))
                << name << " includes " << other << " from a higher room";
        }
    }
    EXPECT_GT(includes, 300);
}

/// docs/architecture/house.svg, drawn by tools/draw_house.py.
TEST(Floors, TheHouseIsDrawnAsItStands) {
    std::set<std::string> stands, drawn;
    for (const char* floor : floors) {
        const auto own = rooms.find(floor);
        if (own == rooms.end()) stands.insert(std::string(floor) + "/" + here);
        if (own != rooms.end())
            for (const std::string& room : own->second) stands.insert(std::string(floor) + "/" + room);
    }
    const std::regex box(R"re(data-room="([^"]+)")re");
    for (const std::string& line : lines_of(source / "docs/architecture/house.svg"))
        if (std::smatch m; std::regex_search(line, m, box)) drawn.insert(m[1]);
    EXPECT_EQ(drawn, stands) << "run tools/draw_house.py";
}

TEST(Floors, NoFolderHoldsTooMany) {
    constexpr int most = 24;
    std::map<std::string, int> files;
    for (const char* tree : {"renderer", "tests"})
        for (const fs::path& file : files_under(source / tree, {".h", ".cpp"}))
            ++files[fs::relative(file.parent_path(), source).generic_string()];
    for (const auto& [folder, count] : files) EXPECT_LE(count, most) << folder;
}

TEST(Floors, TestsRepeatTheRooms) {
    for (const auto& [floor, order] : rooms)
        for (const auto& e : fs::directory_iterator(source / "tests" / floor)) {
            const std::string room = e.path().filename().string();
            const bool has_code = e.is_directory() && !files_under(e.path(), {".cpp"}).empty();
            if (!has_code || not_cpp.count(floor + "/" + room) > 0) continue;
            EXPECT_NE(std::find(order.begin(), order.end(), room), order.end())
                << "tests/" << floor << "/" << room << " is no room of renderer/" << floor;
        }
}

/// Library by library, the files or folders of renderer/ that docs/libraries.md lets see it.
std::map<std::string, std::vector<std::string>> places_in_the_docs() {
    std::map<std::string, std::vector<std::string>> places;
    const std::regex in_ticks("`([^`]+)`");
    for (const std::string& line : lines_of(source / "docs/libraries.md")) {
        std::vector<std::string> cells;
        std::size_t from = 0;
        for (std::size_t bar; (bar = line.find('|', from)) != std::string::npos; from = bar + 1)
            cells.push_back(line.substr(from, bar - from));
        if (cells.size() < 4) continue;
        const std::string& seen_by = cells[3];
        for (auto it = std::sregex_iterator(seen_by.begin(), seen_by.end(), in_ticks); it != std::sregex_iterator();
             ++it)
            places[cells[1]].push_back((*it)[1]);
    }
    return places;
}

TEST(Floors, ForeignLibrariesStayWhereTheDocsSay) {
    // Headers by how they begin, and the word in the docs' table that names their library.
    const std::pair<const char*, const char*> libraries[] = {{"embree", "Embree"},
                                                             {"OpenImageIO/", "OpenImageIO"},
                                                             {"tiny_obj_loader", "tinyobjloader"},
                                                             {"tbb/", "oneTBB"},
                                                             {"oneapi/", "oneTBB"},
                                                             {"toml++/", "toml++"},
                                                             {"date/", "Hinnant"},
                                                             {"CLI/", "CLI11"},
                                                             {"xxhash", "xxHash"},
                                                             {"nlopt", "NLopt"},
                                                             {"cairo", "cairo"},
                                                             {"pango/", "cairo"},
                                                             {"nlohmann/", "JSON for Modern"},
                                                             {"dnnl", "oneDNN"},
                                                             {"omp.h", "oneDNN"},
                                                             {"mpi.h", "MPI"},
                                                             {"png.h", "libpng"},
                                                             {"Imf", "OpenEXR"}};
    const auto places = places_in_the_docs();
    std::set<std::string> met;
    for (const fs::path& file : renderer_files()) {
        const std::string name = fs::relative(file, source / "renderer").generic_string();
        std::vector<std::string> foreign = includes_of(file, '<');
        for (const std::string& quoted : includes_of(file, '"')) foreign.push_back(quoted);
        for (const std::string& header : foreign)
            for (const auto& [begins, word] : libraries) {
                if (header.rfind(begins, 0) != 0) continue;
                const auto row = std::find_if(places.begin(), places.end(), [w = std::string(word)](const auto& p) {
                    return p.first.find(w) != std::string::npos;
                });
                ASSERT_NE(row, places.end()) << word << " has no row in docs/libraries.md";
                const bool allowed = std::any_of(row->second.begin(), row->second.end(), [&](const std::string& p) {
                    return p.back() == '/' ? name.rfind(p, 0) == 0 : name == p;
                });
                EXPECT_TRUE(allowed) << name << " includes <" << header << ">, which docs/libraries.md keeps elsewhere";
                met.insert(word);
            }
    }
    EXPECT_EQ(met.size(), 15U) << "a library that nobody includes any more, or a header that begins otherwise";
}

TEST(Floors, NoFileGrowsTooLong) {
    constexpr std::size_t longest = 420;
    for (const char* folder : {"renderer", "tests"})
        for (const fs::path& file : files_under(source / folder, {".h", ".cpp"}))
            EXPECT_LE(lines_of(file).size(), longest) << fs::relative(file, source);
}

TEST(Floors, TheTopOfTheTreeIsShort) {
    const std::set<std::string> wanted{"CMakeLists.txt", "DEVELOPERS.md", "README.md", "docs",
                                       "renderer",       "scenes",        "tests",     "tools"};
    std::set<std::string> found;
    for (const auto& e : fs::directory_iterator(source)) {
        const std::string name = e.path().filename().string();
        // What was built or drawn here is no part of the source.
        if (name.front() != '.' && name.rfind("build", 0) != 0 && name != "demo") found.insert(name);
    }
    EXPECT_EQ(found, wanted);
}

}  // namespace
}  // namespace rushlight
