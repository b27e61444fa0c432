#include "scene/person/body_data.h"

#include <algorithm>
#include <cstring>
#include <sstream>
#include <stdexcept>

// The file goes into the program as it is.
asm(R"(
    .section .rodata
    .balign 16
    .globl rushlight_people
rushlight_people:
    .incbin ")" RUSHLIGHT_PEOPLE R"("
    .globl rushlight_people_end
rushlight_people_end:
    .previous
)");
extern "C" const unsigned char rushlight_people[], rushlight_people_end[];

namespace rushlight {

namespace {

constexpr float metre = 0.1F;  // of the file's decimetres

/// The file's x to the left, y up, z to the front, in our order.
Vec3 ours(float x, float y, float z) {
    return Vec3(z, x, y) * metre;
}

/// The arrays of the file by name, which lie in it as they are in memory.
class Arrays {
public:
    Arrays() {
        const unsigned char* at = rushlight_people + std::strlen("people 1\n");
        while (at < rushlight_people_end) {
            const std::size_t length = *at++;
            std::string name(reinterpret_cast<const char*>(at), length);
            at += length;
            const char kind = static_cast<char>(*at++);
            std::uint32_t count = 0;
            std::memcpy(&count, at, sizeof count);
            at += sizeof count;
            at += (4 - (at - rushlight_people) % 4) % 4;
            found_[name] = {at, count};
            at += count * (kind == 'f' ? 4U : kind == 'h' || kind == 'H' ? 2U : 1U);
        }
    }

    template <class T>
    std::span<const T> get(const std::string& name) const {
        const auto it = found_.find(name);
        if (it == found_.end()) throw std::logic_error("no " + name + " among the people's data");
        return {reinterpret_cast<const T*>(it->second.first), it->second.second};
    }
    bool has(const std::string& name) const { return found_.count(name) > 0; }
    std::vector<std::string> beginning_with(const std::string& word) const {
        std::vector<std::string> names;
        for (auto it = found_.lower_bound(word); it != found_.end() && it->first.starts_with(word); ++it)
            names.push_back(it->first);
        return names;
    }
    float scale(const std::string& name) const { return get<float>(name + " scale")[0]; }

private:
    std::map<std::string, std::pair<const unsigned char*, std::uint32_t>> found_;
};

std::vector<std::uint16_t> numbers(const std::string& text) {
    std::istringstream in(text);
    std::vector<std::uint16_t> all;
    for (int n = 0; in >> n;) all.push_back(static_cast<std::uint16_t>(n));
    return all;
}

std::vector<BoneAtRest> read_bones(std::span<const char> text) {
    std::vector<BoneAtRest> bones;
    std::istringstream in(std::string(text.begin(), text.end()));
    for (std::string line; std::getline(in, line);) {
        const std::size_t a = line.find(';'), b = line.find(';', a + 1);  // behind the second: where it ends
        std::istringstream names(line.substr(0, a));
        BoneAtRest bone;
        std::string parent;
        names >> bone.name >> parent;
        for (std::size_t i = 0; i < bones.size(); ++i)
            if (bones[i].name == parent) bone.parent = static_cast<int>(i);
        bone.head = numbers(line.substr(a + 1, b - a - 1));
        bones.push_back(std::move(bone));
    }
    return bones;
}

Fitted read_fitted(const Arrays& file, const std::string& name) {
    Fitted f;
    f.faces = file.get<std::uint16_t>(name + " faces");
    f.part = file.get<std::uint8_t>(name + " part");
    f.on = file.get<std::uint16_t>(name + " on");
    f.weights = file.get<std::int16_t>(name + " weights");
    f.off = file.get<std::int16_t>(name + " off");
    f.weight_scale = file.scale(name + " weights");
    f.off_scale = file.scale(name + " off") * metre;
    f.hides = file.get<std::uint16_t>(name + " hides");
    const auto measured = file.get<std::uint16_t>(name + " measured");
    const auto over = file.get<float>(name + " over");
    for (std::size_t axis = 0; axis < 3; ++axis) {  // the file's x, y, z
        f.measured.at(axis) = {measured[2 * axis], measured[2 * axis + 1]};
        f.over.at(axis) = over[axis] * metre;
    }
    return f;
}

BodyData read_all() {
    const Arrays file;
    BodyData d;
    const auto base = file.get<float>("base");
    for (std::size_t i = 0; i + 2 < base.size(); i += 3) d.base.push_back(ours(base[i], base[i + 1], base[i + 2]));
    const auto faces = file.get<std::uint16_t>("body faces");
    for (std::size_t i = 0; i + 3 < faces.size(); i += 4)
        d.skin.push_back({faces[i], faces[i + 1], faces[i + 2], faces[i + 3]});
    for (const int side : {0, 1}) {
        const auto eye = file.get<std::uint16_t>(side == 0 ? "eye l" : "eye r");
        d.eyes.at(static_cast<std::size_t>(side)).assign(eye.begin(), eye.end());
    }
    for (const std::string& name : file.beginning_with("target ")) {
        if (name.ends_with(" scale") || name.ends_with(" at")) continue;
        ShapeTarget t;
        if (file.has(name + " at")) t.at = file.get<std::uint16_t>(name + " at");
        t.off = file.get<std::int16_t>(name);
        t.scale = file.scale(name) * metre;
        d.targets[name.substr(std::strlen("target "))] = t;
    }
    for (const char* name :
         {"jumper", "shirt", "tee", "jacket", "dress", "suit trousers", "trousers", "shoes", "brows", "lashes"})
        d.fitted[name] = read_fitted(file, name);
    d.bones = read_bones(file.get<char>("bones"));
    const auto by = file.get<std::uint8_t>("carried by"), much = file.get<std::uint8_t>("carried much");
    d.carried.resize(by.size() / 4);
    for (std::size_t i = 0; i < by.size(); ++i) {
        d.carried[i / 4].bone.at(i % 4) = by[i];
        d.carried[i / 4].much.at(i % 4) = much[i];
    }
    return d;
}

}  // namespace

int BodyData::bone(std::string_view name) const {
    for (std::size_t i = 0; i < bones.size(); ++i)
        if (bones[i].name == name) return static_cast<int>(i);
    throw std::logic_error("no bone " + std::string(name));
}

const BodyData& body_data() {
    static const BodyData data = read_all();
    return data;
}

Vec3 mean_of(const Points& shape, const std::vector<std::uint16_t>& corners) {
    Vec3 sum(0);
    for (const std::uint16_t c : corners) sum += shape[c];
    return sum / static_cast<float>(std::max<std::size_t>(1, corners.size()));
}

void add_target(Points& shape, std::string_view name, float share) {
    if (share == 0) return;
    const auto& targets = body_data().targets;
    const auto it = targets.find(name);
    if (it == targets.end()) throw std::logic_error("no target " + std::string(name));
    const ShapeTarget& t = it->second;
    const float much = share * t.scale;
    for (std::size_t i = 0; 3 * i + 2 < t.off.size(); ++i) {
        const auto off = [&](std::size_t axis) { return much * static_cast<float>(t.off[3 * i + axis]); };
        shape[t.at.empty() ? i : t.at[i]] += Vec3(off(2), off(0), off(1));
    }
}

Points fitted_on(const Fitted& thing, const Points& body, const Points& sized) {
    constexpr std::array<int, 3> ours_of{1, 2, 0};  // the file's x lies along our y, and so on
    std::array<float, 3> size{};
    for (std::size_t axis = 0; axis < 3; ++axis) {
        const auto& [a, b] = thing.measured.at(axis);
        size.at(axis) =
            std::abs(sized[a][ours_of.at(axis)] - sized[b][ours_of.at(axis)]) / thing.over.at(axis) * thing.off_scale;
    }
    Points points(thing.count());
    for (std::size_t i = 0; i < points.size(); ++i) {
        Vec3 p(0);
        for (std::size_t k = 0; k < 3; ++k)
            p += body[thing.on[3 * i + k]] * (thing.weight_scale * static_cast<float>(thing.weights[3 * i + k]));
        const auto off = [&](std::size_t axis) { return size.at(axis) * static_cast<float>(thing.off[3 * i + axis]); };
        points[i] = p + Vec3(off(2), off(0), off(1));
    }
    return points;
}

}  // namespace rushlight
