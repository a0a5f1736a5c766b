#include "studio/session/board.h"

#include <algorithm>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <system_error>
#include <utility>

#include "design/design_file.h"
#include "design/differences.h"
#include "foundation/content_key.h"
#include "foundation/error.h"
#include "foundation/text_file.h"
#include "studio/session/windows.h"

namespace foreslice::studio {
namespace fs = std::filesystem;
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* board_format = "foreslice board";
constexpr int board_version = 1;
constexpr std::size_t file_limit_bytes = 64U << 20;
constexpr int deepest = 64;
constexpr int highest_number = 1000000;

// What a variant is called before the maker has a name for it: what is new in it.
std::string name_by_difference(const Board& board, const design::Design& design,
                               const colour::ColourantLibrary* library) {
    if (board.variants.empty()) return design.name;
    const auto found = design::differences(board.variants.back().design, design, library);
    if (found.empty()) return design.name;
    std::string words = design::sentence_of(found.front());
    if (found.size() > 1) words += " and " + std::to_string(found.size() - 1) + " more";
    return words;
}

[[noreturn]] void refuse(const std::string& file, const std::string& place, const std::string& problem,
                         const std::string& allowed) {
    throw InputError(file, place, problem, allowed);
}

// A number from 1 to `most`; nothing for whatever else stands there, were it too large for an int.
std::optional<int> whole_number(const Json& tree, int most) {
    if (!tree.is_number_unsigned()) return std::nullopt;
    const auto number = tree.get<std::uint64_t>();
    if (number < 1 || number > static_cast<std::uint64_t>(most)) return std::nullopt;
    return static_cast<int>(number);
}

Variant variant_of(const Json& tree, const std::string& file, const std::string& place) {
    if (!tree.is_object() || !tree.contains("design"))
        refuse(file, place, "this is no variant", "an object with a design");
    const auto text = [&](const char* key) {
        const auto found = tree.find(key);
        return found != tree.end() && found->is_string() ? found->get<std::string>() : std::string();
    };
    const auto says = [&](const char* key) {
        const auto found = tree.find(key);
        return found != tree.end() && found->is_boolean() && found->get<bool>();
    };
    Variant variant;
    const auto number = tree.find("number");
    if (number != tree.end()) variant.number = whole_number(*number, highest_number).value_or(0);
    variant.design = design::parse(tree.at("design").dump(), file + place);
    variant.name = variant_name(text("name"));
    if (variant.name.empty()) variant.name = variant_name(variant.design.name);
    variant.named = says("named");
    variant.starred = says("starred");
    return variant;
}

// Numbers that a hand in the file made useless are given anew.
void settle_numbers(Board& board) {
    for (std::size_t i = 0; i < board.variants.size(); ++i) {
        int& number = board.variants[i].number;
        const bool taken =
            std::any_of(board.variants.begin(), board.variants.begin() + static_cast<std::ptrdiff_t>(i),
                        [&](const Variant& before) { return before.number == number; });
        if (taken) number = 0;
        board.next_number = std::max(board.next_number, number + 1);
    }
    for (Variant& variant : board.variants)
        if (variant.number == 0) variant.number = board.next_number++;
}

}  // namespace

const Variant* Board::find(int number) const {
    const auto found = std::find_if(variants.begin(), variants.end(),
                                    [&](const Variant& variant) { return variant.number == number; });
    return found == variants.end() ? nullptr : &*found;
}

Variant* Board::find(int number) {
    return const_cast<Variant*>(std::as_const(*this).find(number));
}

const Variant* Board::holding(const design::Design& design) const {
    const auto found = std::find_if(variants.begin(), variants.end(),
                                    [&](const Variant& variant) { return variant.design == design; });
    return found == variants.end() ? nullptr : &*found;
}

std::optional<int> pin(Board& board, const design::Design& design, std::string name,
                       const colour::ColourantLibrary* library) {
    if (const Variant* same = board.holding(design)) return same->number;
    if (board.full()) return std::nullopt;
    Variant variant;
    variant.number = board.next_number++;
    variant.design = design;
    variant.name = variant_name(name.empty() ? name_by_difference(board, design, library) : std::move(name));
    board.variants.push_back(std::move(variant));
    return board.variants.back().number;
}

void put_back(Board& board, Variant variant, std::size_t place) {
    if (board.full() || board.find(variant.number)) return;
    place = std::min(place, board.variants.size());
    board.variants.insert(board.variants.begin() + static_cast<std::ptrdiff_t>(place), std::move(variant));
}

std::string variant_name(std::string_view text) {
    std::string out(text.substr(0, variant_name_length));
    // Not in the middle of a character.
    if (text.size() > out.size()) {
        while (!out.empty() && (static_cast<unsigned char>(out.back()) & 0xc0) == 0x80) out.pop_back();
        if (!out.empty() && static_cast<unsigned char>(out.back()) >= 0xc0) out.pop_back();
    }
    for (char& c : out)
        if (static_cast<unsigned char>(c) < 0x20) c = ' ';
    while (!out.empty() && out.back() == ' ') out.pop_back();
    out.erase(0, std::min(out.find_first_not_of(' '), out.size()));
    return out;
}

std::string to_json(const Board& board) {
    Json tree{{"format", board_format}, {"version", board_version}, {"variants", Json::array()}};
    for (const Variant& variant : board.variants)
        tree["variants"].push_back({{"number", variant.number},
                                    {"name", variant.name},
                                    {"named", variant.named},
                                    {"starred", variant.starred},
                                    {"design", Json::parse(design::to_json(variant.design))}});
    return tree.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

Board parse_board(std::string_view json, const std::string& file) {
    // What stands too deep is left out: writing such a tree again would meet the end of the stack.
    const Json tree = Json::parse(
        json, [](int depth, Json::parse_event_t, const Json&) { return depth < deepest; }, false);
    if (tree.is_discarded() || !tree.is_object() || tree.value("format", Json()) != board_format)
        refuse(file, "", "this is no compare board", foreslice::quoted(board_format));
    const auto version = tree.find("version");
    if (version != tree.end() && !whole_number(*version, board_version))
        refuse(file, "/version", "the board is of another version",
               "version " + std::to_string(board_version) + "; a newer program reads it");
    const auto variants = tree.find("variants");
    if (variants == tree.end() || !variants->is_array() || variants->size() > most_variants)
        refuse(file, "/variants", "this is no list of variants",
               "up to " + std::to_string(most_variants) + " variants");
    Board board;
    for (std::size_t i = 0; i < variants->size(); ++i)
        board.variants.push_back(variant_of((*variants)[i], file, "/variants/" + std::to_string(i)));
    settle_numbers(board);
    return board;
}

fs::path board_file(const fs::path& document, const fs::path& state_folder, int unnamed) {
    if (document.empty()) return state_folder / ("unnamed-" + std::to_string(unnamed) + ".board.json");
    std::error_code error;
    const auto full = fs::absolute(document, error);
    const auto key = ContentKey().add((error ? document : full).lexically_normal().string()).value();
    std::string name = document.filename().string();
    name.append("-").append(std::to_string(key)).append(".board.json");
    return state_folder / name;
}

Board load_board(const fs::path& file) {
    std::error_code error;
    if (!fs::is_regular_file(file, error)) return {};
    try {
        return parse_board(read_file(file, file_limit_bytes), file.string());
    } catch (const InputError& problem) {
        fs::path aside = file;
        aside += ".unreadable";
        fs::rename(file, aside, error);
        throw InputError(file.string(), "", "The compare board cannot be read (" + problem.problem() + ")",
                         "It was put aside as " + aside.filename().string());
    }
}

Board board_at(const fs::path& file) {
    std::error_code error;
    if (!fs::is_regular_file(file, error)) return {};
    try {
        return parse_board(read_file(file, file_limit_bytes), file.string());
    } catch (const InputError&) {
        return {};
    }
}

void save_board(const Board& mine, const Board& known, const fs::path& file) {
    const auto turn = my_turn_to_write(file);
    Board board = mine;
    for (Variant& variant : board_at(file).variants) {
        if (board.full()) break;
        if (mine.holding(variant.design) || known.holding(variant.design)) continue;
        if (board.find(variant.number)) variant.number = board.next_number;
        board.next_number = std::max(board.next_number, variant.number + 1);
        board.variants.push_back(std::move(variant));
    }
    if (board.variants.empty()) {
        std::error_code ignored;
        fs::remove(file, ignored);
        return;
    }
    write_file_atomically(file, to_json(board));
}

}  // namespace foreslice::studio
