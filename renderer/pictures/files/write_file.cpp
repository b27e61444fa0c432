#include "pictures/files/write_file.h"

#include "pictures/files/left_behind.h"
#include "pictures/files/unfinished_file.h"

#include <memory>

namespace rushlight {
namespace {

namespace fs = std::filesystem;

bool left_to_another = false;

}  // namespace

void leave_files_to_another() {
    left_to_another = true;
}
bool files_are_left_to_another() {
    return left_to_another;
}

void expect_writable(const fs::path& path) {
    if (left_to_another) return;
    const fs::path place = place_for(path);
    settle_what_was_left(place.parent_path());
    const UnfinishedFile unused(place, path);
}

void write_file(const fs::path& path, std::string_view bytes) {
    if (left_to_another) return;
    UnfinishedFile file(place_for(path), path);
    file.write(bytes);
    file.finish();
    file.put_in_place();
}

void write_together(const std::vector<FileBytes>& files) {
    if (left_to_another || files.empty()) return;
    std::vector<std::unique_ptr<UnfinishedFile>> parts;
    std::vector<fs::path> beside, places;
    for (const FileBytes& f : files) {
        const fs::path place = place_for(f.path);
        if (!places.empty() && place.parent_path() != places.front().parent_path())
            throw OutputError("cannot write '" + f.path.string() + "': it is a link into another folder than '" +
                              files.front().path.string() + "', and the two belong together");
        parts.push_back(std::make_unique<UnfinishedFile>(place, f.path));
        parts.back()->write(f.bytes);
        parts.back()->finish();
        beside.push_back(parts.back()->beside());
        places.push_back(place);
    }
    // Killed before this is in its place, all is as it was; killed after, the next run puts them all in theirs.
    UnfinishedFile decision(unfinished_name(places.front().parent_path(), decided), files.front().path);
    decision.write(decision_text(beside, places));
    decision.finish();
    decision.put_in_place();
    for (const auto& part : parts) part->leave();
    for (const auto& part : parts) part->put_in_place();
    std::error_code ignored;
    fs::remove(decision.place(), ignored);
}

}  // namespace rushlight
