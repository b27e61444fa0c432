#include "setup/keys/key_table.h"

#include "setup/plain/catalogues.h"
#include "setup/read/setup_file.h"

#include <gtest/gtest.h>

#include <fstream>
#include <set>
#include <string>

namespace rushlight {
namespace {

TEST(KeyTable, IsWellFormed) {
    std::set<std::string_view> sections;
    for (const Section& s : key_table()) {
        EXPECT_TRUE(sections.insert(s.name).second);
        std::set<std::string_view> keys;
        for (const Key& k : s.keys) {
            EXPECT_TRUE(keys.insert(k.name).second) << s.name << " " << k.name;
            EXPECT_LE(k.low, k.high) << k.name;
            EXPECT_EQ(k.kind == KeyKind::word, !k.words.empty()) << k.name;
        }
    }
}

std::string reference_page() {
    std::ifstream in(std::string(RUSHLIGHT_SOURCE) + "/docs/set-up-file.md");
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

TEST(ReferencePage, HoldsTheKeyTable) {
    EXPECT_NE(reference_page().find(key_reference()), std::string::npos)
        << "print key_reference() into docs/set-up-file.md";
}

TEST(ReferencePage, HoldsEveryName) {
    const std::string page = reference_page();
    for (const NamedFinish& f : finish_catalogue())
        EXPECT_NE(page.find("| " + f.finish.name + " | "), std::string::npos) << f.finish.name;
    for (const auto& names : {names_of(cloth_kinds()), names_of(gel_kinds()), names_of(sky_kinds())})
        for (const std::string& n : names) EXPECT_NE(page.find("| " + n + " | "), std::string::npos) << n;
    for (const auto& names : {names_of(glass_kinds()), names_of(hair_kinds()), hue_names()})
        for (const std::string& n : names) EXPECT_NE(page.find(n), std::string::npos) << n;
}

TEST(ReferencePage, ItsFirstExampleIsSound) {
    const std::string page = reference_page(), fence = "```toml\n";
    const std::size_t from = page.find(fence) + fence.size();
    const SetupFile f = SetupFile::from_text(page.substr(from, page.find("```", from) - from), "f.toml");
    EXPECT_EQ(f.setup().place.room.openings.size(), 1U);
    EXPECT_EQ(f.setup().camera, 0);
}

}  // namespace
}  // namespace rushlight
