#include "desk/document/document.h"

#include "pictures/files/write_file.h"
#include "setup/text/file_text.h"
#include "setup/text/where.h"

#include <ctime>

namespace rushlight::desk {

namespace {

constexpr const char* moved_on = "the file has changed meanwhile; look at it as it is now";

/// FILE.desk-20261014-104000.toml, or with a number where that is taken.
std::filesystem::path free_name_beside(const std::filesystem::path& path) {
    char stamp[32];
    const std::time_t now = std::time(nullptr);
    std::tm local{};
    ::localtime_r(&now, &local);
    std::strftime(stamp, sizeof stamp, "%Y%m%d-%H%M%S", &local);
    for (int i = 0;; ++i) {
        std::filesystem::path name = path;
        name += std::string(".desk-") + stamp + (i > 0 ? "-" + std::to_string(i) : "") + ".toml";
        if (!std::filesystem::exists(name)) return name;
    }
}

}  // namespace

Document::Document(const std::filesystem::path& path)
    : path_(path), text_(text_of_file(path.string())), disk_(text_), file_(read(text_)) {
    // Written through a link, the file that it leads to is meant.
    std::error_code failed;
    if (const auto real = std::filesystem::canonical(path, failed); !failed) path_ = real;
}

SetupFile Document::read(const std::string& text) const {
    return SetupFile::from_text(text, path_.string());
}

Outcome Document::outcome(Outcome::Kind kind, std::string message) const {
    return {kind, std::move(message), revision_};
}

void Document::put_on_disk(const std::string& text) {
    if (!trouble_.empty()) {
        // Somebody is at work in the file: theirs stays, ours goes beside it.
        if (ours_.empty()) ours_ = free_name_beside(path_);
        write_file(ours_, text);
        conflict_ = "the file on the disk cannot be read (" + trouble_ +
                    "); it was left as it is, and your changes are in " + ours_.filename().string();
        return;
    }
    write_file(path_, text);
    disk_ = text;
}

bool Document::adopt_outside() {
    std::string found;
    try {
        found = text_of_file(path_.string());
    } catch (const InputError& error) {
        const std::string line = std::string(error.what()) + "; the next change puts it back";
        const bool news = conflict_ != line;
        conflict_ = line;
        disk_.clear();
        return news;
    }
    if (found == disk_) return false;
    disk_ = found;
    try {
        SetupFile file = read(found);
        trouble_.clear();
        if (found == text_) return true;
        if (!ours_.empty())
            conflict_ = "the file was changed outside and is shown as it is there; your version is in " +
                        ours_.filename().string() + ", and one step back";
        ours_.clear();
        back_.push(Step::between(text_, found, ""));
        forth_.clear();
        text_ = found;
        file_ = std::move(file);
        ++revision_;
        why_ = "outside";
    } catch (const InputError& error) {
        trouble_ = error.what();
    }
    return true;
}

bool Document::look_outside() {
    const std::lock_guard lock(mutex_);
    return adopt_outside();
}

Outcome Document::edit(std::uint64_t base, const std::string& token, const Change& change) {
    const std::lock_guard lock(mutex_);
    if (base != revision_) return outcome(Outcome::Kind::stale, moved_on);
    const std::string before = text_;
    adopt_outside();  // what it brings is kept, and the change put on top
    try {
        const std::string next = change(text_);
        if (next == text_) return outcome(Outcome::Kind::done);
        SetupFile file = read(next);
        put_on_disk(next);
        if (trouble_.empty()) conflict_.clear();
        const bool same_drag = !token.empty() && !back_.empty() && back_.last().token == token;
        std::string old_text = text_;
        if (same_drag) back_.pop().undo(old_text);
        back_.push(Step::between(old_text, next, token));
        forth_.clear();
        text_ = next;
        file_ = std::move(file);
        ++revision_;
        why_ = "edit";
        return outcome(Outcome::Kind::done);
    } catch (const InputError& error) {
        if (text_ == before) return outcome(Outcome::Kind::refused, error.what());
        return keep_aside(before, change, error.what());
    } catch (const OutputError& error) {
        return outcome(Outcome::Kind::refused, error.what());
    }
}

/// The file changed outside, and the change does not go with it: theirs stands, ours is kept beside it.
Outcome Document::keep_aside(const std::string& before, const Change& change, const std::string& why) {
    try {
        const std::string ours = change(before);
        read(ours);
        const std::filesystem::path name = free_name_beside(path_);
        write_file(name, ours);
        conflict_ = "the file was changed outside, and your change does not go with it (" + why +
                    "); your version is in " + name.filename().string();
        return outcome(Outcome::Kind::stale, conflict_);
    } catch (const std::runtime_error&) {
        return outcome(Outcome::Kind::refused, why);
    }
}

Outcome Document::move(std::uint64_t base, Steps& from, Steps& to, bool back) {
    const std::lock_guard lock(mutex_);
    adopt_outside();
    if (base != revision_) return outcome(Outcome::Kind::stale, moved_on);
    if (from.empty())
        return outcome(Outcome::Kind::refused, back ? "nothing was changed before this" : "nothing was taken back");
    std::string next = text_;
    back ? from.last().undo(next) : from.last().redo(next);
    try {
        SetupFile file = read(next);
        put_on_disk(next);
        Step moved = from.pop();
        moved.token.clear();  // a drag that was taken back is over
        to.push(std::move(moved));
        text_ = next;
        file_ = std::move(file);
        ++revision_;
        why_ = back ? "undo" : "redo";
        return outcome(Outcome::Kind::done);
    } catch (const std::runtime_error& error) {  // a model or luminaire file that is gone; a full disk
        return outcome(Outcome::Kind::refused, error.what());
    }
}

Outcome Document::undo(std::uint64_t base) {
    return move(base, back_, forth_, true);
}

Outcome Document::redo(std::uint64_t base) {
    return move(base, forth_, back_, false);
}

Document::State Document::state() const {
    const std::lock_guard lock(mutex_);
    return {revision_, why_, !back_.empty(), !forth_.empty(), trouble_, conflict_, ours_.string()};
}

std::string Document::text() const {
    const std::lock_guard lock(mutex_);
    return text_;
}

Setup Document::setup(const std::string& name, const std::string& option) const {
    const std::lock_guard lock(mutex_);
    return file_.setup(name, option);
}

void Document::with_file(const std::function<void(const SetupFile&)>& look) const {
    const std::lock_guard lock(mutex_);
    look(file_);
}

}  // namespace rushlight::desk
