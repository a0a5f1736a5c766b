// The compare board of a document: variants of its design that the maker pinned to look at side by side. It
// is no part of the design and of no undo step; it is kept in the state folder, so that it outlives the
// program.
#pragma once

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "colour/pigment.h"
#include "design/design.h"

namespace foreslice::studio {

inline constexpr std::size_t most_variants = 12;
inline constexpr std::size_t variant_name_length = 80;  ///< bytes

struct Variant {
    int number = 0;  ///< its own on this board, never given to another
    design::Design design;
    std::string name;
    bool named = false;  ///< by the maker, not by what differs
    bool starred = false;
    friend bool operator==(const Variant&, const Variant&) = default;
};

struct Board {
    std::vector<Variant> variants;  ///< in the order they were pinned, at most most_variants
    int next_number = 1;

    const Variant* find(int number) const;
    Variant* find(int number);
    /// The variant that is this design in everything; null when there is none.
    const Variant* holding(const design::Design& design) const;
    bool full() const { return variants.size() >= most_variants; }
    friend bool operator==(const Board&, const Board&) = default;
};

/// Pins a design; an empty name becomes what differs from the variant pinned before it. Returns its number,
/// or that of the variant which is the same already; nothing when the board is full.
std::optional<int> pin(Board& board, const design::Design& design, std::string name,
                       const colour::ColourantLibrary* library);
/// Where a variant that was taken off hung before goes back in; nothing happens on a full board.
void put_back(Board& board, Variant variant, std::size_t place);
/// A name cut to its length, without line breaks; empty when nothing is left.
std::string variant_name(std::string_view text);

std::string to_json(const Board& board);
/// Throws InputError for anything that is no board; `file` stands in its sentences.
Board parse_board(std::string_view json, const std::string& file);

/// Where the board of a document is kept. `unnamed` tells documents without a file apart.
std::filesystem::path board_file(const std::filesystem::path& document,
                                 const std::filesystem::path& state_folder, int unnamed = 1);
/// An empty board when there is no file. One that cannot be read is put aside under another name and throws
/// InputError that says so.
Board load_board(const std::filesystem::path& file);
/// As it is on the disk; empty when it cannot be read, and nothing is put aside.
Board board_at(const std::filesystem::path& file);
/// Atomic; an empty board takes the file away. Another window may have pinned variants since `known` was read
/// from there or written: they stay, as far as there is room. Throws InputError.
void save_board(const Board& board, const Board& known, const std::filesystem::path& file);

}  // namespace foreslice::studio
