// The document: what is on the disk, step by step back and forth, and what others do to the file meanwhile.
#include "desk/document/document.h"

#include "desk/document/edits.h"
#include "desk/desk_scratch.h"

#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>

#include <csignal>
#include <random>
#include <thread>

namespace rushlight::desk {
namespace {

using testing_desk::Scratch;
using testing_desk::small_place;

Document::Change moved(double x) {
    return [x](const std::string& text) {
        ThingEdit e;
        e.kind = "lamp", e.name = "key", e.key = "at";
        e.value = NewValue{NewValue::List{{x}, {1.5}, {2.0}}};
        return edited(text, "place.toml", {{"as found", "as found"}, "", {e}});
    };
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    return text.replace(at, from.size(), to);
}

TEST(Document, EveryStepGoesBackAndForthAndIsOnTheDisk) {
    const Scratch scratch;
    Document document(scratch.file());
    std::vector<std::string> texts{small_place};
    constexpr int steps = 60;
    for (int i = 1; i <= steps; ++i) {
        const Outcome o = document.edit(document.state().revision, "", moved(0.5 + 0.01 * i));
        ASSERT_EQ(o.kind, Outcome::Kind::done) << o.message;
        texts.push_back(document.text());
        EXPECT_EQ(scratch.text(), texts.back());
    }
    for (int i = steps - 1; i >= 0; --i) {
        ASSERT_EQ(document.undo(document.state().revision).kind, Outcome::Kind::done);
        EXPECT_EQ(scratch.text(), texts[static_cast<std::size_t>(i)]);
    }
    EXPECT_FALSE(document.state().can_undo);
    EXPECT_EQ(document.undo(document.state().revision).kind, Outcome::Kind::refused);
    for (int i = 1; i <= steps; ++i) {
        ASSERT_EQ(document.redo(document.state().revision).kind, Outcome::Kind::done);
        EXPECT_EQ(scratch.text(), texts[static_cast<std::size_t>(i)]);
    }
    EXPECT_FALSE(document.state().can_redo);
}

TEST(Document, ADragIsOneStep) {
    const Scratch scratch;
    Document document(scratch.file());
    for (const double x : {1.1, 1.2, 1.3})
        ASSERT_EQ(document.edit(document.state().revision, "drag 1", moved(x)).kind, Outcome::Kind::done);
    for (const double x : {1.4, 1.5})
        ASSERT_EQ(document.edit(document.state().revision, "drag 2", moved(x)).kind, Outcome::Kind::done);
    document.undo(document.state().revision);
    EXPECT_NE(scratch.text().find("at = [1.3, 1.5, 2.0]  # from the left"), std::string::npos);
    document.undo(document.state().revision);
    EXPECT_EQ(scratch.text(), small_place);
}

TEST(Document, WhatIsNotSoundChangesNothing) {
    const Scratch scratch;
    Document document(scratch.file());
    const std::uint64_t revision = document.state().revision;
    const Outcome o = document.edit(revision, "", [](const std::string& text) {
        ThingEdit e;
        e.kind = "lamp", e.name = "key", e.key = "level", e.value = NewValue{2.0};
        return edited(text, "place.toml", {{"as found", "as found"}, "", {e}});
    });
    EXPECT_EQ(o.kind, Outcome::Kind::refused);
    EXPECT_NE(o.message.find("level"), std::string::npos) << o.message;
    EXPECT_EQ(o.message.find('\n'), std::string::npos) << o.message;
    EXPECT_EQ(document.state().revision, revision);
    EXPECT_EQ(scratch.text(), small_place);
    EXPECT_EQ(document.edit(revision + 7, "", moved(1.2)).kind, Outcome::Kind::stale);
    EXPECT_EQ(scratch.text(), small_place);
}

TEST(Document, AnOutsideEditIsTakenOverAndUndoBringsOursBack) {
    const Scratch scratch;
    Document document(scratch.file());
    document.edit(1, "", moved(1.25));
    const std::string ours = document.text();
    const std::string theirs = replaced(ours, "\"900 lm\"", "\"700 lm\"");
    scratch.write("place.toml", theirs);
    EXPECT_TRUE(document.look_outside());
    EXPECT_FALSE(document.look_outside());
    EXPECT_EQ(document.state().why, "outside");
    EXPECT_EQ(document.text(), theirs);
    EXPECT_EQ(document.undo(document.state().revision).kind, Outcome::Kind::done);
    EXPECT_EQ(scratch.text(), ours);
}

TEST(Document, AnEditGoesOnTopOfWhatWasChangedOutside) {
    const Scratch scratch;
    Document document(scratch.file());
    scratch.write("place.toml", replaced(small_place, "\"900 lm\"", "\"700 lm\""));
    EXPECT_EQ(document.edit(1, "", moved(1.25)).kind, Outcome::Kind::done);
    EXPECT_NE(scratch.text().find("700 lm"), std::string::npos);
    EXPECT_NE(scratch.text().find("1.25"), std::string::npos);
}

TEST(Document, WhatDoesNotGoTogetherIsKeptBeside) {
    const Scratch scratch;
    Document document(scratch.file());
    const std::string theirs = replaced(small_place, "name = \"key\"", "name = \"other\"");
    scratch.write("place.toml", theirs);
    const Outcome o = document.edit(1, "", moved(1.25));
    EXPECT_EQ(o.kind, Outcome::Kind::stale);
    EXPECT_EQ(scratch.text(), theirs);
    EXPECT_EQ(scratch.files(), 2U);
    bool kept = false;
    for (const auto& entry : std::filesystem::directory_iterator(scratch.folder))
        kept = kept || scratch.text(entry.path().filename().string()).find("1.25") != std::string::npos;
    EXPECT_TRUE(kept);
    EXPECT_FALSE(document.state().conflict.empty());
}

TEST(Document, AFileBrokenOutsideIsLeftAloneUntilItIsSound) {
    const Scratch scratch;
    Document document(scratch.file());
    const std::string broken = replaced(small_place, "[[lamp]]     # the first", "[[lamp]     # the first");
    scratch.write("place.toml", broken);
    EXPECT_TRUE(document.look_outside());
    EXPECT_NE(document.state().trouble.find("place.toml:14"), std::string::npos) << document.state().trouble;
    EXPECT_EQ(document.text(), small_place);  // the last sound one is still shown
    EXPECT_EQ(document.edit(document.state().revision, "", moved(1.25)).kind, Outcome::Kind::done);
    EXPECT_EQ(document.edit(document.state().revision, "", moved(1.26)).kind, Outcome::Kind::done);
    EXPECT_EQ(scratch.text(), broken);
    EXPECT_EQ(scratch.files(), 2U);
    const std::string ours = document.state().ours;
    EXPECT_NE(scratch.text(std::filesystem::path(ours).filename().string()).find("1.26"), std::string::npos);
    scratch.write("place.toml", replaced(small_place, "\"900 lm\"", "\"700 lm\""));
    EXPECT_TRUE(document.look_outside());
    EXPECT_EQ(document.state().trouble, "");
    EXPECT_NE(document.text().find("700 lm"), std::string::npos);
    EXPECT_EQ(document.undo(document.state().revision).kind, Outcome::Kind::done);
    EXPECT_NE(scratch.text().find("1.26"), std::string::npos);
}

TEST(Document, AFileThatIsGoneIsPutBack) {
    const Scratch scratch;
    Document document(scratch.file());
    std::filesystem::remove(scratch.file());
    EXPECT_TRUE(document.look_outside());
    EXPECT_FALSE(document.look_outside());
    EXPECT_EQ(document.edit(document.state().revision, "", moved(1.25)).kind, Outcome::Kind::done);
    EXPECT_NE(scratch.text().find("1.25"), std::string::npos);
}

TEST(Document, RightsAndLinksStay) {
    const Scratch scratch;
    ::chmod(scratch.file().c_str(), 0640);
    std::filesystem::create_symlink(scratch.file(), scratch.folder / "link.toml");
    Document document(scratch.folder / "link.toml");
    EXPECT_EQ(document.edit(1, "", moved(1.25)).kind, Outcome::Kind::done);
    EXPECT_TRUE(std::filesystem::is_symlink(scratch.folder / "link.toml"));
    struct stat about {};
    ASSERT_EQ(::stat(scratch.file().c_str(), &about), 0);
    EXPECT_EQ(about.st_mode & 0777U, 0640U);
}

/// A limit on the size of files stands for a disk that is full.
TEST(Document, AFullDiskRefusesTheEditAndKeepsTheFile) {
    const Scratch scratch;
    Document document(scratch.file());
    ASSERT_EQ(document.edit(1, "", moved(1.25)).kind, Outcome::Kind::done);
    const std::string before = scratch.text();
    rlimit usual{};
    ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &usual), 0);
    rlimit little = usual;
    little.rlim_cur = 200;
    const auto handler = std::signal(SIGXFSZ, SIG_IGN);
    ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &little), 0);
    const Outcome edit = document.edit(document.state().revision, "", moved(1.5));
    const Outcome undo = document.undo(document.state().revision);
    ::setrlimit(RLIMIT_FSIZE, &usual);
    std::signal(SIGXFSZ, handler);
    for (const Outcome& o : {edit, undo}) {
        EXPECT_EQ(o.kind, Outcome::Kind::refused);
        EXPECT_NE(o.message.find("cannot write"), std::string::npos) << o.message;
        EXPECT_EQ(o.message.find('\n'), std::string::npos) << o.message;
    }
    EXPECT_EQ(scratch.text(), before);
    EXPECT_EQ(document.text(), before);
    EXPECT_EQ(scratch.files(), 1U);
    // With room again, all goes on where it was.
    EXPECT_EQ(document.edit(document.state().revision, "", moved(1.5)).kind, Outcome::Kind::done);
    EXPECT_EQ(document.undo(document.state().revision).kind, Outcome::Kind::done);
    EXPECT_EQ(document.undo(document.state().revision).kind, Outcome::Kind::done);
    EXPECT_EQ(scratch.text(), small_place);
}

/// Ended in the middle of writing, again and again: the file is always sound, and never older than what was
/// acknowledged.
TEST(Document, KilledAtAnyMomentTheFileIsSound) {
    const Scratch scratch;
    std::mt19937 random(3);
    int kills = 0;
    for (int round = 0; round < 25; ++round) {
        int pipe[2];
        ASSERT_EQ(::pipe(pipe), 0);
        const pid_t child = ::fork();
        if (child == 0) {
            Document document(scratch.file());
            for (int i = 0;; ++i) {
                const double x = 0.5 + 0.001 * (i % 2000);
                if (document.edit(document.state().revision, "", moved(x)).kind != Outcome::Kind::done) ::_exit(1);
                if (::write(pipe[1], &x, sizeof x) != sizeof x) ::_exit(2);
            }
        }
        ::close(pipe[1]);
        std::this_thread::sleep_for(std::chrono::milliseconds(20 + random() % 40));
        ::kill(child, SIGKILL);
        int status = 0;
        ::waitpid(child, &status, 0);
        kills += WIFSIGNALED(status) ? 1 : 0;
        double acknowledged = 0;
        for (double x = 0; ::read(pipe[0], &x, sizeof x) == sizeof x;) acknowledged = x;
        ::close(pipe[0]);
        const SetupFile file = SetupFile::read(scratch.file().string());
        const auto at = static_cast<double>(file.setup().rig.lamps.at(0).at.x);
        if (acknowledged > 0) {
            EXPECT_GT(at, acknowledged - 0.0005) << "round " << round;
        }
    }
    EXPECT_EQ(kills, 25);
}

}  // namespace
}  // namespace rushlight::desk
