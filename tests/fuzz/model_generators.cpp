#include "fuzz/generators.h"

#include "setup/text/words.h"

#include <cmath>
#include <cstring>

namespace rushlight::fuzz {

namespace {

/// Corners round and round inwards, and back outwards beside them.
std::string a_spiral(std::size_t corners, std::size_t& points) {
    std::string text, face = "f";
    const std::size_t half = corners / 2;
    for (std::size_t i = 0; i < 2 * half; ++i) {
        const std::size_t at = i < half ? i : 2 * half - 1 - i;
        const double turn = 0.4 * static_cast<double>(at), r = 1 + 0.05 * turn + (i < half ? 0 : 0.02);
        text += "v " + plain(r * std::cos(turn)) + " " + plain(r * std::sin(turn)) + " 0\n";
        face += " " + std::to_string(++points);
    }
    return text + face + "\n";
}

void put(std::string& bytes, std::uint32_t n) {
    for (int i = 0; i < 4; ++i) bytes += static_cast<char>(n >> (8 * i) & 0xFF);
}

std::string in_base64(const std::string& bytes) {
    static const std::string letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string text;
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        std::uint32_t n = 0;
        for (std::size_t k = 0; k < 3; ++k)
            n = n << 8 | (i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0U);
        for (std::size_t k = 0; k < 4; ++k) text += i + k <= bytes.size() ? letters[n >> (18 - 6 * k) & 63] : '=';
    }
    return text;
}

/// As JSON has text; what UTF-8 does not know stays as it is.
std::string in_json_quotes(const std::string& name) {
    std::string text = "\"";
    for (const char c : name) {
        if (c == '"' || c == '\\') text += '\\';
        if (static_cast<unsigned char>(c) < 0x20)
            text += "\\u00" + std::string(1, static_cast<char>('0' + c / 16)) + "0123456789abcdef"[c % 16];
        else
            text += c;
    }
    return text + '"';
}

}  // namespace

std::string an_obj_model(Dice& dice) {
    std::string text = dice.once_in(5) ? "mtllib " + dice.name() + "\n" : "";
    std::size_t points = 0;
    for (std::size_t parts = 1 + dice.below(5); parts > 0; --parts) {
        if (dice.once_in(2)) text += "usemtl " + dice.name() + "\n";
        if (dice.once_in(6)) {
            text += a_spiral(dice.once_in(8) ? 990 : 4 + dice.below(60), points);
            continue;
        }
        const std::size_t corners = 3 + dice.below(9);
        for (std::size_t i = 0; i < corners; ++i) {
            const double turn = 6.2832 * static_cast<double>(i) / static_cast<double>(corners);
            const double r = dice.within(0.3, 2);  // stars, some with their corners in a row
            text += "v " + (dice.once_in(30) ? dice.number(-9, 9) : plain(r * std::cos(turn))) + " " +
                    plain(r * std::sin(turn)) + " " + (dice.once_in(9) ? dice.number(-1, 1) : "0") + "\n";
        }
        points += corners;
        for (std::size_t faces = 1 + dice.below(3); faces > 0; --faces) {
            text += "f";
            for (std::size_t i = 0; i < corners; ++i) {
                const std::size_t n = dice.count(points - corners + 1 + i);
                text += (dice.once_in(12) ? " -" : " ") + std::to_string(n) + (dice.once_in(9) ? "/1/2" : "");
                if (dice.once_in(40)) text += " \\\n";
            }
            text += dice.once_in(9) ? " # " + dice.name() + "\r\n" : "\n";
        }
    }
    return text;
}

std::string a_material_file(Dice& dice) {
    std::string text;
    for (std::size_t n = dice.below(9); n > 0; --n) {
        text += "newmtl " + (dice.once_in(3) ? std::string("paint") : dice.name()) + "\n";
        if (!dice.once_in(5))
            text += "Kd " + dice.number(0, 1) + " " + dice.number(0, 1) + " " + dice.number(0, 1) + "\n";
        if (dice.once_in(5)) text += "map_Kd " + dice.name() + "\nKd spectral x.rfl 1\n";
    }
    return text;
}

std::string a_gltf_model(Dice& dice) {
    const std::size_t points = 3 + dice.below(20), corners = 3 * (1 + dice.below(10));
    std::string buffer;
    for (std::size_t i = 0; i < 3 * points; ++i) {
        const float x = dice.once_in(200) ? 1e30F : static_cast<float>(dice.within(-2, 2));
        char bytes[4];
        std::memcpy(bytes, &x, 4);
        buffer.append(bytes, 4);
    }
    const std::size_t positions = buffer.size();
    for (std::size_t i = 0; i < corners; ++i) {
        const std::size_t corner = dice.once_in(100) ? 65'535 : dice.below(points);
        buffer += static_cast<char>(corner & 0xFF);
        buffer += static_cast<char>(corner >> 8 & 0xFF);
    }
    const bool binary = dice.once_in(2);
    const auto n = [&](std::size_t honest) { return std::to_string(dice.count(honest)); };
    std::string extras;
    if (dice.once_in(4)) {
        const std::size_t deep = dice.once_in(3) ? 20'000 : dice.below(40);
        extras =
            R"("extras":)" + (dice.once_in(2) ? std::string(deep, '[') + std::string(deep, ']') : "{\"a\":1}") + ",";
        if (dice.once_in(4)) extras.replace(1, 1, "\\u0065");  // the same word to whoever knows JSON
    }
    std::string json = R"({"asset":{"version":"2.0"},)" + extras + R"("scene":)" + n(0) + R"(,"scenes":[{"nodes":[)" +
                       n(0) + R"(]}],"nodes":[{"mesh":)" + n(0);
    if (dice.once_in(3)) json += R"(,"children":[)" + n(1) + "]";
    if (dice.once_in(3)) json += R"(,"scale":[1,)" + dice.number(-2, 2) + ",1]";
    json += "},{";
    json += dice.once_in(3) ? R"("children":[)" + n(0) + "]" : R"("translation":[1,2,3])";
    json += R"(}],"meshes":[{"primitives":[{"attributes":{"POSITION":)" + n(0) + R"(},"indices":)" + n(1) +
            R"(,"material":)" + n(0) + R"(,"mode":)" + (dice.once_in(5) ? n(5) : "4") +
            R"(}]}],"materials":[{"name":)" + in_json_quotes(dice.name()) +
            R"(,"pbrMetallicRoughness":{"baseColorFactor":[0.5,)" + dice.number(0, 1) +
            R"(,0.2,1]}}],"accessors":[{"bufferView":)" + n(0) + R"(,"componentType":5126,"type":"VEC3","count":)" +
            n(points) + R"(},{"bufferView":)" + n(1) + R"(,"componentType":5123,"type":"SCALAR","count":)" +
            n(corners) + R"(}],"bufferViews":[{"buffer":)" + n(0) + R"(,"byteOffset":)" + n(0) + R"(,"byteLength":)" +
            n(positions) + R"(},{"buffer":)" + n(0) + R"(,"byteOffset":)" + n(positions) + R"(,"byteLength":)" +
            n(buffer.size() - positions) + R"(}],"buffers":[{"byteLength":)" + n(buffer.size());
    json += binary ? "}]}" : R"(,"uri":"data:application/octet-stream;base64,)" + in_base64(buffer) + R"("}]})";
    if (!binary) return json;
    while (json.size() % 4 != 0) json += ' ';
    while (buffer.size() % 4 != 0) buffer += '\0';
    std::string glb = "glTF";
    put(glb, 2);
    put(glb, static_cast<std::uint32_t>(dice.count(28 + json.size() + buffer.size())));
    put(glb, static_cast<std::uint32_t>(dice.count(json.size())));
    glb += "JSON" + json;
    put(glb, static_cast<std::uint32_t>(dice.count(buffer.size())));
    return glb + std::string("BIN\0", 4) + buffer;
}

}  // namespace rushlight::fuzz
