// The set-up file that is worked on: its text, every step back and forth, and what else may happen to the file on the
// disk meanwhile. What was acknowledged is on the disk; what somebody else wrote there is never written over.
#pragma once

#include "desk/document/steps.h"
#include "setup/read/setup_file.h"

#include <cstdint>
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
};

class Document {
public:
    /// Reads the file; throws InputError where it is not sound.
    explicit Document(const std::filesystem::path& path);

    using Change = std::function<std::string(const std::string& text)>;
    /// Puts `change` to the text; its result must be a sound set-up file. `base` is the revision that the person saw.
    Outcome edit(std::uint64_t base, const std::string& token, const Change& change);
    Outcome undo(std::uint64_t base);
    Outcome redo(std::uint64_t base);

    /// Looks whether somebody else changed the file. Returns whether there is something to tell: see state().
    bool look_outside();

    struct State {
        std::uint64_t revision = 0;
        std::string why;  // "start", "edit", "undo", "redo", "outside"
        bool can_undo = false, can_redo = false;
        std::string trouble;   // the one line why the file on the disk cannot be read; empty: it can
        std::string conflict;  // what happened to both versions; empty: there is only one
        std::string ours;      // the file that holds ours meanwhile
    };
    State state() const;
    std::string text() const;
    const std::filesystem::path& path() const { return path_; }

    /// One set-up of the present text; throws InputError.
    Setup setup(const std::string& name, const std::string& option) const;
    /// `look` may use the file that was read, and not keep it.
    void with_file(const std::function<void(const SetupFile&)>& look) const;

private:
    Outcome move(std::uint64_t base, Steps& from, Steps& to, bool back);
    Outcome keep_aside(const std::string& before, const Change& change, const std::string& why);
    Outcome outcome(Outcome::Kind kind, std::string message = {}) const;
    bool adopt_outside();
    void put_on_disk(const std::string& text);
    SetupFile read(const std::string& text) const;

    std::filesystem::path path_;
    mutable std::mutex mutex_;
    std::string text_;  // sound
    std::string disk_;  // what is known to stand in the file
    SetupFile file_;
    Steps back_, forth_;
    std::uint64_t revision_ = 1;
    std::string why_ = "start", trouble_, conflict_;
    std::filesystem::path ours_;
};

}  // namespace rushlight::desk
