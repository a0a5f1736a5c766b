// Text to tree through nlohmann's event interface, which keeps its own stack on the heap: a megabyte of '['
// meets the depth limit here instead of the end of the program's stack.
#include "design/internal/json.h"
#include "foundation/error.h"

namespace foreslice::design {
namespace {

class TreeBuilder : public nlohmann::json_sax<Json> {
  public:
    explicit TreeBuilder(const std::string& file) : file_(file) {}
    Json take() { return std::move(root_); }

    bool null() override { return add(nullptr); }
    bool boolean(bool value) override { return add(value); }
    bool number_integer(number_integer_t value) override { return add(value); }
    bool number_unsigned(number_unsigned_t value) override { return add(value); }
    bool number_float(number_float_t value, const string_t&) override { return add(value); }
    bool string(string_t& value) override { return add(std::move(value)); }
    bool binary(binary_t&) override { return false; }  // no such thing in JSON text
    bool start_object(std::size_t) override { return open(Json::object()); }
    bool start_array(std::size_t) override { return open(Json::array()); }
    bool end_object() override { return close(); }
    bool end_array() override { return close(); }

    bool key(string_t& name) override {
        Level& level = levels_.back();
        if (!level.keys.insert(name).second)
            fail(path_to(here(levels_.size() - 1), name), "this field stands twice", "each field once");
        if (level.keys.size() > limits::json_fields)
            fail(here(levels_.size() - 1), "has too many fields",
                 "at most " + std::to_string(limits::json_fields) + " fields in one object");
        level.key = std::move(name);
        return true;
    }

    bool parse_error(std::size_t, const std::string& token,
                     const nlohmann::detail::exception& error) override;

  private:
    struct Level {
        Json value;
        std::string key;             // of the member being read, in an object
        std::set<std::string> keys;  // of an object so far
    };

    // Path of the value on level `depth` (0 is the root).
    std::string here(std::size_t depth) const {
        std::string path;
        for (std::size_t i = 0; i < depth; ++i) {
            const Level& level = levels_[i];
            if (level.value.is_object() && level.keys.empty()) break;  // before its first field
            path = level.value.is_object() ? path_to(path, level.key) : path_to(path, level.value.size());
        }
        return path;
    }

    bool add(Json value) {
        if (levels_.empty()) {
            root_ = std::move(value);
            return true;
        }
        Level& level = levels_.back();
        if (level.value.is_object()) {
            level.value.get_ref<Json::object_t&>().emplace_back(level.key, std::move(value));
            return true;
        }
        if (level.value.size() >= limits::json_list_items)
            fail(here(levels_.size() - 1), "has too many items",
                 "at most " + std::to_string(limits::json_list_items) + " items in one list");
        level.value.push_back(std::move(value));
        return true;
    }

    bool open(Json empty) {
        if (levels_.size() >= limits::json_depth)
            fail(here(levels_.size()), "lists and objects stand too deep inside each other",
                 "at most " + std::to_string(limits::json_depth) + " levels");
        levels_.push_back({std::move(empty), "", {}});
        return true;
    }

    bool close() {
        Json done = std::move(levels_.back().value);
        levels_.pop_back();
        return add(std::move(done));
    }

    [[noreturn]] void fail(std::string place, std::string problem, std::string allowed) const {
        throw InputError(file_, std::move(place), std::move(problem), std::move(allowed));
    }

    const std::string& file_;
    Json root_;
    std::vector<Level> levels_;
};

// The library's sentence without its own prefix, and safe to print.
std::string plain_reason(std::string text) {
    const auto start = text.find(": ");
    if (text.rfind("[json.", 0) == 0 && start != std::string::npos) text.erase(0, start + 2);
    std::string safe;
    for (char c : text.substr(0, 200)) safe += c >= 0x20 && c < 0x7f ? c : '?';
    return safe;
}

std::string line_and_column(const std::string& message) {
    const auto start = message.find("line ");
    const auto end = message.find(':', start);
    return start == std::string::npos || end == std::string::npos ? "" : message.substr(start, end - start);
}

bool TreeBuilder::parse_error(std::size_t, const std::string& token,
                              const nlohmann::detail::exception& error) {
    constexpr int number_overflow = 406;
    if (error.id == number_overflow) {
        const std::string path = here(levels_.size());
        fail(path, "the number " + plain_reason(token.substr(0, 40)) + " is too large",
             "numbers below 1e308");
    }
    const std::string message = error.what();
    const std::string inside = here(levels_.size());
    fail(line_and_column(message),
         "this is not JSON: " + plain_reason(message) + (inside.empty() ? "" : " (inside " + inside + ")"),
         "a design file in JSON (RFC 8259, UTF-8)");
}

}  // namespace

Json json_from_text(std::string_view text, const std::string& file) {
    if (text.size() > limits::file_bytes)
        throw InputError(file, "", "the file has " + std::to_string(text.size() >> 10) + " KiB",
                         "at most " + std::to_string(limits::file_bytes >> 10) + " KiB");
    TreeBuilder builder(file);
    Json::sax_parse(text.begin(), text.end(), &builder);
    return builder.take();
}

}  // namespace foreslice::design
