// Others who write the same file: other desks, editors that replace it, programs that write into it.
#include "desk/document/document.h"

#include "desk/desk.h"
#include "desk/desk_scratch.h"
#include "desk/document/edits.h"
#include "desk/document/told.h"
#include "desk/plan/plan_json.h"
#include "setup/text/where.h"

#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <atomic>
#include <random>
#include <thread>

namespace rushlight::desk {
namespace {

using testing_desk::Scratch;
using testing_desk::small_place;

/// One more meter.
Document::Change with_meter(const std::string& name) {
    return [name](const std::string& text) {
        ThingEdit e;
        e.act = ThingEdit::Act::add;
        e.kind = "meter", e.name = name;
        e.values = {{"at", NewValue{NewValue::List{{1.0}, {1.0}, {1.0}}}}};
        return edited(text, "place.toml", {{"as found", "as found"}, "", {e}});
    };
}

std::string lines_of(int n) {
    return "# line " + std::to_string(n) + " from outside\n";
}

/// Puts it to the newest revision until it is acknowledged.
bool acknowledged(Document& document, const Document::Change& change) {
    for (int tries = 0; tries < 1000; ++tries) {
        const Outcome o = document.edit(document.state().revision, "", change);
        if (o.kind == Outcome::Kind::done) return true;
        EXPECT_EQ(o.kind, Outcome::Kind::stale) << o.message;
    }
    return false;
}

std::string meter(int n) {
    return "edit " + std::to_string(n);
}

struct Editing {
    int edits = 0, lines = 0;
};

/// A desk at full speed beside a program that adds lines; both know what they were told is done.
template <class Outside>
Editing edit_beside(const Scratch& scratch, Document& document, int enough, const Outside& outside) {
    std::atomic<bool> over{false};
    std::atomic<int> lines{0};
    Editing done;
    std::thread other([&] {
        while (!over) outside(lines), ++lines;
    });
    std::thread watcher([&] {
        while (!over) document.look_outside(), std::this_thread::sleep_for(std::chrono::milliseconds(20));
    });
    const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(60);
    while ((done.edits < enough || lines < enough) && std::chrono::steady_clock::now() < end)
        if (acknowledged(document, with_meter(meter(done.edits)))) ++done.edits;
    over = true;
    other.join();
    done.lines = lines;
    watcher.join();
    for (int i = 0; i < 5; ++i) {  // what was written last is looked at when it is at rest
        std::this_thread::sleep_for(std::chrono::milliseconds(100));
        document.look_outside();
    }
    EXPECT_EQ(scratch.text(), document.text());
    return done;
}

/// Every edit stands in the file. Every line from outside does too, or one step back where the two cannot be put
/// together: an editor may read what is there for a moment while what another wrote goes back to its place.
void expect_all_kept(const Scratch& scratch, Document& document, const Editing& done) {
    std::string everywhere = scratch.text();
    for (int i = 0; i < done.edits; ++i)
        EXPECT_NE(everywhere.find('"' + meter(i) + '"'), std::string::npos) << meter(i);
    const auto in_steps = [&](int i) {
        for (int n = 0; everywhere.find(lines_of(i)) == std::string::npos; ++n)
            if (n > 5000 || document.undo(document.state().revision).kind != Outcome::Kind::done)
                return false;
            else
                everywhere += document.text();
        return true;
    };
    int lost = 0, aside = 0;
    for (int i = 0; i < done.lines; ++i) {
        const bool in_the_file = everywhere.find(lines_of(i)) != std::string::npos;
        aside += in_the_file ? 0 : 1;
        lost += in_the_file || in_steps(i) ? 0 : 1;
    }
    EXPECT_EQ(lost, 0) << "of " << done.lines << "; " << aside << " only in steps of undo";
    std::printf("%d edits, %d lines from outside: %d lost, %d in steps of undo\n", done.edits, done.lines, lost, aside);
}

TEST(Others, NoAcknowledgedEditIsLostBesideAnEditorThatReplacesTheFile) {
    const Scratch scratch;
    Document document(scratch.file());
    std::mt19937 random(5);
    const auto pause = [&](unsigned least, unsigned most) {
        std::this_thread::sleep_for(std::chrono::milliseconds(least + random() % (most - least)));
    };
    const Editing done = edit_beside(scratch, document, 40, [&](int n) {
        const std::string text = scratch.text();
        pause(1, 6);
        scratch.write("editor.tmp", text + lines_of(n));
        std::filesystem::rename(scratch.folder / "editor.tmp", scratch.file());
        pause(1, 20);
    });
    EXPECT_GE(done.edits, 40);
    EXPECT_GE(done.lines, 40);
    expect_all_kept(scratch, document, done);
    // Nor is a step back anything but one sound text after the other.
    for (int i = 0; i < 20; ++i) EXPECT_NE(document.undo(document.state().revision).kind, Outcome::Kind::refused) << i;
}

/// A program that has the file open, and writes into it while it is replaced.
TEST(Others, WhatIsWrittenIntoTheFileThatWasReplacedIsNotLost) {
    const Scratch scratch;
    Document document(scratch.file());
    const Editing done = edit_beside(scratch, document, 40, [&](int n) {
        std::ofstream(scratch.file(), std::ios::app) << lines_of(n);
        std::this_thread::sleep_for(std::chrono::milliseconds(25));
    });
    expect_all_kept(scratch, document, done);
}

TEST(Others, AWriterWhoHeldTheFileOpenIsHeard) {
    const Scratch scratch;
    Document document(scratch.file());
    std::ofstream held(scratch.file(), std::ios::app);
    ASSERT_EQ(document.edit(1, "", with_meter("first")).kind, Outcome::Kind::done);
    held << lines_of(1) << std::flush;
    ASSERT_EQ(document.edit(document.state().revision, "", with_meter("second")).kind, Outcome::Kind::done);
    EXPECT_EQ(scratch.text().find(lines_of(1)), std::string::npos);
    for (int i = 0; i < 4; ++i) {
        std::this_thread::sleep_for(std::chrono::milliseconds(100));
        document.look_outside();
    }
    for (const std::string& part : {lines_of(1), std::string("\"first\""), std::string("\"second\"")})
        EXPECT_NE(scratch.text().find(part), std::string::npos) << part;
    EXPECT_FALSE(document.state().conflict.empty());
}

/// An editor that read the file before a page's edit was made, and writes it after.
TEST(Others, AnEditOfAPageIsPutOnTopOfATextThatWasReadBefore) {
    const Scratch scratch;
    Desk desk(scratch.file());
    const JsonValue edit{{"base", 1},
                         {"setup", "as found"},
                         {"option", "as found"},
                         {"edits", {{{"kind", "lamp"}, {"name", "key"}, {"key", "level"}, {"value", "25%"}}}}};
    ASSERT_EQ(desk.answer({"POST", "/api/edit", edit.dump(), {}}, false).status, 200);
    scratch.write("editor.tmp", small_place + lines_of(1));
    std::filesystem::rename(scratch.folder / "editor.tmp", scratch.file());
    for (int i = 0; i < 100 && scratch.text().find("25%") == std::string::npos; ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
    EXPECT_NE(scratch.text().find("level = \"25%\"  # half"), std::string::npos);
    EXPECT_NE(scratch.text().find(lines_of(1)), std::string::npos);
    // What the editor wrote is one step back.
    const JsonValue state = JsonValue::parse(*desk.answer({"GET", "/api/state", "", {}}, false).body);
    const JsonValue undo{{"base", state["revision"]}};
    ASSERT_EQ(desk.answer({"POST", "/api/undo", undo.dump(), {}}, false).status, 200);
    EXPECT_EQ(scratch.text(), small_place + lines_of(1));
}

TEST(Others, ASecondDeskOnOneFileIsRefused) {
    const Scratch scratch;
    std::filesystem::create_symlink(scratch.file(), scratch.folder / "link.toml");
    {
        Document document(scratch.file());
        for (const char* name : {"place.toml", "link.toml"}) {
            const pid_t child = ::fork();
            if (child == 0) {
                try {
                    const Document second(scratch.folder / name);
                    ::_exit(1);
                } catch (const InputError& error) {
                    ::_exit(std::string(error.what()).find("another desk has this file open") != std::string::npos ? 0
                                                                                                                   : 2);
                }
            }
            int status = -1;
            ::waitpid(child, &status, 0);
            EXPECT_EQ(status, 0) << name;
            // Nor after the file has been replaced by the first, or by somebody else.
            document.edit(document.state().revision, "", with_meter(name));
            EXPECT_THROW(Document(scratch.folder / name), InputError);
            scratch.write("editor.tmp", scratch.text() + "# more\n");
            std::filesystem::rename(scratch.folder / "editor.tmp", scratch.file());
            document.look_outside();
            EXPECT_THROW(Document(scratch.folder / name), InputError);
        }
    }
    EXPECT_NO_THROW(Document(scratch.file()));
    EXPECT_EQ(scratch.files(), 2U);
}

TEST(Others, WhatAKilledDeskHadInHandIsKept) {
    const Scratch scratch;
    std::string left;
    {
        Document document(scratch.file());
        std::uint32_t hash = 2166136261U;
        for (const char c : std::string("place.toml")) hash = (hash ^ static_cast<unsigned char>(c)) * 16777619U;
        left = ".rushlight-1-0-" + std::to_string(hash) + ".desk";
    }
    scratch.write(left, small_place);
    EXPECT_EQ(Document(scratch.file()).state().conflict, "");
    EXPECT_EQ(scratch.files(), 1U);
    scratch.write(left, std::string(small_place) + "# theirs\n");
    EXPECT_NE(Document(scratch.file()).state().conflict.find("place.toml.desk-"), std::string::npos);
    EXPECT_EQ(scratch.files(), 2U);
    EXPECT_FALSE(std::filesystem::exists(scratch.folder / left));
}

TEST(Others, AFileThatIsBrokenAndThenRemovedIsPutBackAsTold) {
    const Scratch scratch;
    Document document(scratch.file());
    scratch.write("place.toml", "x = [");
    document.look_outside();
    EXPECT_FALSE(document.state().trouble.empty());
    std::filesystem::remove(scratch.file());
    document.look_outside();
    EXPECT_EQ(document.state().trouble, "");
    EXPECT_NE(document.state().conflict.find("the next change puts it back"), std::string::npos);
    const Outcome o = document.edit(document.state().revision, "", with_meter("m"));
    EXPECT_EQ(o.kind, Outcome::Kind::done);
    EXPECT_EQ(o.beside, "");
    EXPECT_EQ(scratch.text(), document.text());
    EXPECT_EQ(document.state().conflict, "");
    EXPECT_EQ(scratch.files(), 1U);
}

TEST(Others, WithAFolderOrAPipeInItsPlaceTheChangeGoesBesideAndIsToldSo) {
    for (const bool folder : {true, false}) {
        const Scratch scratch;
        Document document(scratch.file());
        scratch.write("place.toml", "x = [");
        document.look_outside();
        std::filesystem::remove(scratch.file());
        if (folder)
            std::filesystem::create_directory(scratch.file());
        else
            ASSERT_EQ(::mkfifo(scratch.file().c_str(), 0600), 0);
        document.look_outside();
        EXPECT_NE(document.state().trouble.find(folder ? "folder" : "no plain file"), std::string::npos);
        const Outcome o = document.edit(document.state().revision, "", with_meter("m"));
        EXPECT_EQ(o.kind, Outcome::Kind::done) << o.message;
        EXPECT_EQ(o.beside, document.state().ours);
        EXPECT_EQ(scratch.text(o.beside), document.text());
        EXPECT_EQ(std::filesystem::status(scratch.file()).type(),
                  folder ? std::filesystem::file_type::directory : std::filesystem::file_type::fifo);
        std::filesystem::remove(scratch.file());
        document.look_outside();
        EXPECT_EQ(document.edit(document.state().revision, "", with_meter("n")).beside, "");
        EXPECT_EQ(scratch.text(), document.text());
    }
}

TEST(Others, AFileTooLargeIsLeftAloneAndForgottenWhenItIsSoundAgain) {
    const Scratch scratch;
    Document document(scratch.file());
    const std::string large = small_place + std::string(17'000'000, '\n');
    scratch.write("place.toml", large);
    EXPECT_TRUE(document.look_outside());
    EXPECT_NE(document.state().trouble.find("17 MB"), std::string::npos) << document.state().trouble;
    EXPECT_EQ(document.state().trouble.find("puts it back"), std::string::npos);
    EXPECT_NE(document.edit(document.state().revision, "", with_meter("m")).beside, "");
    EXPECT_EQ(scratch.text().size(), large.size());
    scratch.write("place.toml", document.text());
    EXPECT_TRUE(document.look_outside());
    EXPECT_EQ(document.state().trouble, "");
    EXPECT_EQ(document.state().conflict, "");
}

TEST(Others, NoFolderOfThisMachineIsTold) {
    EXPECT_EQ(told_from("/a/b", "/a/b/place.toml:1:2: x, '/a/b' and /a/x.obj in '/a'"),
              "place.toml:1:2: x, '.' and ../x.obj in '..'");
    EXPECT_EQ(told_from("/a/b", "1/a/b/c and x/a/c stay"), "1/a/b/c and x/a/c stay");
    const Scratch scratch;
    Document document(scratch.file());
    const std::string folder = scratch.folder.string();
    scratch.write("place.toml",
                  std::string(small_place) + "[[furniture]]\nname = \"f\"\nobj = \"none.obj\"\nat = [1, 1, 0]\n");
    document.look_outside();
    EXPECT_EQ(document.state().trouble.find(folder), std::string::npos) << document.state().trouble;
    EXPECT_NE(document.state().trouble.find("place.toml:"), std::string::npos) << document.state().trouble;
    const Outcome o = document.edit(document.state().revision, "", with_meter("m"));
    EXPECT_EQ((o.message + o.beside).find(folder), std::string::npos) << o.message;
    EXPECT_EQ(state_json(document, true).dump().find(folder), std::string::npos);
    std::filesystem::remove_all(scratch.folder);
    const Outcome gone = document.edit(document.state().revision, "", with_meter("n"));
    EXPECT_EQ(gone.kind, Outcome::Kind::refused);
    EXPECT_EQ(gone.message.find(folder.substr(1)), std::string::npos) << gone.message;
}

}  // namespace
}  // namespace rushlight::desk
