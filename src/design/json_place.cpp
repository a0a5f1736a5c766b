#include <cmath>

#include "design/internal/json.h"
#include "foundation/error.h"

namespace foreslice::design {
namespace {

// What stands there, for an error sentence.
std::string description(const Json& value) {
    switch (value.type()) {
        case Json::value_t::object:
            return "an object stands here";
        case Json::value_t::array:
            return "a list of " + std::to_string(value.size()) + " stands here";
        case Json::value_t::string:
            return "the text " + foreslice::quoted(value.get_ref<const std::string&>()) + " stands here";
        case Json::value_t::boolean:
            return value.get<bool>() ? "true stands here" : "false stands here";
        case Json::value_t::number_integer:
        case Json::value_t::number_unsigned:
            return value.dump() + " stands here";
        case Json::value_t::number_float:
            return plain_number(value.get<double>()) + " stands here";
        default:
            return "null stands here";
    }
}

// Length in characters, or nothing when the bytes are not UTF-8 (RFC 3629).
std::optional<std::size_t> characters_of(std::string_view text) {
    std::size_t count = 0;
    for (std::size_t i = 0; i < text.size(); ++count) {
        const auto lead = static_cast<unsigned char>(text[i++]);
        const int more = lead < 0x80                   ? 0
                         : lead >= 0xc2 && lead < 0xe0 ? 1
                         : lead >= 0xe0 && lead < 0xf0 ? 2
                         : lead >= 0xf0 && lead < 0xf5 ? 3
                                                       : -1;
        if (more < 0 || i + static_cast<std::size_t>(more) > text.size()) return std::nullopt;
        std::uint32_t code = more == 0 ? lead : lead & (0x3fU >> more);
        for (int k = 0; k < more; ++k) {
            const auto next = static_cast<unsigned char>(text[i++]);
            if ((next & 0xc0U) != 0x80U) return std::nullopt;
            code = code << 6U | (next & 0x3fU);
        }
        const bool overlong = (more == 2 && code < 0x800) || (more == 3 && code < 0x10000);
        if (overlong || code > 0x10ffff || (code >= 0xd800 && code <= 0xdfff)) return std::nullopt;
    }
    return count;
}

bool is_id(std::string_view text) {
    if (text.empty() || text.size() > limits::id_length) return false;
    for (char c : text) {
        const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
        if (!letter && !(c >= '0' && c <= '9') && c != '-' && c != '_') return false;
    }
    return true;
}

}  // namespace

void check_heading(Fields& fields, const std::string& file, const char* format, int newest,
                   const std::string& what) {
    fields.at("format", foreslice::quoted(format)).one_of({format});
    const auto version = fields.at("version", std::to_string(newest)).whole_number({1, 1e6});
    if (version > static_cast<std::size_t>(newest))
        throw InputError(file, "/version", what + " is of version " + std::to_string(version),
                         "version " + std::to_string(newest) + "; a newer program reads it");
}

std::string words_of(Range range) {
    const auto end = [](double value) {
        return value == std::floor(value) && std::abs(value) < 1e16
                   ? std::to_string(static_cast<long long>(value))
                   : plain_number(value);
    };
    return end(range.least) + " to " + end(range.most);
}

std::string path_to(const std::string& path, std::string_view key) {
    std::string out = path + "/";
    for (char c : key.substr(0, 80)) {
        if (c == '~')
            out += "~0";
        else if (c == '/')
            out += "~1";
        else if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f)
            out += '?';
        else
            out += c;
    }
    return out;
}

std::string path_to(const std::string& path, std::size_t index) {
    return path + "/" + std::to_string(index);
}

Json json_number(double value) {
    if (value == std::floor(value) && std::abs(value) < 1e15) return static_cast<std::int64_t>(value);
    return value;
}

void Place::fail(const std::string& problem, const std::string& allowed) const {
    throw InputError(*file_, path_.empty() ? "the whole document" : path_, problem, allowed);
}

void Place::fail_wrong(const std::string& allowed) const {
    fail(description(*value_), allowed);
}

double Place::number(Range allowed) const {
    const double number = value_->is_number() ? value_->get<double>() : std::nan("");
    if (!allowed.holds(number)) fail_wrong("a number from " + words_of(allowed));
    return number;
}

std::uint64_t Place::whole_number(Range allowed) const {
    const std::string words = "a whole number from " + words_of(allowed);
    if (!value_->is_number()) fail_wrong(words);
    const double number = value_->get<double>();  // exact for every whole number in the ranges we allow
    if (!allowed.holds(number) || number != std::floor(number)) fail_wrong(words);
    return value_->is_number_float() ? static_cast<std::uint64_t>(number) : value_->get<std::uint64_t>();
}

std::string Place::text(std::size_t longest) const {
    const std::string words = "text of at most " + std::to_string(longest) + " characters";
    if (!value_->is_string()) fail_wrong(words);
    const auto& text = value_->get_ref<const std::string&>();
    const auto characters = characters_of(text);
    if (!characters) fail("the text is not UTF-8", words + " in UTF-8");
    if (*characters > longest) fail("the text has " + std::to_string(*characters) + " characters", words);
    return text;
}

bool Place::truth() const {
    if (!value_->is_boolean()) fail_wrong("true or false");
    return value_->get<bool>();
}

std::string Place::id() const {
    if (!value_->is_string() || !is_id(value_->get_ref<const std::string&>()))
        fail_wrong("1 to 64 letters, digits, - and _");
    return value_->get<std::string>();
}

std::size_t Place::one_of(const std::vector<std::string>& words) const {
    std::string allowed;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (*value_ == words[i]) return i;
        allowed += (i == 0 ? "" : ", ") + foreslice::quoted(words[i]);
    }
    fail_wrong(allowed);
}

std::vector<Place> Place::items(std::size_t least, std::size_t most, const std::string& of_what) const {
    if (!value_->is_array() || value_->size() < least || value_->size() > most) {
        const std::string upper = std::to_string(most);
        fail_wrong("a list of " + (least == most ? upper : std::to_string(least) + " to " + upper) + " " +
                   of_what);
    }
    std::vector<Place> places;
    places.reserve(value_->size());
    for (std::size_t i = 0; i < value_->size(); ++i)
        places.emplace_back((*value_)[i], path_to(path_, i), *file_);
    return places;
}

Fields::Fields(Place place) : place_(std::move(place)) {
    if (!place_.value().is_object()) place_.fail_wrong("an object, { ... }");
}

std::optional<Place> Fields::find(const std::string& key) {
    asked_.insert(key);
    const auto found = place_.value().find(key);
    if (found == place_.value().end()) return std::nullopt;
    return Place(*found, path_to(place_.path(), key), place_.file());
}

Place Fields::at(const std::string& key, const std::string& allowed) {
    auto found = find(key);
    if (!found)
        Place(place_.value(), path_to(place_.path(), key), place_.file())
            .fail("this field is missing", allowed);
    return *found;
}

double Fields::number(const std::string& key, Range allowed) {
    return at(key, "a number from " + words_of(allowed)).number(allowed);
}

double Fields::number_or(const std::string& key, Range allowed, double otherwise) {
    const auto found = find(key);
    return found ? found->number(allowed) : otherwise;
}

Json Fields::unknown() const {
    Json rest = Json::object();
    for (const auto& [key, value] : place_.value().items())
        if (!asked_.contains(key)) rest[key] = value;
    return rest;
}

}  // namespace foreslice::design
