#include "results/light/layer_cache.h"

#include "quantity/content.h"

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <chrono>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <limits>
#include <vector>

#include <elf.h>
#include <fcntl.h>
#include <link.h>
#include <sys/stat.h>
#include <unistd.h>

namespace rushlight {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view first_line = "rushlight layers 1\n";
constexpr const char* suffix = ".layers";
constexpr std::size_t digits = 32;  // of a fingerprint

/// Parts of files that a program left behind when it was ended are thrown out after this.
constexpr auto abandoned_after = std::chrono::hours(1);

/// All bytes of a plain file of at most `most`; nothing of anything else, and nobody waits for it.
std::optional<std::string> plain_file(const fs::path& path, std::uintmax_t most) {
    const int file = ::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC);
    if (file < 0) return std::nullopt;
    struct stat it {};
    std::optional<std::string> bytes;
    if (::fstat(file, &it) == 0 && S_ISREG(it.st_mode) && static_cast<std::uintmax_t>(it.st_size) <= most) {
        bytes.emplace(static_cast<std::size_t>(it.st_size), '\0');
        std::size_t got = 0;
        while (got < bytes->size()) {
            const ssize_t n = ::read(file, bytes->data() + got, bytes->size() - got);
            if (n < 0 && errno == EINTR) continue;
            if (n <= 0) break;
            got += static_cast<std::size_t>(n);
        }
        if (got < bytes->size()) bytes.reset();
    }
    ::close(file);
    return bytes;
}

}  // namespace

LayerCache::LayerCache(fs::path folder, std::uintmax_t limit)
    : folder_(std::move(folder)), limit_(limit), keeps_(!folder_.empty()) {}

LayerCache LayerCache::of(Team* team, fs::path folder, std::uintmax_t limit) {
    LayerCache cache(std::move(folder), limit);
    cache.team_ = team;
    if (team != nullptr) cache.keeps_ = team->first_says(cache.keeps_);
    return cache;
}

namespace {

/// Of a person's cache folder; empty where there is none.
fs::path folder_named(const char* name) {
    const auto folder_of = [](const char* variable) -> fs::path {
        const char* value = std::getenv(variable);
        const fs::path path = value != nullptr ? value : "";
        return path.is_absolute() ? path : fs::path();  // the specification: others are to be ignored
    };
    if (const fs::path cache = folder_of("XDG_CACHE_HOME"); !cache.empty()) return cache / "rushlight" / name;
    if (const fs::path home = folder_of("HOME"); !home.empty()) return home / ".cache" / "rushlight" / name;
    return {};
}

}  // namespace

LayerCache LayerCache::of_this_person(Team* team) {
    return of(team, folder_named("layers"));
}

LayerCache LayerCache::of_shapes() {
    constexpr std::uintmax_t limit = 256ULL << 20;
    return LayerCache(folder_named("shapes"), limit);
}

fs::path LayerCache::place(const std::string& fingerprint) const {
    return folder_ / (fingerprint + suffix);
}

std::optional<std::string> LayerCache::find(const std::string& fingerprint) const {
    if (!keeps()) return std::nullopt;
    if (team_ == nullptr) return look_up(fingerprint);
    const auto own = team_->first() ? look_up(fingerprint) : std::nullopt;
    const bool found = team_->first_says(own.has_value());
    if (!found) return std::nullopt;
    return team_->exchange(own ? *own : std::string()).front();
}

std::optional<std::string> LayerCache::look_up(const std::string& fingerprint) const {
    const std::size_t head = first_line.size() + 2 * digits;
    auto bytes = plain_file(place(fingerprint), largest() + head);
    if (!bytes || bytes->size() < head || bytes->compare(0, first_line.size(), first_line) != 0 ||
        bytes->compare(first_line.size(), digits, fingerprint) != 0)
        return std::nullopt;
    const std::string sum = bytes->substr(first_line.size() + digits, digits);
    bytes->erase(0, head);
    if (rushlight::fingerprint(*bytes) != sum) return std::nullopt;
    std::error_code ignored;
    fs::last_write_time(place(fingerprint), fs::file_time_type::clock::now(),
                        ignored);  // used: not the oldest any more
    return bytes;
}

void LayerCache::keep(const std::string& fingerprint, std::string_view bytes) const {
    if (!keeps() || bytes.size() > largest() || (team_ != nullptr && !team_->first())) return;
    std::error_code failed;
    fs::create_directories(folder_, failed);
    if (failed) return;
    static std::atomic<unsigned> count{0};
    const fs::path partial =
        folder_ / ("." + fingerprint + "." + std::to_string(::getpid()) + "-" + std::to_string(count++) + ".partial");
    {
        std::ofstream out(partial, std::ios::binary);
        out << first_line << fingerprint << rushlight::fingerprint(bytes) << bytes;
        out.close();
        if (!out) failed = std::make_error_code(std::errc::io_error);
    }
    if (!failed) fs::rename(partial, place(fingerprint), failed);
    if (failed == std::errc::is_a_directory) {  // somebody's folder, among what may be deleted at any time
        fs::remove_all(place(fingerprint), failed);
        if (!failed) fs::rename(partial, place(fingerprint), failed);
    }
    if (failed) {
        fs::remove(partial, failed);
        return;
    }
    throw_out_oldest();
}

void LayerCache::forget(const std::string& fingerprint) const {
    std::error_code ignored;
    if (keeps() && (team_ == nullptr || team_->first())) fs::remove(place(fingerprint), ignored);
}

void LayerCache::throw_out_oldest() const {
    struct Entry {
        fs::path path;
        std::uintmax_t size;
        fs::file_time_type used;
    };
    std::vector<Entry> entries;
    std::uintmax_t all = 0;
    std::error_code failed;
    for (auto it = fs::directory_iterator(folder_, failed); !failed && it != fs::directory_iterator();
         it.increment(failed)) {
        std::error_code gone;
        const Entry e{it->path(), it->file_size(gone), it->last_write_time(gone)};
        if (gone) continue;
        if (e.path.extension() == ".partial" && fs::file_time_type::clock::now() - e.used > abandoned_after)
            fs::remove(e.path, gone);
        if (e.path.extension() != suffix) continue;
        if (e.size > largest() + first_line.size() + 2 * digits) {  // none of ours: it must not push out those that are
            fs::remove(e.path, gone);
            continue;
        }
        entries.push_back(e);
        all += e.size;
    }
    std::sort(entries.begin(), entries.end(), [](const Entry& a, const Entry& b) { return a.used < b.used; });
    for (const Entry& e : entries) {
        if (all <= limit_) return;
        fs::remove(e.path, failed);
        all -= e.size;
    }
}

namespace {

/// What the linker wrote into the program as a digest of all of it, or nothing: the note is named GNU and of type 3
/// (Linux Standard Base; binutils, --build-id).
std::string build_id() {
    std::string id;
    dl_iterate_phdr(
        [](dl_phdr_info* program, std::size_t, void* to) {
            for (int i = 0; i < program->dlpi_phnum; ++i) {
                const ElfW(Phdr)& part = program->dlpi_phdr[i];
                if (part.p_type != PT_NOTE) continue;
                const char* at = reinterpret_cast<const char*>(program->dlpi_addr + part.p_vaddr);
                const char* const end = at + part.p_memsz;
                const auto whole_words = [](std::size_t n) { return (n + 3) / 4 * 4; };
                while (at + sizeof(ElfW(Nhdr)) <= end) {
                    ElfW(Nhdr) note;
                    std::memcpy(&note, at, sizeof note);
                    const char* const name = at + sizeof note;
                    const char* const digest = name + whole_words(note.n_namesz);
                    if (digest + note.n_descsz > end) break;
                    if (note.n_type == NT_GNU_BUILD_ID &&
                        std::string_view(name, note.n_namesz) == std::string_view("GNU", 4))
                        static_cast<std::string*>(to)->assign(digest, note.n_descsz);
                    at = digest + whole_words(note.n_descsz);
                }
            }
            return 1;  // the program itself comes first
        },
        &id);
    return id;
}

}  // namespace

const std::string& program_fingerprint() {
    static const std::string one = [] {
        if (const std::string id = build_id(); !id.empty()) return rushlight::fingerprint(id);
        const auto bytes = plain_file("/proc/self/exe", std::numeric_limits<std::uintmax_t>::max());
        return bytes ? rushlight::fingerprint(*bytes) : std::string();
    }();
    return one;
}

}  // namespace rushlight
