// The ways in which real photometric files break the rules (common practice, no source), each as a small invented
// file: refused in one line that says where, or read with a remark that says what was made of it.
#include "setup/luminaire/luminaire.h"
#include "setup/text/where.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <set>
#include <string>
#include <vector>

namespace rushlight {
namespace {

namespace fs = std::filesystem;

const fs::path folder = fs::path(RUSHLIGHT_SOURCE) / "tests/setup/luminaires";

struct Habit {
    std::string file;
    std::string refusal;                 // empty: it is read
    std::vector<std::string> remarks{};  // to the letter
};

const std::vector<Habit>& habits() {
    static const std::vector<Habit> all{
        {"absolute-but-thousand.ies",
         "",
         {"line 4: the file is of absolute photometry, but its table adds to 1000 lm as relative files do; give output "
          "if that is not the lamp's light"}},
        {"all-planes-written.ldt",
         "",
         {"line 43: all planes are written although the symmetry needs fewer; the needed ones are taken"}},
        {"angles-fall.ies", "angles-fall.ies:6: found vertical angle 22.5 after 45, expected angles that rise"},
        {"angles-repeat.ies", "angles-repeat.ies:6: found vertical angle 22.5 after 22.5, expected angles that rise"},
        {"ballast-zero.ies", "", {"line 4: the ballast factor is 0; 1 is taken"}},
        {"begins-late.ies", "", {"line 6: the vertical angles begin at 5; the first value is taken to hold from 0 on"}},
        {"binary.ies", "binary.ies:2: found a byte 0x00, expected the text of a photometric file"},
        {"count-fraction.ies",
         "count-fraction.ies:4:8: found '5.5', expected the number of vertical angles, a whole number"},
        {"count-huge.ies",
         "count-huge.ies:4: found 1999 by 1999 angles, expected no more than 500000 intensities in all"},
        {"count-in-words.ldt",
         "count-in-words.ldt:4: found 'many', expected the number of C planes (Mc), between 1 and 2000"},
        {"count-negative.ies",
         "count-negative.ies:4:8: found '-5', expected the number of vertical angles, between 2 and 2000"},
        {"counts-lie.ies",
         "counts-lie.ies:8: the file ends too early: expected 31 numbers for 7 vertical and 3 horizontal angles with "
         "their candela, and 11 stand here"},
        {"cut-short.ldt", "cut-short.ldt:20: the file ends here, expected the number of lamp sets on line 26"},
        {"decimal-commas.ldt", ""},
        {"edition-1986.ies", ""},
        {"edition-missing.ies", "", {"line 1: the first line does not name the edition; read as LM-63-1991"}},
        {"edition-misspelt.ies",
         "",
         {"line 1: the edition 'IESNA LM-63-1995' is not written as the standard has it; read as LM-63-1995"}},
        {"empty.ies", "empty.ies:1: the file is empty"},
        {"ends-early.ies", "", {"line 6: the vertical angles end at 87.5; it is dark beyond"}},
        {"feet-as-metres.ies", "", {"the opening is 4 m long; is its unit right?"}},
        {"from-c90.ldt", "", {"line 43: only the planes that are written are listed"}},
        {"gamma-falls.ldt", "gamma-falls.ldt:44: found gamma angle 22.5 after 45, expected angles that rise"},
        {"half-turn.ldt", "half-turn.ldt:43: found C planes from 0 to 180, expected a whole turn for symmetry 0"},
        {"header-cut.ies", "header-cut.ies:4: the file ends here, expected the width of the opening"},
        {"labels-after-tilt.ies", "", {"line 4: labels after TILT=; passed over"}},
        {"latin-1-carriage-returns.ies", ""},
        {"lm-63-in-disguise.ldt", "", {"this is LM-63 under the name of a EULUMDAT file; read as LM-63"}},
        {"measured-tilted.ldt", "", {"line 25: it was measured tilted by 15 degrees; the table is used as it stands"}},
        {"more-than-its-lamps.ies",
         "",
         {"line 4: the table adds to 3101 lm, 155.1 % of what its lamps give; a luminaire cannot give more than its "
          "lamps"}},
        {"multiplier-negative.ies",
         "multiplier-negative.ies:4: found a candela multiplier of -2, expected one above zero"},
        {"multiplier-zero.ies", "", {"line 4: the candela multiplier is 0; 1 is taken"}},
        {"negative-candela.ies", "", {"line 8: 2 of the intensities that begin here are negative; taken as dark"}},
        {"no-conversion.ldt", "", {"line 24: no conversion factor; 1 is taken"}},
        {"no-light.ies", "no-light.ies:8: found no light: every intensity is zero"},
        {"no-lumens.ldt", "", {"line 29: no lumens of the lamps; 1000 lm are taken, give output to say better"}},
        {"no-tilt.ies", "no-tilt.ies:7: the file ends without a line TILT=, expected a photometric file (LM-63)"},
        {"one-number-too-few.ies",
         "one-number-too-few.ies:8: the file ends too early: expected 11 numbers for 5 vertical and 1 horizontal "
         "angles with their candela, and 10 stand here"},
        {"one-number-too-few.ldt",
         "one-number-too-few.ldt:52: the file ends too early: expected 11 numbers from line 43 on for 1 C planes of 5 "
         "angles and symmetry 1, and 10 stand here"},
        {"one-number-too-many-within.ies",
         "one-number-too-many-within.ies:12:18: found '0', expected an end: 5 vertical and 5 horizontal angles make 35 "
         "numbers with their candela, and 36 stand here"},
        {"one-number-too-many.ies",
         "one-number-too-many.ies:8:20: found '0', expected an end: 5 vertical and 1 horizontal angles make 11 numbers "
         "with their candela, and 12 stand here"},
        {"one-number-too-many.ldt",
         "one-number-too-many.ldt:54:1: found '0', expected 11 numbers from line 43 on for 1 C planes of 5 angles and "
         "symmetry 1, and 12 stand here"},
        {"only-written-planes-listed.ldt", "", {"line 43: only the planes that are written are listed"}},
        {"opening-endless.ies", "", {"the opening is 300 m long, which cannot be; its size is left aside"}},
        {"plain.ies", ""},
        {"plain.ldt", ""},
        {"planes-disagree.ies",
         "",
         {"line 7: the planes at 0 and 360 degrees are one, but differ by 20 %; each is used up to there"}},
        {"planes-odd.ldt", "planes-odd.ldt:4: found 6 C planes, expected a multiple of 4 for symmetry 4"},
        {"planes-stop-at-270.ies", "", {"line 7: the horizontal angles end at 270; the plane at 0 closes the turn"}},
        {"planes-stop-at-80.ies",
         "planes-stop-at-80.ies:7: found horizontal angles from 0 to 80, expected 0 to 90, 180 or 360, or 90 to 270"},
        {"prose.ies", "prose.ies:2: the file ends without a line TILT=, expected a photometric file (LM-63)"},
        {"ratio-does-not-fit.ldt",
         "",
         {"line 23: the table adds to 99 % of what its lamps give, but the file says 60 %"}},
        {"symmetry-unknown.ldt", "symmetry-unknown.ldt:3: found '7', expected the symmetry (Isym), between 0 and 4"},
        {"tilt-beside.ies", ""},
        {"tilt-empty.ies", "", {"line 3: TILT= says nothing; read as NONE"}},
        {"tilt-falling.ies", "tilt-falling.ies:6: found tilt angle 45 after 60, expected angles that rise"},
        {"tilt-in-labels.ies", "", {"line 3: TILT= stands on 2 lines; this one counts"}},
        {"tilt-not-there.ies",
         "",
         {"line 3: there is no tilt file 'lost.tlt' beside it; its light is taken to be the same however it is "
          "tilted"}},
        {"trailing-text.ies", "", {"line 9: text after the last number; passed over"}},
        {"trailing-text.ldt", "", {"line 54: text after the last number; passed over"}},
        {"two-sets.ldt", "", {"line 26: 2 sets of lamps; the first is taken"}},
        {"type-b-one-plane.ies",
         "type-b-one-plane.ies:7: found one horizontal angle, expected two or more in photometric type B or A"},
        {"type-by-mistake.ies",
         "",
         {"line 4: the photometric type is 2, but the angles are those of type C; read as type C"}},
        {"type-c-below-zero.ies",
         "type-c-below-zero.ies:6: found vertical angle -90, expected between 0 and 180 in photometric type C"},
        {"type-unknown.ies",
         "",
         {"line 4: the photometric type is 7, but the angles are those of type C; read as type C"}},
        {"unit-unknown.ies", "", {"line 4: the unit of length is 0; taken as metres"}},
        {"up.ies", ""},
        {"utf-16.ies", "utf-16.ies:1: found UTF-16, expected plain text: save the file as UTF-8"},
        {"word-among-candela.ies",
         "word-among-candela.ies:8:10: found 'many', expected 11 numbers for 5 vertical and 1 horizontal angles with "
         "their candela, and 8 stand here"},
    };
    return all;
}

class AnyLuminaire : public testing::TestWithParam<Habit> {};

TEST_P(AnyLuminaire, IsReadOrRefusedInOneLine) {
    std::string refusal;
    std::vector<std::string> remarks;
    try {
        remarks = read_luminaire((folder / GetParam().file).string()).remarks;
    } catch (const InputError& error) {
        refusal = error.what();
        const std::string path = folder.string() + "/";
        if (refusal.rfind(path, 0) == 0) refusal.erase(0, path.size());
    }
    EXPECT_EQ(refusal, GetParam().refusal);
    EXPECT_EQ(remarks, GetParam().remarks);
    for (const std::string& r : remarks) EXPECT_EQ(r.find('\n'), std::string::npos);
    EXPECT_EQ(refusal.find('\n'), std::string::npos);
}

INSTANTIATE_TEST_SUITE_P(All, AnyLuminaire, testing::ValuesIn(habits()), [](const auto& habit) {
    std::string s = habit.param.file;
    std::replace_if(
        s.begin(), s.end(), [](char c) { return c == '-' || c == '.'; }, '_');
    return s;
});

TEST(BrokenLuminaires, EveryFileIsTried) {
    std::set<std::string> tried{"beside.tlt"}, there;
    for (const Habit& h : habits()) tried.insert(h.file);
    for (const fs::directory_entry& e : fs::directory_iterator(folder)) there.insert(e.path().filename().string());
    EXPECT_EQ(tried, there);
}

TEST(BrokenLuminaires, MissingFolderAndTooLarge) {
    const auto said = [](const fs::path& path) -> std::string {
        try {
            read_luminaire(path.string());
        } catch (const InputError& error) {
            return error.what();
        }
        return "";
    };
    EXPECT_EQ(said(folder / "not-there.ies"),
              (folder / "not-there.ies").string() + ": there is no such file; expected a luminaire file");
    EXPECT_EQ(said(folder), folder.string() + ": this is a folder; expected a luminaire file");
    const fs::path large = fs::path(testing::TempDir()) / "rushlight-large.ies";
    {
        std::FILE* f = std::fopen(large.c_str(), "w");
        std::fclose(f);
    }
    fs::resize_file(large, 4'000'001);
    EXPECT_EQ(said(large), large.string() + ": the file has 4.1 MB; expected no more than 4 MB");
    fs::remove(large);
}

}  // namespace
}  // namespace rushlight
