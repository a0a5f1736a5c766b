#include "foundation/png_text.h"

#include <zlib.h>

#include <array>
#include <cstdint>
#include <istream>

#include "foundation/error.h"

namespace foreslice {
namespace {

constexpr std::string_view signature("\x89PNG\r\n\x1a\n", 8);
constexpr std::size_t chunk_frame = 12;  // length, type, checksum

std::uint32_t number_at(std::string_view bytes, std::size_t at) {
    std::uint32_t value = 0;
    for (std::size_t i = at; i < at + 4; ++i) value = value << 8U | static_cast<unsigned char>(bytes[i]);
    return value;
}

std::string big_endian(std::uint32_t value) {
    std::string bytes;
    for (int shift = 24; shift >= 0; shift -= 8)
        bytes += static_cast<char>(value >> static_cast<unsigned>(shift));
    return bytes;
}

std::uint32_t checksum(std::string_view bytes) {
    return static_cast<std::uint32_t>(
        crc32_z(0, reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size()));
}

[[noreturn]] void refuse(const std::string& file, const std::string& problem) {
    throw InputError(file, "", problem, "a PNG picture as it was written");
}

struct Chunk {
    std::size_t at = 0;  ///< of the chunk in the file
    std::string_view type, data;
    std::uint32_t sum = 0;
    std::size_t end() const { return at + chunk_frame + data.size(); }
    bool sound() const { return sum == (checksum_of_both()); }

  private:
    // Type and data lie side by side in the file.
    std::uint32_t checksum_of_both() const { return checksum({type.data(), 4 + data.size()}); }
};

// The chunk that begins at `at`; nothing at the end of the file. Throws when it ends too early.
std::optional<Chunk> chunk_at(std::string_view png, std::size_t at, const std::string& file) {
    if (at >= png.size()) return std::nullopt;
    const std::size_t left = png.size() - at;
    if (left < chunk_frame || number_at(png, at) > left - chunk_frame)
        refuse(file, "is a PNG that ends too early: the file was cut short");
    Chunk chunk;
    chunk.at = at;
    const std::size_t size = number_at(png, at);
    chunk.type = png.substr(at + 4, 4);
    chunk.data = png.substr(at + 8, size);
    chunk.sum = number_at(png, at + 8 + size);
    return chunk;
}

bool carries(const Chunk& chunk, std::string_view keyword) {
    return chunk.type == "iTXt" && chunk.data.size() > keyword.size() &&
           chunk.data.substr(0, keyword.size()) == keyword && chunk.data[keyword.size()] == '\0';
}

class Inflater {
  public:
    explicit Inflater(std::string_view packed) {
        good_ = inflateInit(&stream_) == Z_OK;
        stream_.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(packed.data()));
        stream_.avail_in = static_cast<uInt>(packed.size());  // a chunk is shorter than 2^32
    }
    ~Inflater() { inflateEnd(&stream_); }
    Inflater(const Inflater&) = delete;
    Inflater& operator=(const Inflater&) = delete;

    std::string unpacked(const std::string& file, std::size_t most_bytes) {
        std::string text;
        std::array<char, 1U << 14> block{};
        int state = good_ ? Z_OK : Z_MEM_ERROR;
        while (state == Z_OK) {
            stream_.next_out = reinterpret_cast<Bytef*>(block.data());
            stream_.avail_out = static_cast<uInt>(block.size());
            state = inflate(&stream_, Z_NO_FLUSH);
            text.append(block.data(), block.size() - stream_.avail_out);
            if (text.size() > most_bytes)
                throw InputError(
                    file, "",
                    "carries a text that unpacks to more than " + std::to_string(most_bytes >> 10U) + " KiB",
                    "a text up to that size");
        }
        if (state != Z_STREAM_END) refuse(file, "carries a damaged text that does not unpack");
        return text;
    }

  private:
    z_stream stream_{};
    bool good_ = false;
};

// What follows the keyword: flag, method, language, its own keyword, text.
std::string text_of(const Chunk& chunk, std::size_t keyword_length, const std::string& file,
                    std::size_t most_bytes) {
    std::string_view rest = chunk.data.substr(keyword_length + 1);
    if (rest.size() < 2) refuse(file, "carries a text without its heading");
    const char packed = rest[0], method = rest[1];
    if ((packed != 0 && packed != 1) || method != 0)
        refuse(file, "carries a text packed in a way the PNG standard does not know");
    rest.remove_prefix(2);
    for (int heading = 0; heading < 2; ++heading) {
        const auto end = rest.find('\0');
        if (end == std::string_view::npos) refuse(file, "carries a text without its heading");
        rest.remove_prefix(end + 1);
    }
    if (packed == 1) return Inflater(rest).unpacked(file, most_bytes);
    if (rest.size() > most_bytes)
        throw InputError(file, "", "carries a text of " + std::to_string(rest.size() >> 10U) + " KiB",
                         "at most " + std::to_string(most_bytes >> 10U) + " KiB");
    return std::string(rest);
}

std::string packed_text(std::string_view text) {
    uLongf size = compressBound(static_cast<uLong>(text.size()));
    std::string packed(size, '\0');
    const int state =
        compress2(reinterpret_cast<Bytef*>(packed.data()), &size, reinterpret_cast<const Bytef*>(text.data()),
                  static_cast<uLong>(text.size()), Z_BEST_COMPRESSION);
    if (state != Z_OK) throw std::bad_alloc();  // the only way it can fail here
    packed.resize(size);
    return packed;
}

std::string framed(const std::string& type_and_data) {
    return big_endian(static_cast<std::uint32_t>(type_and_data.size() - 4)) + type_and_data +
           big_endian(checksum(type_and_data));
}

}  // namespace

bool is_png(std::string_view bytes) {
    return bytes.substr(0, signature.size()) == signature;
}

std::string with_png_text(std::string_view png, std::string_view keyword, std::string_view utf8) {
    if (!is_png(png)) refuse("", "is no PNG picture");
    std::string head(signature), tail;
    bool before_data = true;
    for (auto chunk = chunk_at(png, signature.size(), ""); chunk; chunk = chunk_at(png, chunk->end(), "")) {
        before_data = before_data && chunk->type != "IDAT";
        if (carries(*chunk, keyword)) continue;
        (before_data ? head : tail).append(png.substr(chunk->at, chunk->end() - chunk->at));
    }
    std::string text("iTXt");
    text.append(keyword).append(1, '\0');
    text.append({1, 0, 0, 0});  // compressed, by zlib, in no stated language, with no keyword in it
    text += packed_text(utf8);
    return head + framed(text) + tail;
}

bool holds_png_text(std::istream& in, std::string_view keyword) {
    constexpr int most_chunks = 100000;  // a picture of 800 MB in libpng's usual chunks
    std::string start(signature.size(), '\0');
    if (!in.read(start.data(), static_cast<std::streamsize>(start.size())) || !is_png(start)) return false;
    std::string heading(8, '\0'), word(keyword.size() + 1, '\0');
    for (int chunk = 0; chunk < most_chunks; ++chunk) {
        if (!in.read(heading.data(), static_cast<std::streamsize>(heading.size()))) return false;
        std::streamoff rest = static_cast<std::streamoff>(number_at(heading, 0)) + 4;  // with the checksum
        if (heading.substr(4) == "iTXt" && rest > static_cast<std::streamoff>(word.size())) {
            if (!in.read(word.data(), static_cast<std::streamsize>(word.size()))) return false;
            if (word.substr(0, keyword.size()) == keyword && word.back() == '\0') return true;
            rest -= static_cast<std::streamoff>(word.size());
        }
        in.seekg(rest, std::ios::cur);
    }
    return false;
}

std::optional<std::string> read_png_text(std::string_view png, std::string_view keyword,
                                         const std::string& file, std::size_t most_bytes) {
    if (!is_png(png)) refuse(file, "is no PNG picture");
    for (auto chunk = chunk_at(png, signature.size(), file); chunk;
         chunk = chunk_at(png, chunk->end(), file)) {
        if (!carries(*chunk, keyword)) continue;
        if (!chunk->sound()) refuse(file, "carries a damaged text: its checksum is wrong");
        return text_of(*chunk, keyword.size(), file, most_bytes);
    }
    return std::nullopt;
}

}  // namespace foreslice
