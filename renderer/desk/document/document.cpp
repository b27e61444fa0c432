#include "desk/document/document.h"

#include "desk/document/told.h"
#include "pictures/files/write_file.h"
#include "setup/text/file_text.h"
#include "setup/text/where.h"
#include "setup/text/whole_file.h"

#include <algorithm>
#include <ctime>
#include <utility>

namespace rushlight::desk {

namespace {

constexpr const char* moved_on = "the file has changed meanwhile; look at it as it is now";
constexpr const char* never_at_rest = "another program writes the file all the time; try again";
constexpr int most_tries = 50;
/// So long ago an outside program may have read what it writes now.
constexpr auto a_moment = std::chrono::seconds(2);
constexpr std::size_t most_recent_bytes = std::size_t{32} << 20;

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
    : file_on_disk_(path),
      text_(text_of_file(file_on_disk_.path().string())),
      disk_{OnDisk::Kind::text, text_},
      file_(read(text_)) {
    // A desk that was killed while it wrote may leave what nobody was told of; most often it is what stands there.
    for (const std::filesystem::path& left : file_on_disk_.left_behind()) {
        std::error_code failed;
        if (whole_file(left.string(), largest_setup_file, "a set-up file") == text_) {
            std::filesystem::remove(left, failed);
            continue;
        }
        const std::filesystem::path name = free_name_beside(file_on_disk_.path());
        std::filesystem::rename(left, name, failed);
        if (!failed)
            conflict_ = "a desk ended in the middle of a change; what it was writing is in " + name.filename().string();
    }
}

SetupFile Document::read(const std::string& text) const {
    return SetupFile::from_text(text, path().string());
}

std::string Document::told(const std::string& line) const {
    return told_from(path().parent_path(), line);
}

Outcome Document::outcome(Outcome::Kind kind, std::string message) const {
    return {kind, told(message), revision_, ""};
}

/// Ours, while the file itself is not to be touched.
void Document::write_beside(const std::string& text) {
    if (ours_.empty()) ours_ = free_name_beside(path());
    write_file(ours_, text);
    conflict_ = "the file on the disk cannot be read (" + trouble_ +
                "); it was left as it is, and your changes are in " + ours_.filename().string();
}

/// False where somebody else wrote meanwhile: then nothing was done.
bool Document::put_on_disk(const std::string& text) {
    if (!file_on_disk_.replace(disk_, text)) return false;
    disk_ = {OnDisk::Kind::text, text};
    return true;
}

void Document::show(std::string text, SetupFile file, const char* why) {
    text_ = std::move(text);
    file_ = std::move(file);
    ++revision_;
    why_ = why;
}

void Document::forget_recent(bool all) {
    const auto now = std::chrono::steady_clock::now();
    std::size_t bytes = 0;
    for (const Recent& r : recent_) bytes += r.text.size();
    while (!recent_.empty() &&
           (all || bytes > most_recent_bytes || recent_.size() == 1 || now - recent_[1].when > a_moment)) {
        bytes -= recent_.front().text.size();
        recent_.pop_front();
    }
}

/// A sound text that somebody else wrote. It may come from one who read the file before our last edits, as `base` if
/// that is known: those are put on top again. Each version is a step of undo.
void Document::adopt(const std::string& theirs, SetupFile file, const std::string* base) {
    forget_recent();
    const auto distance = [](const std::string& from, const std::string& to) {
        const Step step = Step::between(from, to, "");
        return step.before.size() + step.after.size();
    };
    std::size_t since = recent_.size();  // the edits from here on are not in it
    std::size_t nearest = distance(text_, theirs);
    for (std::size_t i = recent_.size(); i-- > 0;) {
        const std::size_t far = distance(recent_[i].text, theirs);
        // Exactly as it was before is meant so.
        if (base ? recent_[i].text == *base : far > 0 && far < nearest) nearest = far, since = i + 1;
    }
    const std::string mine = text_;
    std::vector<Change> on_top;
    for (std::size_t i = since; i < recent_.size(); ++i) on_top.push_back(recent_[i].change);
    back_.push(Step::between(text_, theirs, ""));
    forth_.clear();
    show(theirs, std::move(file), "outside");
    // It may be read as it is, and written back once more, before our edits are on it.
    const auto now = std::chrono::steady_clock::now();
    recent_.assign({Recent{theirs, {}, now}});
    if (on_top.empty()) return;
    try {
        std::string both = theirs;
        for (Change& change : on_top) {
            both = change(both);
            recent_.push_back({both, std::move(change), now});
        }
        SetupFile merged = read(both);
        back_.push(Step::between(theirs, both, ""));
        show(std::move(both), std::move(merged), "outside");
    } catch (const std::runtime_error&) {
        recent_.clear();
        const std::filesystem::path name = free_name_beside(path());
        write_file(name, mine);
        conflict_ =
            "another program wrote the file at the same moment, and your last change does not go with it; "
            "your version is in " +
            name.filename().string() + ", and one step back";
    }
}

/// What stands on the disk and was not known of.
void Document::see(const OnDisk& found) {
    disk_ = found;
    trouble_ = found.kind == OnDisk::Kind::unreadable ? found.text : "";
    if (found.kind != OnDisk::Kind::text) return;
    try {
        SetupFile file = read(found.text);
        const bool other = found.text != text_;
        if (!ours_.empty())
            conflict_ = other ? "another program changed the file, and the desk shows its version; yours is in " +
                                    ours_.filename().string() + ", and one step back"
                              : "";
        ours_.clear();
        if (other) adopt(found.text, std::move(file), nullptr);
    } catch (const InputError& error) {
        trouble_ = told(error.what());
    }
}

/// What a program wrote into a file that it held open while it was replaced.
void Document::see_late(const SharedFile::Late& late) {
    if (late.after == text_) return;
    const bool known =
        std::any_of(recent_.begin(), recent_.end(), [&](const Recent& r) { return r.text == late.before; });
    try {
        SetupFile file = read(late.after);
        conflict_ = "another program wrote the file at the same moment";
        if (known) return adopt(late.after, std::move(file), &late.before);
        back_.push(Step::between(text_, late.after, ""));
        back_.push(Step::between(late.after, text_, ""));
        forth_.clear();
        conflict_ += "; its version is one step back";
    } catch (const InputError&) {
        const std::filesystem::path name = free_name_beside(path());
        write_file(name, late.after);
        conflict_ = "another program wrote the file at the same moment and left mistakes in it; what it wrote is in " +
                    name.filename().string();
    }
}

/// Whether the disk is still to have what is shown.
bool Document::owed() const {
    return trouble_.empty() && disk_.kind == OnDisk::Kind::text && disk_.text != text_;
}

/// Everything that others did to the file. Returns whether there was anything.
bool Document::catch_up() {
    bool news = false;
    for (int i = 0; i < most_tries; ++i) {
        const OnDisk found = file_on_disk_.look();
        if (found != disk_) {
            see(found);
            news = true;
        } else if (const auto late = file_on_disk_.written_late()) {
            see_late(*late);
            news = true;
        } else if (!owed()) {
            break;
        }
        if (owed()) put_on_disk(text_);
    }
    const std::string name = path().filename().string();
    std::string away;
    if (file_on_disk_.is_with_another_desk()) away = "another desk has " + name + " open, too; end one of them";
    if (disk_.kind == OnDisk::Kind::gone) away = name + " is gone from the disk; the next change puts it back";
    news = news || away != away_;
    away_ = std::move(away);
    return news;
}

bool Document::look_outside() {
    const std::lock_guard lock(mutex_);
    return catch_up();
}

Outcome Document::edit(std::uint64_t base, const std::string& token, const Change& change) {
    const std::lock_guard lock(mutex_);
    if (base != revision_) return outcome(Outcome::Kind::stale, moved_on);
    const std::string before = text_;
    try {
        for (int tries = 0; tries < most_tries; ++tries) {
            catch_up();  // what it brings is kept, and the change put on top
            const std::string next = change(text_);
            if (next == text_) return outcome(Outcome::Kind::done);
            SetupFile file = read(next);
            const bool beside = !trouble_.empty();
            if (beside)
                write_beside(next);
            else if (!put_on_disk(next))
                continue;
            forget_recent(beside);
            if (!beside) {
                conflict_.clear();
                away_.clear();
                ours_.clear();
                if (recent_.empty()) recent_.push_back({text_, {}, {}});
                recent_.push_back({next, change, std::chrono::steady_clock::now()});
            }
            const bool same_drag = !token.empty() && !back_.empty() && back_.last().token == token;
            std::string old_text = text_;
            if (same_drag) back_.pop().undo(old_text);
            back_.push(Step::between(old_text, next, token));
            forth_.clear();
            show(next, std::move(file), "edit");
            Outcome done = outcome(Outcome::Kind::done);
            if (beside) done.beside = ours_.filename().string();
            return done;
        }
        return outcome(Outcome::Kind::refused, never_at_rest);
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
        const std::filesystem::path name = free_name_beside(path());
        write_file(name, ours);
        conflict_ = "the file was changed outside, and your change does not go with it (" + told(why) +
                    "); your version is in " + name.filename().string();
        Outcome aside = outcome(Outcome::Kind::stale, conflict_);
        aside.beside = name.filename().string();
        return aside;
    } catch (const std::runtime_error&) {
        return outcome(Outcome::Kind::refused, why);
    }
}

Outcome Document::move(std::uint64_t base, Steps& from, Steps& to, bool back) {
    const std::lock_guard lock(mutex_);
    try {
        for (int tries = 0; tries < most_tries; ++tries) {
            catch_up();
            if (base != revision_) return outcome(Outcome::Kind::stale, moved_on);
            if (from.empty())
                return outcome(Outcome::Kind::refused,
                               back ? "nothing was changed before this" : "nothing was taken back");
            std::string next = text_;
            back ? from.last().undo(next) : from.last().redo(next);
            SetupFile file = read(next);
            const bool beside = !trouble_.empty();
            if (beside)
                write_beside(next);
            else if (!put_on_disk(next))
                continue;
            if (!beside) away_.clear();
            forget_recent(true);
            Step moved = from.pop();
            moved.token.clear();  // a drag that was taken back is over
            to.push(std::move(moved));
            show(std::move(next), std::move(file), back ? "undo" : "redo");
            Outcome done = outcome(Outcome::Kind::done);
            if (beside) done.beside = ours_.filename().string();
            return done;
        }
        return outcome(Outcome::Kind::refused, never_at_rest);
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
    return {revision_,          why_,
            !back_.empty(),     !forth_.empty(),
            trouble_,           conflict_.empty() ? away_ : conflict_,
            !conflict_.empty(), ours_.filename().string()};
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
