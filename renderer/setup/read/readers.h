// One reader for each kind of thing in the file. Each takes the thing's layered table.
#pragma once

#include "setup/keys/layered_table.h"
#include "setup/plain/place.h"
#include "setup/plain/rig.h"
#include "setup/plain/target.h"
#include "setup/read/luminaires.h"
#include "setup/read/rough_models.h"
#include "setup/read/things.h"

#include <algorithm>
#include <array>

namespace rushlight {

/// The word of a key whose words stand in `words` in the order of an enum.
template <class Enum, std::size_t count>
Enum word_in(const LayeredTable& table, std::string_view key, const std::array<std::string_view, count>& words) {
    return static_cast<Enum>(std::find(words.begin(), words.end(), table.word(key)) - words.begin());
}

/// A finish as written: a catalogue name, a reflectance, or a table; the key's default when left out.
Finish finish_in(const LayeredTable& table, std::string_view key);
Finish finish_from(const FileContext& context, const std::string& title, const toml::node& node);
/// Refuses an unknown hue.
std::string hue_in(const LayeredTable& table, std::string_view key);

/// The glass of an opening: a share, or "none", "single", "double", "triple".
struct Glass {
    bool glazed = true;
    double transmittance = 0.8;
};
Glass glass_in(const LayeredTable& table);

/// The curtain of an opening: a share, or a named curtain or cloth. Nothing when none hangs there.
std::optional<Finish> curtain_in(const LayeredTable& table);

/// Slats in an opening; nothing when there are none.
std::optional<Blind> blind_in(const LayeredTable& opening);

/// Shares of all gels that `key` names, one after the other, before white light of that kelvin.
Spectrum gels_in(const LayeredTable& table, std::string_view key, double kelvin);
/// Their names for people, with a plus between; "" for none.
std::string gel_words_in(const LayeredTable& table, std::string_view key);

/// The place with its openings and furniture. Triangles of models are read and checked but only copied into the
/// place if `with_models`.
Place read_place(const FileContext& context, const toml::table& root, const Things& things, RoughModels& models,
                 bool with_models);

/// `layers`: [day] of the file, of the set-up, of the option, as many as there are.
Day read_day(const FileContext& context, const Place& place, std::vector<const toml::table*> layers);

/// Circuits stand at the top of the file, `root`.
Rig read_rig(const FileContext& context, const toml::table& root, const Things& things, Luminaires& luminaires);
std::vector<Circuit> read_circuits(const FileContext& context, const toml::table& root);
Lamp read_lamp(const LayeredTable& table, const std::vector<Mark>& marks, Luminaires& luminaires);
/// `above`: the cameras that stand before it in the file, for a reverse.
Camera read_camera(const LayeredTable& table, const std::vector<Mark>& marks, const std::vector<Camera>& above);
/// The item that `like` names, by its own name; "" for none.
std::string item_name_in(const LayeredTable& table);
Panel read_panel(const LayeredTable& table, PanelKind kind, const std::vector<Mark>& marks);

/// Two times of a day, the earlier first: "from" and "until" in hours. Nothing where the key is not there.
std::optional<std::pair<double, double>> hours_in(const LayeredTable& table, std::string_view key);
/// Who stands on a mark: `given` is its table, `mark` its name, which chooses a face for somebody without one.
StandIn read_person(const std::optional<LayeredTable>& given, const std::string& mark);
/// The mark whose name stands there.
const Mark& mark_named(const LayeredTable& table, std::string_view key, const std::vector<Mark>& marks);
std::vector<Target> read_targets(const FileContext& context, const toml::table& root,
                                 const std::vector<std::string>& setup_names);
BalanceRules read_balance(const FileContext& context, const toml::table& root);

/// A point in brackets, the face of the mark that is named, or the spot of that name (spots.h) as seen from `from`.
Vec3 point_or_face(const LayeredTable& table, std::string_view key, const std::vector<Mark>& marks, const Vec3& from);
/// Unit vector from `at` to `to`; refuses `key` when they coincide.
Vec3 direction_to(const LayeredTable& table, std::string_view key, const Vec3& at, const Vec3& to);
Vec3 point_in(const LayeredTable& table, std::string_view key);

}  // namespace rushlight
