#include "pictures/files/exr_file.h"

#include "pictures/files/write_file.h"

#include <ImfChannelList.h>
#include <ImfFloatAttribute.h>
#include <ImfFrameBuffer.h>
#include <ImfHeader.h>
#include <ImfIO.h>
#include <ImfIntAttribute.h>
#include <ImfOutputFile.h>
#include <ImfStringAttribute.h>

#include <algorithm>
#include <cstdint>
#include <exception>

namespace rushlight {

namespace {

/// The table of where lines lie is written last, over its place at the beginning.
class Bytes : public Imf::OStream {
public:
    Bytes() : OStream("frame.exr") {}
    void write(const char data[], int count) override {
        const auto n = static_cast<std::size_t>(count);
        if (at_ + n > bytes.size()) bytes.resize(at_ + n);
        std::copy(data, data + n, bytes.begin() + static_cast<std::ptrdiff_t>(at_));
        at_ += n;
    }
    std::uint64_t tellp() override { return at_; }
    void seekp(std::uint64_t at) override { at_ = at; }
    std::string bytes;

private:
    std::size_t at_ = 0;
};

}  // namespace

std::string exr_file(const ExrFile& file, const std::function<void(int y, float* to)>& row) {
    try {
        Imf::Header header(file.width, file.height);
        header.compression() = Imf::ZIP_COMPRESSION;
        // The lightest that there is: noise shrinks little, however long one tries.
        header.zipCompressionLevel() = 1;
        header.insert("software", Imf::StringAttribute("rushlight"));
        for (const auto& [name, value] : file.whole_numbers) header.insert(name, Imf::IntAttribute(value));
        for (const auto& [name, value] : file.numbers) header.insert(name, Imf::FloatAttribute(value));
        for (const std::string& name : file.channels) header.channels().insert(name, Imf::Channel(Imf::FLOAT));

        // One line at a time, so every line lies at the same place.
        std::vector<float> line(static_cast<std::size_t>(file.width) * file.channels.size());
        const std::size_t pixel = file.channels.size() * sizeof(float);
        Imf::FrameBuffer buffer;
        for (std::size_t c = 0; c < file.channels.size(); ++c)
            buffer.insert(file.channels[c], Imf::Slice(Imf::FLOAT, reinterpret_cast<char*>(line.data() + c), pixel, 0));
        Bytes bytes;
        {
            Imf::OutputFile out(bytes, header, 0);
            out.setFrameBuffer(buffer);
            for (int y = 0; y < file.height; ++y) {
                row(y, line.data());
                out.writePixels(1);
            }
        }
        return std::move(bytes.bytes);
    } catch (const std::exception& trouble) {
        throw OutputError(std::string("cannot make the EXR file: ") + trouble.what());
    }
}

}  // namespace rushlight
