// `rushlight brief`: a folder that is whole, replaced only where it is its own.
#include "program.h"

namespace rushlight::testing_command {
namespace {

std::string text_in(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream all;
    all << in.rdbuf();
    return all.str();
}

TEST(BriefCommand, WritesAFolderAndReplacesOnlyItsOwn) {
    const Scratch scratch;
    const std::string file = scratch.with("room.toml", room + overcast + window + lamp + meter + camera);
    const std::vector<std::string> words{"brief", file,     "-o",    "out",  "--time",
                                         "300ms", "--from", "11:00", "--to", "13:00"};
    const Answer first = rushlight(scratch, words);
    ASSERT_EQ(first.status, 0) << first;
    for (const char* name : {"brief.html", "brief.pdf", "brief.csv", "brief.json", "plan-1-as-found.svg"})
        EXPECT_TRUE(fs::exists(scratch / "out" / name)) << name;
    EXPECT_TRUE(first.says("about ")) << "the time it will take is told";
    EXPECT_EQ(text_in(scratch / "out/brief.html").find("http"), std::string::npos);

    // Once more over its own: replaced. With somebody's notes in it: refused, and untouched.
    EXPECT_EQ(rushlight(scratch, words).status, 0);
    std::ofstream(scratch / "out/notes.txt") << "mine";
    const std::string before = text_in(scratch / "out/brief.csv");
    const Answer refused = rushlight(scratch, words);
    EXPECT_EQ(refused.status, 2) << refused;
    EXPECT_EQ(refused.error_lines(), 1U) << refused;
    EXPECT_TRUE(refused.says("notes.txt")) << refused;
    EXPECT_EQ(text_in(scratch / "out/brief.csv"), before);
    EXPECT_EQ(text_in(scratch / "out/notes.txt"), "mine");
    EXPECT_EQ(scratch.files().size(), 8U) << "two files, a folder, its five and nothing left over";
}

TEST(BriefCommand, WrongWordsAreAnsweredBeforeAnythingIsTraced) {
    const Scratch scratch;
    const std::string file = scratch.with("room.toml", room + dark + lamp + camera);
    const std::pair<std::vector<std::string>, const char*> wrong[] = {{{"--for", "lightning"}, "lighting"},
                                                                      {{"--units", "imperal"}, "imperial"},
                                                                      {{"--paper", "a5"}, "a4"},
                                                                      {{"--option", "nothing"}, "nothing"},
                                                                      {{"--from", "noon"}, "07:00"},
                                                                      {{"--from", "12:00", "--to", "12:10"}, "--to"},
                                                                      {{"--time", "fast"}, "time"}};
    for (const auto& [words, hint] : wrong) {
        std::vector<std::string> all{"brief", file, "-o", "out"};
        all.insert(all.end(), words.begin(), words.end());
        const Answer answer = rushlight(scratch, all);
        EXPECT_EQ(answer.status, 2) << answer;
        EXPECT_EQ(answer.error_lines(), 1U) << answer;
        EXPECT_TRUE(answer.says(hint)) << answer;
        EXPECT_FALSE(fs::exists(scratch / "out"));
    }
    EXPECT_EQ(rushlight(scratch, {"brief", file}).status, 2) << "a folder must be named";
    EXPECT_EQ(rushlight(scratch, {"brief", file, "-o", "none/out"}).status, 1);
}

TEST(BriefCommand, StoppedItWritesNothing) {
    const Scratch scratch;
    const std::string file = scratch.with("room.toml", room + dark + lamp + meter + camera);
    const Answer answer = rushlight(scratch, {"brief", file, "-o", "out", "--time", "60s"}, 2);
    EXPECT_EQ(answer.status, 130) << answer;
    EXPECT_FALSE(fs::exists(scratch / "out"));
    EXPECT_EQ(scratch.files().size(), 1U);
    EXPECT_LT(answer.seconds, 40) << "half a set-up, not all of it";
}

TEST(BriefCommand, APlaceWithoutCameraLampOrPersonIsNoError) {
    const Scratch scratch;
    const std::string file = scratch.with("room.toml", room + dark);
    const Answer answer = rushlight(scratch, {"brief", file, "-o", "out", "--time", "100ms"});
    EXPECT_EQ(answer.status, 0) << answer;
    EXPECT_TRUE(fs::exists(scratch / "out/brief.pdf"));
    EXPECT_TRUE(answer.says("1 set-up with 1 option in all: about 3 s")) << answer;
}

}  // namespace
}  // namespace rushlight::testing_command
