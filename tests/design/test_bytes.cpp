// Whatever the bytes: a design or an InputError, nothing else.
#include <doctest/doctest.h>

#include <string>

#include "design/design_file.h"
#include "design/limits.h"
#include "design/samples.h"
#include "design/validation.h"
#include "foundation/error.h"
#include "foundation/random.h"
#include "foundation/text_file.h"

using namespace foreslice;

namespace {

// Reads, checks and writes; true when the bytes were a design. Anything but InputError fails the test.
bool digest(const std::string& bytes) {
    try {
        const auto design = design::parse(bytes, "bytes");
        CHECK(design::parse(design::to_json(design), "again") == design);
        design::validate(design, samples::library(), "bytes");
        design::warnings(design, samples::library());
        return true;
    } catch (const InputError& error) {
        CHECK(error.file() == "bytes");
        CHECK_FALSE(error.problem().empty());
        return false;
    }
}

std::string mutated(std::string bytes, std::uint64_t seed) {
    auto pick = [&, n = std::uint64_t{0}](std::size_t below) mutable {
        return static_cast<std::size_t>(mixed_bits(seed * 1000 + n++) % below);
    };
    static const std::string spice = "{}[]\",:-+.eE0123456789\\u/ntf \x80\xff\x01";
    const std::size_t changes = 1 + pick(4);
    for (std::size_t i = 0; i < changes && !bytes.empty(); ++i) {
        const std::size_t at = pick(bytes.size());
        switch (pick(5)) {
            case 0:
                bytes[at] = spice[pick(spice.size())];
                break;
            case 1:
                bytes.erase(at, 1 + pick(8));
                break;
            case 2:
                bytes.insert(at, 1, spice[pick(spice.size())]);
                break;
            case 3:
                bytes.insert(at, bytes.substr(pick(bytes.size()), pick(40)));
                break;
            default:
                bytes[at] = static_cast<char>(pick(256));
                break;
        }
    }
    return bytes;
}

}  // namespace

TEST_CASE("bytes: mutations of valid files never crash") {
    for (const char* name : {"v2/unknown-fields.json", "v1/unknown-fields.json"}) {
        const std::string bytes = read_file(samples::data(name));
        int accepted = 0;
        for (std::uint64_t seed = 0; seed < 1500; ++seed) {
            CAPTURE(seed);
            accepted += digest(mutated(bytes, seed)) ? 1 : 0;
        }
        CHECK(accepted > 20);    // changed digits and names
        CHECK(accepted < 1400);  // and the rest is noticed
    }
}

TEST_CASE("bytes: every beginning of a valid file is refused") {
    const std::string bytes = read_file(samples::data("v2/base.json"));
    const std::size_t end = bytes.find_last_of('}');
    for (std::size_t length = 0; length <= end; length += 7) {
        CAPTURE(length);
        CHECK_FALSE(digest(bytes.substr(0, length)));
    }
}

TEST_CASE("bytes: a megabyte of nesting, of one string, of one list, of fields") {
    const std::size_t megabyte = 1U << 20U;
    CHECK_FALSE(digest(std::string(megabyte, '[')));
    CHECK_FALSE(digest(std::string(megabyte, '{')));
    std::string objects;
    while (objects.size() < megabyte) objects += "{\"a\":";
    CHECK_FALSE(digest(objects));
    CHECK_FALSE(digest("{\"name\":\"" + std::string(megabyte, 'x') + "\"}"));
    std::string list = "[0";
    while (list.size() < megabyte) list += ",0";
    CHECK_FALSE(digest(list + "]"));
    std::string fields = "{\"a\":0";
    for (int i = 0; fields.size() < megabyte; ++i) fields += ",\"f" + std::to_string(i) + "\":0";
    CHECK_FALSE(digest(fields + "}"));
    CHECK_FALSE(digest(std::string(design::limits::file_bytes + 1, ' ')));
}
