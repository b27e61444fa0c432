// Targets that were planted must be found again, and those that cannot be met must be told apart from them.
#include "results/balance/balance.h"
#include "results/balance/level_solver.h"
#include "results/readings/readings.h"
#include "results/rooms.h"
#include "rooms_as_text.h"
#include "setup/plain/target.h"
#include "setup/text/where.h"

#include <random>

namespace rushlight {
namespace {

using namespace rooms;

LevelTarget target_for(const std::vector<double>& gives, double fixed, double wanted) {
    LevelTarget t;
    t.over = gives;
    t.over_fixed = fixed;
    t.wanted = wanted;
    return t;
}

TEST(LevelSolver, FindsPlantedLevels) {
    std::mt19937 random(5);
    std::uniform_real_distribution<double> light(0, 300), level(-5, 0);
    for (int trial = 0; trial < 50; ++trial) {
        LevelProblem p;
        std::vector<double> planted;
        for (int i = 0; i < 4; ++i) {
            planted.push_back(std::exp2(level(random)));
            p.now.push_back(std::exp2(level(random)));
            p.least.push_back(0.01);
            p.most.push_back(1);
        }
        for (int k = 0; k < 4; ++k) {
            LevelTarget t =
                target_for({light(random), light(random), light(random), light(random)}, light(random) / 10, 0);
            if (k == 3) {  // a ratio
                t.under = {light(random), light(random), light(random), light(random)};
                t.under_fixed = 5;
            }
            t.within = 0.1;
            t.wanted = t.value(planted, 0);
            p.targets.push_back(t);
        }
        const LevelAnswer a = solve_levels(p);
        EXPECT_LE(a.worst, 0.51) << trial;
        // No more is changed than the planted answer changes.
        double changed = 0, by_planted = 0;
        for (std::size_t i = 0; i < 4; ++i) {
            EXPECT_GE(a.levels[i], 0.0099);
            EXPECT_LE(a.levels[i], 1.0001);
            changed += std::pow(std::log2(a.levels[i] / p.now[i]), 2);
            by_planted += std::pow(std::log2(planted[i] / p.now[i]), 2);
        }
        EXPECT_LE(changed, by_planted * 1.001 + 1e-6) << trial;
    }
}

TEST(LevelSolver, LeavesWhatIsRightAndSaysWhatCannotBe) {
    LevelProblem p;
    p.now = {0.5, 0.5};
    p.least = {0.01, 0.01};
    p.most = {1, 1};
    p.targets = {target_for({100, 10}, 0, std::log2(55))};
    EXPECT_EQ(solve_levels(p).levels, p.now);
    // 110 is the most there is: 220 is a stop more.
    p.targets = {target_for({100, 10}, 0, std::log2(220))};
    const LevelAnswer a = solve_levels(p);
    EXPECT_NEAR(a.levels[0], 1, 1e-6);
    EXPECT_EQ(a.levels[1], 0.5);                             // the five it could add are 0.07 stops: not worth a hand
    EXPECT_NEAR(a.worst, 3 * std::log2(220.0 / 105), 1e-3);  // in thirds
    // A floor that is passed is no reason to do anything.
    p.targets[0].wanted = std::log2(20);
    p.targets[0].at_least = true;
    EXPECT_EQ(solve_levels(p).levels, p.now);
    // The stop may help where it is allowed to.
    p.targets = {target_for({100, 10}, 0, std::log2(220))};
    p.targets[0].by_stop = -1;
    p.stop_least = -3;
    p.stop_most = 3;
    EXPECT_LE(solve_levels(p).worst, 0.51);
}

// Where one target is out of reach, one that is met stays met, and lamps that bring the other no nearer stay.
TEST(LevelSolver, KeepsWhatIsMet) {
    LevelProblem p;
    p.now = {0.5, 0.5, 0.5};
    p.least = {0.01, 0.01, 0.01};
    p.most = {1, 1, 1};
    // Met: 100 of the first, 10 of the second. Hopeless: eight times what the second can give at most.
    p.targets = {target_for({100, 10, 0}, 0, std::log2(55)), target_for({20, 40, 0}, 5, std::log2(480))};
    p.targets[0].keep = true;
    const LevelAnswer a = solve_levels(p);
    EXPECT_LE(std::abs(p.targets[0].off(a.levels, 0)), p.targets[0].within);
    EXPECT_GT(a.levels[1], 0.95);  // it helps, and costs the first nothing that is noticed
    EXPECT_EQ(a.levels[2], 0.5);   // it does nothing
    LevelProblem free = p;
    free.targets[0].keep = false;  // without that, the one that is met is given up
    EXPECT_GT(std::abs(free.targets[0].off(solve_levels(free).levels, 0)), p.targets[0].within);
    // A gain that nobody would notice is no reason to touch anything.
    p.targets[1] = target_for({0, 1, 0}, 10, std::log2(80));
    EXPECT_EQ(solve_levels(p).levels, p.now);
}

// Two lamps of 400 W on a circuit that carries 500: what one gains, the other has to give up.
TEST(LevelSolver, KeepsWhatACircuitCarries) {
    LevelProblem p;
    p.now = {0.5, 0.5};
    p.least = {0.01, 0.01};
    p.most = {1, 1};
    p.loads = {{{400, 400}, {1, 1}, 500}};
    p.targets = {target_for({100, 0}, 0, std::log2(95))};  // 95 % of the first: 380 W
    const LevelAnswer reached = solve_levels(p);
    EXPECT_LE(reached.worst, 0.51);
    EXPECT_LE(p.loads[0].watts_at(reached.levels), 500.5);
    // Both near full cannot be: the load is kept, and both are off alike.
    p.targets.push_back(target_for({0, 100}, 0, std::log2(95)));
    const LevelAnswer missed = solve_levels(p);
    EXPECT_NEAR(p.loads[0].watts_at(missed.levels), 500, 1);
    EXPECT_NEAR(missed.levels[0], 0.625, 0.01);
    EXPECT_NEAR(missed.levels[1], 0.625, 0.01);
    // A filament at half its light draws 2^-(1.6 / 3.4) of its watts.
    EXPECT_NEAR((LevelLoad{{1000}, {1.6 / 3.4}, 0}.watts_at({0.5})), 721.6, 0.5);
    // What carries nothing: everything on it at its lowest.
    p.loads[0].most = -100;
    EXPECT_NEAR(solve_levels(p).levels[0], 0.01, 1e-9);
}

TEST(Wants, AreReadAsTheTradeSaysThem) {
    using Kind = Want::Kind;
    using Side = Want::Side;
    const std::tuple<const char*, Kind, double, Side, double, const char*> said[] = {
        {"T4", Kind::t_stop, 4, Side::exact, 1.0 / 3, ""},
        {"t5.6 within 1/4", Kind::t_stop, 5.6, Side::exact, 0.25, ""},
        {"400 lx", Kind::lux, 400, Side::exact, 1.0 / 3, ""},
        {"4:1", Kind::ratio, 2, Side::exact, 1.0 / 3, ""},
        {"2 stops within 0.2 stops", Kind::ratio, 2, Side::exact, 0.2, ""},
        {"hair 1 stop over", Kind::over, 1, Side::exact, 1.0 / 3, ""},
        {"window at most 3 over", Kind::over, 3, Side::at_most, 1.0 / 3, ""},
        {"at least 2 under", Kind::over, -2, Side::at_most, 1.0 / 3, ""},
        {"1.5 under B near cheek", Kind::over, -1.5, Side::exact, 1.0 / 3, "b near cheek"},
        {"match 3 over B within 1/3", Kind::match, 0, Side::exact, 1.0 / 3, "3 over b"},
        {"match set-up B within 1/2", Kind::match, 0, Side::exact, 0.5, "b"},
        {"5600 K within 30 mired", Kind::kelvin, 5600, Side::exact, 30, ""}};
    for (const auto& [text, kind, value, side, within, other] : said) {
        const auto w = want_from(text);
        ASSERT_TRUE(w) << text;
        EXPECT_EQ(w->kind, kind) << text;
        if (kind != Kind::match) {
            EXPECT_NEAR(w->value, value, 1e-9) << text;
        }
        EXPECT_EQ(w->side, side) << text;
        EXPECT_NEAR(w->within, within, 1e-9) << text;
        EXPECT_EQ(w->other, other) << text;
    }
    for (const char* text : {"", "T", "Tx", "T4 5", "bright", "4", "4:0", "0:1", "-3 lx", "1 over within 0", "match",
                             "99 over", "5600 K within 1 stop", "T4 within", "1e9 lx", "nan over", "4:1:2"})
        EXPECT_FALSE(want_from(text)) << text;
}

std::string with_targets(const std::string& targets) {
    return two_lamps + targets;
}

TEST(Balance, ReachesWhatWasPlanted) {
    // Readings of a rig that somebody set by hand...
    rushlight::Setup planted = setup_of(two_lamps);
    planted.rig.lamps[0].level = 0.9;
    planted.rig.lamps[1].level = 0.2;
    const Sheet sheet = take_readings(planted, build_scene(planted), effort(0.005, 50));
    const auto lx = [&](const char* name) { return std::to_string(named(sheet, name).lux.value) + " lx within 0.05"; };
    // ...asked for in words.
    const rushlight::Setup s =
        setup_of(with_targets("[[target]]\nreading = \"table\"\nwant = \"" + lx("table") +
                              "\"\n[[target]]\nreading = \"A front\"\nwant = \"" + lx("A front") + "\"\n"));
    const Balance b = balance(s, {}, effort(0.005), LayerCache(std::filesystem::path()));
    EXPECT_TRUE(b.all_reached);
    for (const TargetResult& t : b.targets) {
        EXPECT_TRUE(t.reached) << t.name;
        EXPECT_LE(std::abs(t.after.value - t.wanted), 0.05 + 2 * t.after.error) << t.name;
        EXPECT_NEAR(t.after.value, t.reckoned, 4 * std::hypot(t.after.error, 0.01)) << t.name;
        EXPECT_LT(t.after.error, 0.01);
    }
    EXPECT_GT(std::abs(b.targets[0].before.value - b.targets[0].wanted), 0.3);
    EXPECT_NEAR(std::log2(b.lamps[0].after / 0.9), 0, 0.3);
    EXPECT_NEAR(std::log2(b.lamps[1].after / 0.2), 0, 0.3);
    // What was told is what the set-up as set has.
    const rushlight::Setup set = as_set(s, b);
    EXPECT_EQ(set.rig.lamps[0].level, b.lamps[0].after);
    EXPECT_EQ(set.rig.lamps[2].on, false);
}

TEST(Balance, SaysWhatStopsIt) {
    const rushlight::Setup s =
        setup_of(with_targets("[[target]]\nreading = \"A front\"\nwant = \"T45\"\n[balance]\nlamps = [\"key\"]\n"));
    const Balance b = balance(s, {}, effort(0.02), LayerCache(std::filesystem::path()));
    EXPECT_FALSE(b.all_reached);
    EXPECT_NE(b.targets.at(0).limit.find("'key' is at full"), std::string::npos) << b.targets.at(0).limit;
    EXPECT_EQ(b.lamps.size(), 1U);
    EXPECT_NEAR(b.lamps[0].after, 1, 1e-3);
    EXPECT_THROW(balance(setup_of(with_targets("[[target]]\nreading = \"C key cheek\"\nwant = \"T4\"\n")), {},
                         effort(0.1), LayerCache(std::filesystem::path())),
                 InputError);
    EXPECT_THROW(setup_of(with_targets("[[target]]\nreading = \"A front\"\nwant = \"brighter\"\n")), InputError);
}

// ND on the windows is put on every pane: at a slant it takes more than its stops, which only a trace knows.
TEST(Balance, PutsNdOnWindowsAndGelsOnLamps) {
    const rushlight::Setup s = setup_of(with_targets(
        "[[target]]\nreading = \"A near cheek\"\nwant = \"at most 40 lx\"\n"
        "[[target]]\nreading = \"table\"\nwant = \"6500 K within 40 mired\"\n[balance]\ngels = true\nnd = true\n"));
    const Balance b = balance(s, {}, effort(0.01), LayerCache(std::filesystem::path()));
    bool gelled = false;
    for (const LampSetting& l : b.lamps) gelled = gelled || !l.gel.empty();
    EXPECT_TRUE(gelled || b.nd > 0);
    for (const TargetResult& t : b.targets) {
        if (t.reached) {
            EXPECT_TRUE(t.limit.empty());
        }
        EXPECT_NEAR(t.after.value, t.reckoned, t.colour ? 6 : 0.06) << t.name;
    }
}

// A lamp too far away for the stop that is wanted, that may come nearer: as near as the inverse square asks for.
TEST(Balance, PutsALampWhereItReaches) {
    const std::string dark_room =
        testing_rooms::black_room("12", "6", "4") +
        "[[meter]]\nname = \"there\"\nat = [9, 3, 1.5]\nfacing = [0, 3, 1.5]\n"
        "[[lamp]]\nname = \"key\"\nshape = \"hard\"\nat = [1, 3, 1.5]\naim = [9, 3, 1.5]\noutput = \"1600 cd\"\n"
        "[[target]]\nreading = \"there\"\nwant = \"100 lx within 0.1\"\n";  // 25 lx at full where it stands
    const Balance fixed = balance(setup_of(dark_room), {}, effort(0.01), LayerCache(std::filesystem::path()));
    EXPECT_FALSE(fixed.all_reached);
    EXPECT_TRUE(fixed.moves.empty());
    const rushlight::Setup s = setup_of(dark_room + "[[balance.move]]\nname = \"key\"\nto = [7, 3, 1.5]\n");
    const Balance b = balance(s, {}, effort(0.01), LayerCache(std::filesystem::path()));
    EXPECT_TRUE(b.all_reached);
    ASSERT_EQ(b.moves.size(), 1U);
    // E = I / d^2 with half the tolerance to spare: d = 4 m times 2^(0.05 / 2), to 5 cm.
    EXPECT_NEAR(9 - b.moves[0].to.x, 4 * std::exp2(0.025), 0.06);
    EXPECT_THROW(balance(setup_of(dark_room + "[[balance.move]]\nname = \"kay\"\nto = [7, 3, 1.5]\n"), {}, effort(0.05),
                         LayerCache(std::filesystem::path())),
                 InputError);
}

// Hair that no lamp of the set-up lights: levels stay, and a lamp of the kit is put where a hair light goes: behind the
// face, above it, out of the picture, and with it the target is reached by a fresh trace.
TEST(Balance, SaysWhichLampIsMissingAndWhere) {
    const auto without_the_one_behind = [](rushlight::Setup s) {
        s.rig.lamps.erase(s.rig.lamps.begin() + 1);
        return s;
    };
    const rushlight::Setup as_lit = without_the_one_behind(setup_of(two_lamps));
    const double lux = named(take_readings(as_lit, build_scene(as_lit), effort(0.01)), "A front").lux.value;
    const rushlight::Setup s =
        without_the_one_behind(setup_of(with_targets("[[target]]\nreading = \"A hair\"\nwant = \"1 over\"\n"
                                                     "[[target]]\nreading = \"A front\"\nwant = \"" +
                                                     std::to_string(lux) + " lx within 1/4\"\n")));
    const LayerCache none{std::filesystem::path()};
    const auto kit = Kit::catalogue();
    const Balance b = balance(s, {}, effort(0.02), none, kit.get());
    EXPECT_FALSE(b.all_reached);
    EXPECT_TRUE(b.targets.at(1).reached);
    EXPECT_EQ(b.lamps.at(0).after, b.lamps.at(0).before);
    ASSERT_EQ(b.missing.size(), 1U);
    const MissingLamp& m = b.missing[0];
    EXPECT_EQ(m.job, LampJob::hair);
    EXPECT_EQ(m.person, "A");
    EXPECT_NE(kit->item(m.lamp.kit_item), nullptr);
    // A faces +x, the lens looks along -x: behind is at smaller x. 45 degrees up, no more than 60 (lighting textbooks).
    const Vec3 way = m.place.at - m.place.aimed_at;
    EXPECT_LT(way.x, 0);
    EXPECT_NEAR(std::asin(way.z / way.length()) * 180 / pi, m.place.up, 0.01);
    EXPECT_GE(m.place.up, 30);
    EXPECT_LE(m.place.up, 60);
    EXPECT_GE(m.place.distance, 1);
    EXPECT_LE(m.place.distance, 3);
    EXPECT_TRUE(m.place.at.x > 0 && m.place.at.y > 0 && m.place.at.y < 4 && m.place.at.z < 2.7);
    // By a projection of our own: 50 mm before 24.9 mm by 14 mm, the lens at (4.5, 1.5, 1.5) looking at the face.
    const Vec3 lens(4.5, 1.5, 1.5), forward = (m.place.aimed_at - lens).normalized();
    const Vec3 out = (m.place.at - lens).normalized();
    EXPECT_GT(std::acos(out.dot(forward)) * 180 / pi, std::atan(7.0 / 50) * 180 / pi);
    ASSERT_TRUE(b.with_those);
    EXPECT_TRUE(b.with_those->all_reached);
    const auto hair = std::find_if(b.with_those->lamps.begin(), b.with_those->lamps.end(),
                                   [&](const LampSetting& l) { return l.lamp == m.lamp.name; });
    ASSERT_NE(hair, b.with_those->lamps.end());
    EXPECT_EQ(hair->before, 0);
    EXPECT_GT(hair->after, 0);
}

// In an eye the lamp shows where the law of mirrors has it: a tenth of a stop on the face is all that it may cost.
TEST(Balance, SaysWhereAnEyeLightWouldGo) {
    const rushlight::Setup s = setup_of(two_lamps);
    const LayerCache none{std::filesystem::path()};
    const MissingLamp m = eye_light_for(s, 0, *Kit::catalogue(), effort(0.02), none);
    EXPECT_TRUE(m.brings_it) << m.trouble;
    ASSERT_TRUE(m.over_iris);
    EXPECT_GE(*m.over_iris, 1.5);
    EXPECT_LE(m.lamp.width, 0.65);
    const auto front_of = [&](const rushlight::Setup& setup) {
        return named(take_readings(setup, build_scene(setup), effort(0.005)), "A front").lux;
    };
    rushlight::Setup with = s;
    with.rig.lamps.push_back(m.lamp);
    const Measured added = stops_between(front_of(s), front_of(with));
    EXPECT_GT(added.value, 0.03);
    EXPECT_LE(added.value, 0.1 + 2 * added.error + 0.03);  // and what it lights the room by
}

// What a lamp draws is counted: with another hundred watts on the circuit it stays under what reaches the stop.
TEST(Balance, StaysWithinTheCircuit) {
    const std::string room = with_targets(
        "[[target]]\nreading = \"table\"\nwant = \"T22\"\n[balance]\nlamps = [\"key\"]\n"
        "[[circuit]]\nname = \"wall\"\nvolts = 100\namps = 5\nother = 300\n");
    rushlight::Setup s = setup_of(room);
    s.rig.lamps[0].circuit = "wall";
    s.rig.lamps[0].watts = 200;
    const Balance b = balance(s, {}, effort(0.02), LayerCache(std::filesystem::path()));
    EXPECT_FALSE(b.all_reached);
    EXPECT_NEAR(b.lamps[0].after, 0.5, 0.005);  // 80 % of 500 W, less 300, is half of 200
    EXPECT_NE(b.targets.at(0).limit.find("circuit 'wall' carries no more"), std::string::npos) << b.targets.at(0).limit;
}

}  // namespace
}  // namespace rushlight
