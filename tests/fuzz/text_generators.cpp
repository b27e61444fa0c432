#include "fuzz/generators.h"

#include "rooms_as_text.h"
#include "setup/keys/key_table.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cstdio>

namespace rushlight::fuzz {

std::size_t Dice::count(std::size_t honest) {
    if (!once_in(12)) return honest;
    static const std::vector<std::size_t> lies{0, 1, 2, 3, 255, 1000, 65'535, 1'000'000, 2'147'483'647, 4'294'967'295};
    return once_in(2) ? honest + below(3) - std::min<std::size_t>(honest, 1) : of(lies);
}

std::string Dice::number(double low, double high) {
    static const std::vector<std::string> hard{"0",   "-1",         "1e9",  "-0.0", "1e-320", "1e308", "nan",
                                               "inf", "1,5",        "0x7f", "",     "x",      "1e99",  "65536",
                                               "-",   "2147483648", "1..2", "5 5",  ".",      "+1"};
    if (once_in(25)) return of(hard);
    if (once_in(8)) return plain(once_in(2) ? low : high);
    return plain(within(low, high));
}

std::string Dice::name() {
    static const std::vector<std::string> odd{"\x1b[31mred",
                                              "a\xc2\x9b"
                                              "b",
                                              "\xe2\x80\xae"
                                              "abc",
                                              "a/b",
                                              "",
                                              "\xff\xfe",
                                              "Stra\xc3\x9f"
                                              "e",
                                              "x.y.z",
                                              "a b  c",
                                              "'",
                                              "a\"b",
                                              "\\",
                                              std::string(300, 'n'),
                                              "#",
                                              "[a]"};
    if (once_in(10)) return of(odd);
    return std::string(1, static_cast<char>('a' + below(26))) + std::to_string(below(1000));
}

namespace {

std::string list_of(Dice& dice, std::size_t n, double low, double high) {
    std::string text = "[";
    for (std::size_t i = 0; i < n; ++i) text += (i > 0 ? ", " : "") + dice.number(low, high);
    return text + "]";
}

/// Brackets in brackets, or dots after dots: seldom a few, seldom very many.
std::string deep(Dice& dice) {
    const std::size_t n = dice.once_in(2) ? dice.below(8) : dice.below(3000);
    if (dice.once_in(2)) return std::string(n, '[') + std::string(n, ']');
    std::string text;
    for (std::size_t i = 0; i < n; ++i) text += "{ a = ";
    return text + "1" + std::string(n, '}');
}

std::string value_of(Dice& dice, const Key& key) {
    if (dice.once_in(60)) return deep(dice);
    if (dice.once_in(40)) return in_toml_quotes(dice.name());
    const bool ranged = key.low != key.high;
    const double low = ranged ? key.low : -3, high = ranged ? std::min(key.high, key.low + 20) : 3;
    switch (key.kind) {
        case KeyKind::word:
            return in_toml_quotes(dice.of(split(key.words, '|')));
        case KeyKind::yes_no:
            return dice.once_in(2) ? "true" : "false";
        case KeyKind::number:
            return dice.number(low, high);
        case KeyKind::length:
            return dice.once_in(4) ? "\"" + dice.number(0, 9) + "ft 2in\"" : dice.number(low, high);
        case KeyKind::lengths:
            return list_of(dice, dice.once_in(15) ? dice.below(5) : key.unit == point_form ? 3 : 2, 0, 4);
        case KeyKind::finish:
            return dice.once_in(2) ? dice.number(0, 1) : "\"white paint\"";
        case KeyKind::text: {
            static const std::vector<std::string> texts{"900 lm", "A",     "wide",        "5200 lx at 3 m",
                                                        "T4",     "4:1",   "1 over",      "2026-10-14",
                                                        "11:00",  "UTC+1", "A key cheek", "key"};
            return in_toml_quotes(dice.once_in(4) ? dice.name() : dice.of(texts));
        }
        default:
            return dice.once_in(2) ? dice.number(0, 1) : in_toml_quotes(dice.name());
    }
}

/// Lines of a section, keys that must be there nearly always among them.
std::string lines_of(Dice& dice, std::string_view name, const std::vector<std::string>& left_out = {}) {
    std::string text;
    for (const Key& key : section(name).keys) {
        if (key.kind == KeyKind::table || key.kind == KeyKind::tables || key.name == "name") continue;
        if (std::find(left_out.begin(), left_out.end(), key.name) != left_out.end()) continue;
        if (!dice.once_in(key.standard.empty() ? 30 : 5) && !key.standard.empty()) continue;
        if (key.standard.empty() && dice.once_in(30)) continue;
        text += std::string(key.name) + " = " + value_of(dice, key) + "\n";
    }
    return text;
}

}  // namespace

std::string a_setup_file(Dice& dice) {
    std::string text = "title = " + in_toml_quotes(dice.name()) + "   # " + std::string(dice.below(90), '.') + "\n";
    const std::string width = dice.number(2, 9), depth = dice.number(2, 9), height = dice.number(2, 4);
    text += testing_rooms::room(width, depth, height);
    if (dice.once_in(2)) text += "surfaces = { walls = " + dice.number(0, 1) + " }\n";
    text += dice.once_in(2) ? "[day]\ndark = true\n" : "[day]\n" + lines_of(dice, "[day]");
    text += "[[mark]]\nname = \"A\"\nat = [1, 2]\nfacing = 0\n";
    const std::vector<std::string> kinds{
        "[[lamp]]", "[[board]]",  "[[flag]]",  "[[cloth]]",           "[[net]]",
        "[[mark]]", "[[camera]]", "[[meter]]", "[[place.furniture]]", "[[place.opening]]"};
    const std::vector<std::string> files{"luminaire", "obj", "picture", "like"};
    for (std::size_t things = dice.below(7); things > 0; --things) {
        const std::string kind = dice.of(kinds);
        text += kind + "\nname = " + in_toml_quotes(dice.name()) + "\n" + lines_of(dice, kind, files);
    }
    for (std::size_t setups = dice.below(3); setups > 0; --setups) {
        text += "[[setup]]\nname = " + in_toml_quotes(dice.name()) + "\n";
        if (dice.once_in(2)) text += "change.mark.A = { at = " + list_of(dice, 2, 0, 4) + " }\n";
        if (dice.once_in(4)) text += "remove = [\"A\"]\n";
        if (dice.once_in(4)) text += "notes = \"\"\"" + std::string(dice.below(200), '.') + "\n\"\"\"\"\n";
    }
    if (dice.once_in(3)) text += "[[target]]\n" + lines_of(dice, "[[target]]");
    if (dice.once_in(50)) text += std::string(dice.below(200), 'a') + ".b = " + deep(dice) + "\n";
    return text;
}

std::string a_kit_file(Dice& dice) {
    std::string text = "title = \"kit\"\n";
    const std::vector<std::string> kinds{"[[lamp]]", "[[board]]", "[[flag]]", "[[cloth]]", "[[net]]"};
    for (std::size_t items = dice.below(6); items > 0; --items) {
        const std::string kind = dice.of(kinds);
        text += kind + "\nname = " + in_toml_quotes(dice.name()) + "\n" + lines_of(dice, "kit item", {"like"}) +
                lines_of(dice, kind, {"at", "aim", "facing", "roll", "level", "on", "circuit", "luminaire", "like"});
    }
    for (std::size_t parts = dice.below(3); parts > 0; --parts)
        text += "[[part]]\nname = " + in_toml_quotes(dice.name()) + "\ncount = " + std::to_string(dice.count(2)) + "\n";
    if (dice.once_in(2)) text += "[own]\n" + in_toml_quotes(dice.name()) + " = " + std::to_string(dice.count(2)) + "\n";
    return text;
}

std::string an_lm63_file(Dice& dice) {
    static const std::vector<std::string> editions{"IESNA:LM-63-2002", "IESNA:LM-63-1995", "IESNA91", "",
                                                   "IES:LM-63-2019"};
    const std::size_t up = 2 + dice.below(8), round = 1 + dice.below(5);
    std::string text = dice.of(editions) + "\n[TEST] " + dice.name() + "\n[LAMP] " + dice.name() + "\n";
    const std::size_t tilts = dice.below(4);
    text += dice.once_in(6) ? "TILT=INCLUDE\n1\n" + std::to_string(dice.count(tilts)) + "\n" : "TILT=NONE\n";
    if (text.find("INCLUDE") != std::string::npos)
        for (int row = 0; row < 2; ++row) {
            for (std::size_t i = 0; i < tilts; ++i)
                text += dice.number(static_cast<double>(i), static_cast<double>(i) + 0.5) + " ";
            text += "\n";
        }
    text += "1 1000 " + dice.number(0.1, 2) + " " + std::to_string(dice.count(up)) + " " +
            std::to_string(dice.count(round)) + " " + std::to_string(1 + dice.below(3)) + " " +
            std::to_string(1 + dice.below(2)) + " " + dice.number(-0.3, 0.3) + " 0.1 0\n1 1 " + dice.number(0, 900) +
            "\n";
    const auto angles = [&](std::size_t n, double last) {
        for (std::size_t i = 0; i < n; ++i)
            text +=
                (dice.once_in(60)
                     ? dice.number(0, 360)
                     : plain(last * static_cast<double>(i) / static_cast<double>(std::max<std::size_t>(1, n - 1)))) +
                (dice.once_in(9) ? "\r\n" : " ");
        text += "\n";
    };
    angles(up, dice.once_in(2) ? 90 : 180);
    angles(round, dice.once_in(2) ? 90 : 360);
    for (std::size_t i = 0; i < up * round; ++i) text += dice.number(0, 2000) + (dice.once_in(7) ? "\n" : " ");
    return text;
}

std::string a_eulumdat_file(Dice& dice) {
    const std::size_t planes = 1 + dice.below(6), angles = 2 + dice.below(6), symmetry = dice.below(5);
    const std::size_t written = symmetry == 1 ? 1 : symmetry == 0 ? planes : planes / 2 + 1;
    std::string text = dice.name() + "\n1\n" + std::to_string(symmetry) + "\n" + std::to_string(dice.count(planes)) +
                       "\n" + dice.number(0, 90) + "\n" + std::to_string(dice.count(angles)) + "\n" +
                       dice.number(0, 30) + "\n";
    for (int i = 0; i < 4; ++i) text += dice.name() + "\n";
    for (int i = 0; i < 15; ++i) text += dice.number(0, 300) + "\n";
    text += std::to_string(dice.count(1)) + "\n1\nlamp\n1000\n3200\n90\n100\n";
    for (int i = 0; i < 10; ++i) text += "1\n";
    for (std::size_t i = 0; i < planes; ++i)
        text += plain(360.0 * static_cast<double>(i) / static_cast<double>(planes)) + "\n";
    for (std::size_t i = 0; i < angles; ++i)
        text += plain(180.0 * static_cast<double>(i) / static_cast<double>(angles - 1)) + "\n";
    for (std::size_t i = 0; i < written * angles; ++i) text += dice.number(0, 900) + (dice.once_in(40) ? "\r" : "\n");
    return text;
}

std::string a_measured_table(Dice& dice) {
    static const std::vector<std::string> separators{",", ";", "\t"}, ends{"\n", "\r\n", "\r"};
    const std::string by = dice.of(separators), end = dice.of(ends);
    std::string text = dice.once_in(4) ? "\xEF\xBB\xBF" : "";
    text += "what" + by + (dice.once_in(3) ? "fc" : "lux") + by + "kelvin" + end;
    for (std::size_t lines = dice.below(8); lines > 0; --lines) {
        const std::string what = dice.name();
        text += (dice.once_in(3) ? "\"" + what + (dice.once_in(9) ? "" : "\"") : what) + by + dice.number(1, 900) + by +
                dice.number(2000, 9000) + end;
    }
    return text;
}

}  // namespace rushlight::fuzz
