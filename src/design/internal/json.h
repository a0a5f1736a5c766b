// JSON as the design room's own files use it: a tree with its order kept, read under strict limits, and a
// cursor that knows where it stands so that every fault can be named. Not a public header.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include <nlohmann/json.hpp>

#include "design/limits.h"

namespace foreslice::design {

using Json = nlohmann::ordered_json;

/// Throws InputError for anything that is not JSON within the limits of limits.h (size, depth, items,
/// fields), for a key that stands twice in one object, and for bytes that are not UTF-8. Never recurses.
Json json_from_text(std::string_view text, const std::string& file);

/// Two-space indent, one field a line; a list of plain values that fits the line stands on one. Strings that
/// are not UTF-8 are mended with U+FFFD. Ends with a newline.
std::string text_from_json(const Json& tree);

/// A number as a person would write it: 6, not 6.0.
Json json_number(double value);

/// One step further along a JSON path (RFC 6901).
std::string path_to(const std::string& path, std::string_view key);
std::string path_to(const std::string& path, std::size_t index);

/// The words of each of these values, by its own name_of(): what one_of() takes.
template <typename Values>
std::vector<std::string> names_of(const Values& values) {
    std::vector<std::string> names;
    names.reserve(values.size());
    for (const auto value : values) names.emplace_back(name_of(value));
    return names;
}

/// A value in the tree and where it stands.
class Place {
  public:
    /// `file` and `value` must outlive the Place.
    Place(const Json& value, std::string path, const std::string& file)
        : value_(&value), path_(std::move(path)), file_(&file) {}

    const Json& value() const { return *value_; }
    const std::string& path() const { return path_; }
    const std::string& file() const { return *file_; }

    double number(Range allowed) const;
    std::uint64_t whole_number(Range allowed) const;
    bool truth() const;
    /// UTF-8 text of at most `longest` characters.
    std::string text(std::size_t longest) const;
    /// 1 to 64 letters, digits, - and _.
    std::string id() const;
    /// The index of a text in `words`.
    std::size_t one_of(const std::vector<std::string>& words) const;
    std::vector<Place> items(std::size_t least, std::size_t most, const std::string& of_what) const;

    /// "<what the value is>" is wrong here; throws InputError.
    [[noreturn]] void fail_wrong(const std::string& allowed) const;
    [[noreturn]] void fail(const std::string& problem, const std::string& allowed) const;

  private:
    const Json* value_;
    std::string path_;
    const std::string* file_;
};

/// The fields of one object; remembers which were asked for, so that the others are the unknown ones.
class Fields {
  public:
    /// Throws InputError when the place holds no object.
    explicit Fields(Place place);

    const Place& place() const { return place_; }
    std::optional<Place> find(const std::string& key);
    /// Throws InputError when absent; `allowed` says what should stand there.
    Place at(const std::string& key, const std::string& allowed);
    double number(const std::string& key, Range allowed);
    double number_or(const std::string& key, Range allowed, double otherwise);
    /// Members never asked for, in file order.
    Json unknown() const;

  private:
    Place place_;
    std::set<std::string> asked_;
};

/// Reads "format", which must be `format`, and "version", from 1 to `newest`; a newer one is refused with a
/// sentence that begins with `what`.
void check_heading(Fields& fields, const std::string& file, const char* format, int newest,
                   const std::string& what);

std::string words_of(Range range);

}  // namespace foreslice::design
