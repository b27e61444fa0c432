// Words and tables that people type, and values put into their files.
#include "fuzz/entry_points.h"
#include "fuzz/must.h"
#include "setup/advice/what_if.h"
#include "setup/edit/toml_text.h"
#include "setup/read/setup_file.h"
#include "setup/text/file_text.h"
#include "setup/text/metered_table.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <sstream>

namespace rushlight::fuzz {

namespace {

/// A value as it may stand in a file; nothing for dates and the like, which are not written.
std::optional<NewValue> value_of(const toml::node& node) {
    if (const auto* b = node.as_boolean()) return NewValue{b->get()};
    if (const auto* s = node.as_string()) return NewValue{s->get()};
    if (const auto n = node.value<double>(); node.is_number() && n && std::isfinite(*n)) return NewValue{*n};
    if (const auto* list = node.as_array()) {
        NewValue::List all;
        for (const toml::node& one : *list) {
            const auto v = value_of(one);
            if (!v) return std::nullopt;
            all.push_back(*v);
        }
        return NewValue{all};
    }
    if (const auto* table = node.as_table()) {
        NewValue::Table all;
        for (const auto& [key, one] : *table) {
            const auto v = value_of(one);
            if (!v) return std::nullopt;
            all.push_back({std::string(key.str()), *v});
        }
        return NewValue{all};
    }
    return std::nullopt;
}

}  // namespace

void feed_measured(const std::string& bytes) {
    feed([&] {
        const MeteredTable table = metered_table_from_text(bytes, "fuzz.csv");
        must(!table.lines.empty(), "a table says something");
        for (const MeteredLine& line : table.lines) {
            must(!line.what.empty() && line.line > 0 && line.column > 0, "a reading has a name and a place");
            must(!line.lux || (std::isfinite(*line.lux) && *line.lux > 0), "lux are a number");
            must(!line.kelvin || (std::isfinite(*line.kelvin) && *line.kelvin > 0), "kelvin are a number");
        }
        for (const std::string& r : table.remarks) must(one_line(r), "a remark is one line");
    });
}

void feed_what_if(const std::string& bytes) {
    static const Setup two_lamps = SetupFile::from_text(R"([place]
room = { width = 4, depth = 3, height = 2.6 }
[[lamp]]
name = "key"
shape = "ball"
at = [1, 1, 2]
output = "900 lm"
level = "50%"
[[lamp]]
name = "far = back"
shape = "ball"
at = [3, 1, 2]
kelvin = 3200
output = "600 lm"
gel = "quarter blue"
)",
                                                        "fuzz.toml")
                                       .setup();
    WhatIf what_if;
    std::istringstream lines(bytes);
    for (std::string line; std::getline(lines, line) && what_if.levels.size() + what_if.gels.size() < 8;) {
        if (line.rfind("gel ", 0) == 0)
            what_if.gels.push_back(line.substr(4));
        else
            what_if.levels.push_back(line.substr(line.rfind("level ", 0) == 0 ? 6 : 0));
    }
    feed([&] {
        const Setup asked = with(what_if, two_lamps);
        for (const Lamp& lamp : to_trace(two_lamps, asked).rig.lamps) {
            must(lamp.level >= 0 && lamp.level <= 1, "a level lies between off and full");
            for (const float share : lamp.gel.band)
                must(std::isfinite(share) && share >= 0 && share <= 1, "a gel takes light away");
        }
    });
}

void feed_toml_text(const std::string& bytes) {
    const std::size_t line = std::min(bytes.find('\n'), bytes.size());
    const std::string wish = bytes.substr(0, line), text = bytes.substr(std::min(line + 1, bytes.size()));
    TomlPath table;
    std::string key;
    std::optional<NewValue> value;
    // The first line's innermost first value, and the way to it.
    if (!feed([&] {
            const toml::table root = parse_toml(wish, "wish.toml");
            const toml::table* at = &root;
            while (!at->empty()) {
                const auto first = at->begin();
                const toml::node& node = first->second;
                key = std::string(first->first.str());
                value = value_of(node);
                if (!node.is_table() || node.as_table()->empty()) break;
                at = node.as_table();
                table.emplace_back(key);
            }
        }))
        return;
    if (!value) return;
    feed([&] {
        TomlText changed(text, "fuzz.toml");
        const toml::table before = changed.root();
        changed.set(table, key, *value);
        must(parse_toml(changed.text(), "fuzz.toml") == changed.root(), "the text says what is held of it");
        TomlPath way = table;
        way.emplace_back(key);
        must(changed.at(way) != nullptr, "what was set is there");
        const std::string once = changed.text();
        changed.set(table, key, *value);
        must(changed.text() == once, "the same once more changes nothing");
        changed.take_out(table, key);
        must(changed.at(way) == nullptr, "what was taken out is gone");
        must(parse_toml(changed.text(), "fuzz.toml") == changed.root(), "and the text says so");
    });
}

}  // namespace rushlight::fuzz
