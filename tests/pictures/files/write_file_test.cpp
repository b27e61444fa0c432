#include "pictures/draw/image.h"
#include "pictures/files/scratch.h"

#include <sys/resource.h>

#include <csignal>

namespace rushlight {
namespace {

namespace fs = std::filesystem;
using testing_pictures::bytes_of;
using testing_pictures::Scratch;

std::string complaint(const fs::path& path, std::string_view bytes) {
    try {
        write_file(path, bytes);
    } catch (const OutputError& e) {
        return e.what();
    }
    return {};
}

TEST(WriteFile, ReplacesWhatWasThereAndLeavesNothingBeside) {
    Scratch scratch;
    write_file(scratch / "a.txt", "first");
    write_file(scratch / "a.txt", "second, longer");
    EXPECT_EQ(bytes_of(scratch / "a.txt"), "second, longer");
    EXPECT_EQ(scratch.files(), 1U);
}

TEST(WriteFile, SaysThatTheFolderIsMissing) {
    Scratch scratch;
    const fs::path place = scratch / "nowhere/picture.png";
    EXPECT_THROW(write_png(place, Image(8, 8)), OutputError);
    EXPECT_EQ(complaint(place, "x"), "cannot write '" + place.string() + "': the folder '" +
                                         (scratch / "nowhere").string() + "' does not exist");
    EXPECT_FALSE(fs::exists(scratch / "nowhere"));
    EXPECT_EQ(scratch.files(), 0U);
}

TEST(WriteFile, SaysThatAFileStandsWhereAFolderShould) {
    Scratch scratch;
    write_file(scratch / "notes", "kept");
    EXPECT_NE(complaint(scratch / "notes/picture.png", "x").find("is not a folder"), std::string::npos);
    EXPECT_EQ(bytes_of(scratch / "notes"), "kept");
}

TEST(WriteFile, SaysThatAFolderIsInTheWay) {
    Scratch scratch;
    fs::create_directory(scratch / "picture.png");
    EXPECT_NE(complaint(scratch / "picture.png", "x").find("a folder of that name is in the way"), std::string::npos);
    EXPECT_EQ(scratch.files(), 1U) << "the unfinished file must be gone";
}

TEST(WriteFile, SaysThatTheFolderCannotBeWritten) {
    Scratch scratch;
    fs::path folder = scratch.folder;
    fs::permissions(folder, fs::perms::owner_read | fs::perms::owner_exec);
    if (::geteuid() == 0) folder = "/proc/self";  // permissions do not hold root back; this folder does
    EXPECT_THROW(write_png(folder / "picture.png", Image(8, 8)), OutputError);
    EXPECT_FALSE(complaint(folder / "picture.png", "x").empty());
    EXPECT_FALSE(fs::exists(folder / "picture.png"));
    fs::permissions(scratch.folder, fs::perms::owner_all);
    EXPECT_EQ(scratch.files(), 0U);
}

// A limit on the size of files stands for a disk that fills up while a picture is written.
TEST(WriteFile, AFullDiskLeavesTheOldFileAndNoHalfOne) {
    Scratch scratch;
    write_file(scratch / "frame.exr", "the old one");
    LayeredFrame frame;
    frame.width = 64, frame.height = 64;
    frame.sources = {"sky"};
    frame.layers = {std::vector<Spectrum>(64 * 64)};
    for (std::size_t i = 0; i < 64 * 64; ++i) frame.layers[0][i][5] = std::sqrt(static_cast<float>(i * 7919 % 4093));

    rlimit before{};
    ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &before), 0);
    rlimit little = before;
    little.rlim_cur = 4096;
    const auto handler = std::signal(SIGXFSZ, SIG_IGN);
    ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &little), 0);
    std::string said;
    try {
        write_exr(scratch / "frame.exr", frame);
    } catch (const OutputError& e) {
        said = e.what();
    }
    ::setrlimit(RLIMIT_FSIZE, &before);
    std::signal(SIGXFSZ, handler);

    EXPECT_NE(said.find("larger than is allowed"), std::string::npos) << said;
    EXPECT_EQ(bytes_of(scratch / "frame.exr"), "the old one");
    EXPECT_EQ(scratch.files(), 1U);
}

TEST(Image, RefusesSizesThatMakeNoSense) {
    EXPECT_THROW(Image(0, 10), OutputError);
    EXPECT_THROW(Image(10, -1), OutputError);
    EXPECT_THROW(Image(1000000, 1000000), OutputError);
}

}  // namespace
}  // namespace rushlight
