#include "design/internal/json.h"

namespace foreslice::design {
namespace {

constexpr std::size_t line_columns = 100;

std::string scalar(const Json& value) {
    return value.dump(-1, ' ', false, Json::error_handler_t::replace);
}

bool flat(const Json& value) {
    for (const Json& child : value)
        if (child.is_structured()) return false;
    return true;
}

// A list of points stands point by point even though one point is a list: each of them is flat.
std::string one_line(const Json& value) {
    if (!value.is_structured()) return scalar(value);
    if (value.empty()) return value.is_object() ? "{}" : "[]";
    std::string text = "[";
    for (const Json& child : value) text.append(text.size() > 1 ? ", " : "").append(scalar(child));
    return text + "]";
}

bool stands_on_one_line(const Json& value, std::size_t column) {
    if (!value.is_structured() || value.empty()) return true;
    return value.is_array() && flat(value) && column + one_line(value).size() <= line_columns;
}

// Every field of an object gets a line of its own, however short the object: a line is what version control
// compares and merges. Recursion is bounded: trees come from the reader (depth limit) or from a document (a
// few levels).
void write(std::string& out, const Json& value, std::size_t depth, std::size_t column) {
    if (stands_on_one_line(value, column)) {
        out += one_line(value);
        return;
    }
    const std::string indent(2 * (depth + 1), ' ');
    out += value.is_object() ? "{" : "[";
    bool first = true;
    for (const auto& [key, child] : value.items()) {
        out += first ? "\n" : ",\n";
        first = false;
        std::string start = indent;
        if (value.is_object()) start.append(scalar(Json(key))).append(": ");
        out += start;
        write(out, child, depth + 1, start.size());
    }
    out.append("\n").append(2 * depth, ' ').append(value.is_object() ? "}" : "]");
}

}  // namespace

std::string text_from_json(const Json& tree) {
    std::string out;
    write(out, tree, 0, 0);
    return out + "\n";
}

}  // namespace foreslice::design
