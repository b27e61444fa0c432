// Plans are to scale: what a ruler says on paper is what stands in the file. And folders are written whole.
#include "pictures/plan/plan.h"
#include "pictures/draw/label_places.h"
#include "pictures/files/write_folder.h"
#include "quantity/units.h"
#include "setup/read/setup_file.h"

#include "pictures/brief/brief_room.h"
#include "pictures/files/scratch.h"

#include <cmath>
#include <fstream>
#include <regex>

namespace rushlight::testing_pictures {
namespace {

struct Path {
    std::vector<Point> points;
    double x0 = 1e9, y0 = 1e9, x1 = -1e9, y1 = -1e9;
};

/// Every path of an SVG of the vector library: "M x y L x y ... Z".
std::vector<Path> paths_of(const std::string& svg) {
    std::vector<Path> paths;
    const std::regex drawn(" d=\"([^\"]*)\""), pair("([-0-9.]+) ([-0-9.]+)");
    // Letters are paths too; they are defined before anything is drawn.
    const std::size_t from = svg.rfind("</defs>") == std::string::npos ? 0 : svg.rfind("</defs>");
    for (auto it = std::sregex_iterator(svg.begin() + static_cast<std::ptrdiff_t>(from), svg.end(), drawn);
         it != std::sregex_iterator(); ++it) {
        Path p;
        const std::string d = (*it)[1];
        for (auto point = std::sregex_iterator(d.begin(), d.end(), pair); point != std::sregex_iterator(); ++point) {
            const Point s{std::stod((*point)[1]), std::stod((*point)[2])};
            p.points.push_back(s);
            p.x0 = std::min(p.x0, s.x), p.x1 = std::max(p.x1, s.x);
            p.y0 = std::min(p.y0, s.y), p.y1 = std::max(p.y1, s.y);
        }
        paths.push_back(p);
    }
    return paths;
}

bool has_box(const std::vector<Path>& paths, double width, double height) {
    return std::any_of(paths.begin(), paths.end(), [&](const Path& p) {
        return std::abs(p.x1 - p.x0 - width) < 0.02 && std::abs(p.y1 - p.y0 - height) < 0.02;
    });
}

// 1 : 50 makes 2 m into 40 mm, and 40 mm are 113.386 points of 1/72 inch (1 in = 25.4 mm).
TEST(Plan, TwoMetresMeasureRight) {
    const auto setup = SetupFile::from_text(brief_room, "room.toml").setup();
    for (const int scale : {50, 100}) {
        PlanLook look;
        look.scale = scale;
        const std::string svg = plan_svg(setup, {720, 560}, look);
        const auto paths = paths_of(svg);
        const double metre = 1000.0 / scale / 25.4 * 72;
        EXPECT_TRUE(has_box(paths, 5 * metre, 4 * metre)) << "the room, 1 : " << scale;
        EXPECT_TRUE(has_box(paths, 2 * metre, 0.2 * metre)) << "a window 2 m wide in a wall 0.2 m thick";
        EXPECT_FALSE(has_box(paths, 2.2 * metre, 0.2 * metre));
        // The board stands turned: its ends lie 1.2 m apart.
        const bool board = std::any_of(paths.begin(), paths.end(), [&](const Path& p) {
            return p.points.size() == 2 &&
                   std::abs(std::hypot(p.points[0].x - p.points[1].x, p.points[0].y - p.points[1].y) - 1.2 * metre) <
                       0.02;
        });
        EXPECT_TRUE(board);
        EXPECT_NE(svg.find("720pt"), std::string::npos) << "a page that prints at its size";
    }
}

TEST(Plan, DrawsModelsInARoom) {
    auto setup = SetupFile::from_text(brief_room, "room.toml").setup();
    PlanLook look;
    look.scale = 50;
    const double metre = 1000.0 / look.scale / 25.4 * 72;
    EXPECT_FALSE(has_box(paths_of(plan_svg(setup, {720, 560}, look)), 1.4 * metre, 0.9 * metre));
    Triangles screen;  // four upright walls, 1.4 by 0.9 m
    for (const Vec3& corner : {Vec3(1.3F, 1.55F, 0), Vec3(2.7F, 1.55F, 0), Vec3(2.7F, 2.45F, 0), Vec3(1.3F, 2.45F, 0)})
        screen.positions.insert(screen.positions.end(), {corner, corner + Vec3(0, 0, 2)});
    for (std::uint32_t i = 0; i < 4; ++i) {
        const std::uint32_t a = 2 * i, b = 2 * ((i + 1) % 4);
        screen.faces.push_back({{a, b, b + 1}, 0});
        screen.faces.push_back({{a, b + 1, a + 1}, 0});
    }
    setup.place.models.push_back({"screen", std::make_shared<const Triangles>(screen), {2, 2, 0}});
    EXPECT_TRUE(has_box(paths_of(plan_svg(setup, {720, 560}, look)), 1.4 * metre, 0.9 * metre));
}

TEST(Plan, TakesTheLargestUsualScaleThatFits) {
    const auto setup = SetupFile::from_text(brief_room, "room.toml").setup();
    PlanLook look;
    const int large = plan_scale(setup, {720, 640}, look), small = plan_scale(setup, {360, 320}, look);
    EXPECT_EQ(large, 25);
    EXPECT_GT(small, large);
    look.units = BriefUnits::imperial;
    EXPECT_EQ(plan_scale(setup, {720, 640}, look), 24) << "half an inch to the foot";
    const std::string words = plan_in_words(setup, {});
    for (const char* said : {"half orange + nd 0.3", "at 2.00 m", "1.2 × 2.4 m", "25 % (−2.0 stops)"})
        EXPECT_NE(words.find(said), std::string::npos) << said << " in " << words;
}

TEST(LabelPlaces, KeepOffEachOther) {
    LabelPlaces places({0, 0, 500, 400});
    std::vector<PaperBox> boxes;
    // A dozen lamps as close as a rig has them.
    for (int i = 0; i < 12; ++i) {
        const auto found =
            places.place({220.0 + 12 * (i % 4), 180.0 + 14.0 * (i / 4)}, 6, {80, 30}, LabelPlaces::Wanted::always);
        ASSERT_TRUE(found);
        boxes.push_back(found->box);
    }
    for (std::size_t a = 0; a < boxes.size(); ++a) {
        EXPECT_GE(boxes[a].x0, 0);
        EXPECT_LE(boxes[a].y1, 400);
        for (std::size_t b = 0; b < a; ++b) EXPECT_LT(boxes[a].shared_area(boxes[b]), 1) << a << " over " << b;
    }
    EXPECT_FALSE(LabelPlaces({0, 0, 50, 20}).place({25, 10}, 2, {80, 30}, LabelPlaces::Wanted::clear))
        << "no room, and it need not be there";
}

// A leader goes to the edge of its own sign, and round everybody else's.
TEST(LabelPlaces, LeadersEndAtTheirSignAndCrossNone) {
    LabelPlaces places({0, 0, 400, 300});
    const Point at{200, 150};
    places.keep_off({190, 140, 210, 160}, LabelPlaces::What::sign);
    // A ring of other signs with one gap, to the right; words 60 wide do not fit inside it.
    for (int i = 1; i < 16; ++i) {
        const double turn = 2 * pi * i / 16, x = at.x + 32 * std::cos(turn), y = at.y + 32 * std::sin(turn);
        places.keep_off({x - 7, y - 7, x + 7, y + 7}, LabelPlaces::What::sign);
    }
    const auto found = places.place(at, 10, {60, 16}, LabelPlaces::Wanted::clear);
    ASSERT_TRUE(found && found->leader);
    EXPECT_GT(found->box.x0, 232) << "through the gap";
    EXPECT_NEAR(found->leader->to.x, 210, 1e-9);
    for (const LabelPlaces::Taken& t : places.taken()) {
        if (t.what != LabelPlaces::What::sign) continue;
        EXPECT_FALSE(within(t.box, found->leader->from, found->leader->to));
        EXPECT_EQ(t.box.shared_area(found->box), 0);
    }
}

/// What hides or crosses what on a plan, in words.
std::vector<std::string> clashes_on(const LabelPlaces& plan) {
    using What = LabelPlaces::What;
    constexpr double touches = 0.5;  // pt and square points
    std::vector<std::string> all;
    const auto& taken = plan.taken();
    // Each dimension line is noted right after its own words, which stand on it.
    std::size_t dimensions_end = 0;
    for (std::size_t i = 0; i < taken.size(); ++i)
        if (taken[i].what == What::dimension) dimensions_end = i;
    for (std::size_t i = 0; i < taken.size(); ++i) {
        if (taken[i].what != What::words || i < dimensions_end) continue;
        for (std::size_t k = 0; k < taken.size(); ++k) {
            const What other = taken[k].what;
            const bool matters = other == What::sign || other == What::edge || other == What::dimension ||
                                 (other == What::words && k < i);
            if (matters && taken[i].box.shared_area(taken[k].box) > touches)
                all.push_back("words over " + std::to_string(static_cast<int>(other)));
        }
    }
    for (const LabelPlaces::Leader& l : plan.leaders())
        for (const LabelPlaces::Taken& t : taken) {
            if (t.what != What::sign && t.what != What::words) continue;
            const auto part = within(t.box, l.from, l.to);
            if (part && (part->second - part->first) * std::hypot(l.to.x - l.from.x, l.to.y - l.from.y) > touches)
                all.push_back("a leader across " + std::to_string(static_cast<int>(t.what)));
        }
    return all;
}

// Narrow rooms full of people, lamps, boards and flags, as large as a page leaves them beside tables, and larger.
TEST(Plan, NamesHideNeitherEachOtherNorSignsNorDimensions) {
    int plans = 0;
    for (const char* scene : {"kitchen-night", "river-gauge", "last-borrower"}) {
        const SetupFile file = SetupFile::read(std::string(RUSHLIGHT_SOURCE "/scenes/") + scene + ".toml");
        for (const std::string& name : file.setup_names()) {
            const std::string option = file.option_names(name).back();
            for (const auto& [size, tables] : {std::pair{PaperSize{510, 318}, true}, {{720, 548}, false}}) {
                Paper paper(Paper::Kind::svg, size.width, size.height);
                PlanLook look;
                look.tables = tables;
                const LabelPlaces drawn =
                    draw_plan(paper, {0, 0, size.width, size.height}, file.setup(name, option), look);
                ++plans;
                for (const std::string& clash : clashes_on(drawn))
                    ADD_FAILURE() << scene << ", " << name << ", " << option << ", " << size.width
                                  << " wide: " << clash;
            }
        }
    }
    EXPECT_EQ(plans, 20);
}

TEST(WriteFolder, IsThereWholeOrAsItWas) {
    const Scratch scratch;
    const auto folder = scratch / "brief";
    write_folder(folder, {{"a.txt", "one"}, {"b.txt", "two"}});
    EXPECT_EQ(bytes_of(folder / "a.txt"), "one");
    EXPECT_EQ(strangers_in(folder, {"a.txt"}), std::vector<std::string>{"b.txt"});
    write_folder(folder, {{"a.txt", "three"}});
    EXPECT_EQ(bytes_of(folder / "a.txt"), "three");
    EXPECT_FALSE(std::filesystem::exists(folder / "b.txt")) << "what an earlier one left is gone";
    EXPECT_THROW(write_folder(folder, {{"a.txt", "four"}, {"no/such/folder.txt", "five"}}), OutputError);
    EXPECT_EQ(bytes_of(folder / "a.txt"), "three");
    EXPECT_EQ(scratch.files(), 1U) << "nothing half written beside it";
    std::ofstream(scratch / "file") << "a file";
    EXPECT_THROW(expect_folder_writable(scratch / "file"), OutputError);
    EXPECT_THROW(expect_folder_writable(scratch / "none" / "brief"), OutputError);
    EXPECT_THROW(expect_folder_writable("."), OutputError);
    EXPECT_THROW(expect_folder_writable("/"), OutputError);
}

}  // namespace
}  // namespace rushlight::testing_pictures
