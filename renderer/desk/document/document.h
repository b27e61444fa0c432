// The set-up file that is worked on: its text, every step back and forth, and what else may happen to the file on the
// disk meanwhile. What was acknowledged is on the disk; what somebody else wrote there is never written over: it is in
// the file, with our changes on top, or else one step back and told.
#pragma once

#include "desk/document/shared_file.h"
#include "desk/document/steps.h"
#include "setup/read/setup_file.h"

#include <chrono>
#include <cstdint>
#include <deque>
#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <string>

namespace rushlight::desk {

struct Outcome {
    enum class Kind {
        done,     // and on the disk
        stale,    // the document has moved on since; nothing was changed
        refused,  // not sound, or could not be written; nothing was changed
    } kind = Kind::done;
    std::string message;
    std::uint64_t revision = 0;
    std::string beside;  // the file that holds the change, where it could not go into the set-up file
};

class Document {
public:
    /// Reads the file; throws InputError where it is not sound, or another desk has it open.
    explicit Document(const std::filesystem::path& path);

    using Change = std::function<std::string(const std::string& text)>;
    /// Puts `change` to the text; its result must be a sound set-up file. `base` is the revision that the person saw.
    /// It is kept for a moment, and may be put once more to a text that somebody else has written meanwhile.
    Outcome edit(std::uint64_t base, const std::string& token, const Change& change);
    Outcome undo(std::uint64_t base);
    Outcome redo(std::uint64_t base);

    /// Looks whether somebody else changed the file. Returns whether there is something to tell: see state().
    bool look_outside();

    struct State {
        std::uint64_t revision = 0;
        std::string why;  // "start", "edit", "undo", "redo", "outside"
        bool can_undo = false, can_redo = false;
        std::string trouble;     // the one line why the file on the disk cannot be read; empty: it can
        std::string conflict;    // what happened to both versions, or that the file is away; empty: nothing
        bool both_kept = false;  // the conflict is one of two versions
        std::string ours;        // name of the file beside that holds ours meanwhile
    };
    State state() const;
    std::string text() const;
    const std::filesystem::path& path() const { return file_on_disk_.path(); }
    /// A line for a page: paths as seen from the set-up file's folder, so that none of this machine's folders is told.
    std::string told(const std::string& line) const;

    /// One set-up of the present text; throws InputError.
    Setup setup(const std::string& name, const std::string& option) const;
    /// `look` may use the file that was read, and not keep it.
    void with_file(const std::function<void(const SetupFile&)>& look) const;

private:
    /// An edit of the last moments, and the text that it made.
    struct Recent {
        std::string text;
        Change change;
        std::chrono::steady_clock::time_point when;
    };
    Outcome move(std::uint64_t base, Steps& from, Steps& to, bool back);
    Outcome keep_aside(const std::string& before, const Change& change, const std::string& why);
    Outcome outcome(Outcome::Kind kind, std::string message = {}) const;
    bool catch_up();
    void see(const OnDisk& found);
    void see_late(const SharedFile::Late& late);
    bool owed() const;
    void adopt(const std::string& theirs, SetupFile file, const std::string* base);
    void show(std::string text, SetupFile file, const char* why);
    bool put_on_disk(const std::string& text);
    void write_beside(const std::string& text);
    void forget_recent(bool all = false);
    SetupFile read(const std::string& text) const;

    SharedFile file_on_disk_;
    mutable std::mutex mutex_;
    std::string text_;  // sound
    OnDisk disk_;       // what is known to stand in the file
    SetupFile file_;
    Steps back_, forth_;
    std::deque<Recent> recent_;  // the first is what stood there before them
    std::uint64_t revision_ = 1;
    std::string why_ = "start", trouble_, conflict_;
    std::string away_;  // the file is not there, or not ours alone
    std::filesystem::path ours_;
};

}  // namespace rushlight::desk
