// What a command writes, and where: never over what it reads, nor over anything that is no plain file; under names that
// differ where the set-ups do; and with nothing in it that steers a screen.
#include "command/program.h"

#include <sys/stat.h>

namespace rushlight::testing_command {
namespace {

constexpr int bad_input = 2, failed = 1;
const std::string small = dark + room + lamp + meter + camera;

std::string bytes_of(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

void expect_one_line(const Answer& a, int status, const std::string& words) {
    EXPECT_EQ(a.status, status) << a;
    EXPECT_EQ(a.error_lines(), 1U) << a;
    EXPECT_EQ(a.out, "") << a;
    EXPECT_TRUE(a.says(words)) << words << "\n" << a;
    EXPECT_LT(a.seconds, 20) << a;
}

const std::string obj = "v 0 0 0\nv 5 0 0\nv 5 4 0\nv 0 4 0\nf 1 2 3 4\n";

TEST(Output, NoInputIsWrittenOver) {
    const Scratch here;
    here.with("kit.toml", "[[item]]\nname = \"lamp of ours\"\nkind = \"lamp\"\n");
    here.with("table.csv", "what,lux\ntable,100\n");
    here.with("stool.obj", obj);
    const std::string text = small + "[[place.furniture]]\nname = \"stool\"\nobj = \"stool.obj\"\nat = [1, 1]\n";
    here.with("f.toml", text);
    here.with("f.png", text);  // a set-up file by another name
    fs::create_symlink("f.toml", here / "link.toml");
    fs::create_hard_link(here / "f.toml", here / "same.toml");
    fs::create_directory(here / "sub");
    for (const char* name : {"f.toml", "sub/../f.toml", "link.toml", "same.toml", "stool.obj"})
        expect_one_line(rushlight(here, {"read", "f.toml", "--json", "--time", "60s", "-o", name}), bad_input,
                        "is read by this command");
    expect_one_line(
        rushlight(here, {"read", "f.toml", "--time", "60s", "--measured-table", "table.csv", "-o", "table.csv"}),
        bad_input, "is read by this command");
    for (const char* command : {"frame", "compare"})
        expect_one_line(rushlight(here, {command, "f.png", "--time", "60s", "-o", "f.png"}), bad_input,
                        "is read by this command");
    EXPECT_EQ(bytes_of(here / "f.toml"), text);
    EXPECT_EQ(bytes_of(here / "f.png"), text);
    EXPECT_EQ(bytes_of(here / "stool.obj"), obj);
}

TEST(Output, AFolderWithAnInputIsNotReplaced) {
    const Scratch here;
    fs::create_directory(here / "b");
    here.with("b/f.toml", small);
    here.with("b/brief.json", R"({"made_by": "rushlight brief", "files": ["brief.json", "f.toml"]})");
    expect_one_line(rushlight(here, {"brief", "b/f.toml", "-o", "b"}), bad_input, "is read by this command");
    EXPECT_EQ(bytes_of(here / "b/f.toml"), small);
}

TEST(Output, NoDeviceOrPipeIsReplaced) {
    const Scratch here;
    here.with("f.toml", small);
    ASSERT_EQ(::mkfifo((here / "pipe").c_str(), 0600), 0);
    for (const char* name : {"/dev/null", "pipe"}) {
        expect_one_line(rushlight(here, {"read", "f.toml", "--json", "--time", "60s", "-o", name}), failed,
                        "a device or a pipe");
        expect_one_line(rushlight(here, {"frame", "f.toml", "--time", "60s", "-o", name}), failed,
                        "a device or a pipe");
    }
    EXPECT_TRUE(fs::is_fifo(here / "pipe"));
    EXPECT_TRUE(fs::is_character_file("/dev/null"));
    expect_one_line(rushlight(here, {"read", "f.toml", "--time", "60s", "-o", "/proc/out"}), failed,
                    "no file can be made in the folder '/proc'");
}

TEST(Output, OddFilesInTheFolderOfABriefAreNoHang) {
    const Scratch here;
    here.with("f.toml", small);
    fs::create_directory(here / "b");
    ASSERT_EQ(::mkfifo((here / "b/brief.json").c_str(), 0600), 0);
    expect_one_line(rushlight(here, {"brief", "f.toml", "-o", "b"}), bad_input, "that no brief wrote");
    fs::remove(here / "b/brief.json");
    here.with("b/brief.json", "{");
    fs::resize_file(here / "b/brief.json", 2'000'000'000);
    const Answer a = rushlight(here, {"brief", "f.toml", "-o", "b"});
    expect_one_line(a, bad_input, "that no brief wrote");
}

TEST(Output, AFullDiskNamesWhatWasAskedFor) {
    const Scratch here;
    here.with("f.toml", small);
    Around full;
    full.largest_file = 600;
    const Answer a = rushlight(here, {"brief", "f.toml", "--time", "100ms", "-o", "b"}, full);
    EXPECT_EQ(a.status, failed) << a;
    EXPECT_TRUE(a.says("cannot write 'b/brief.html'")) << a;
    EXPECT_FALSE(a.says(".rushlight-")) << a;
    const Answer b = rushlight(here, {"brief", "f.toml", "-o", "no/such/b"});
    expect_one_line(b, failed, "cannot write 'no/such/b': the folder 'no/such' does not exist");
}

TEST(Output, NamesDifferWhereSetUpsDo) {
    const Scratch here;
    here.with("f.toml", small + "[[setup]]\nname = \"a/b\"\n[[setup]]\nname = \"a b\"\n[[setup]]\nname = \"a b 2\"\n");
    for (const auto& [setup, png] :
         {std::pair{"a/b", "f-a-b.png"}, {"a b", "f-a-b-2.png"}, {"a b 2", "f-a-b-2-2.png"}}) {
        const Answer a = rushlight(here, {"frame", "f.toml", "--setup", setup, "--time", "200ms", "--width", "32"});
        EXPECT_EQ(a.status, 0) << a;
        EXPECT_TRUE(fs::exists(here / png)) << png << a;
    }
    EXPECT_EQ(here.files().size(), 7U);
}

TEST(Output, LongNamesAreCutBetweenLetters) {
    const Scratch here;
    std::string euros, accents;
    for (int i = 0; i < 33; ++i) euros += "€";
    for (int i = 0; i < 30; ++i) accents += "e\xCC\x81";
    here.with("a file.toml", small + "[[setup]]\nname = \"" + euros + "\"\n[[option]]\nname = \"" + accents + "\"\n");
    const Answer a = rushlight(here, {"map", "a file.toml", "--option", accents, "--time", "200ms", "--width", "64"});
    EXPECT_EQ(a.status, 0) << a;
    std::string png;
    for (const std::string& name : here.files())
        if (name.ends_with(".png")) png = name;
    // 7 bytes of the file's name, 99 of the set-up's, then whole letters of the option's up to 120.
    EXPECT_EQ(png, "a-file-" + euros + "-" + accents.substr(0, 12) + "-map.png");
}

TEST(Output, NothingSteersTheScreen) {
    const Scratch here;
    const std::string odd =
        "\xC2\x9B"
        "31m\xE2\x80\xAE";
    here.with("f.toml", "title = \"a\\u001B[31mred" + odd + "\"\n" + small + "[[lamp]]\nname = \"x" + odd +
                            "\"\nshape = \"ball\"\nat = [3, 3, 2]\noutput = \"900 lm\"\n");
    for (const std::vector<std::string>& words : {std::vector<std::string>{"check", "f.toml"},
                                                  {"read", "f.toml", "--time", "100ms"},
                                                  {"read", "f.toml", "--time", "100ms", "--csv"},
                                                  {"read", "f.toml", "--time", "100ms", "--json"},
                                                  {"frame", "f.toml", "--time", "200ms", "--width", "32"},
                                                  {"read", "f.toml", "--level", "no such" + odd + "=off"},
                                                  {"read", "f.toml" + odd},
                                                  {"read", "f.toml", "--time", "100ms", "-o", "said.txt"}}) {
        const Answer a = rushlight(here, words);
        std::string said = a.out + a.err;
        if (words.back() == "said.txt") said += bytes_of(here / "said.txt");
        EXPECT_GT(said.size(), 20U) << a;
        for (const char* steers : {"\x1B", "\xC2\x9B", "\xE2\x80\xAE"})
            EXPECT_EQ(said.find(steers), std::string::npos) << words[0] << "\n" << a;
    }
}

}  // namespace
}  // namespace rushlight::testing_command
