// The studio's compare boards.
#include <algorithm>

#include "fuzz_rule.h"
#include "studio/session/board.h"

using namespace foreslice;
using namespace foreslice::testing;

namespace {

void check_numbers(const studio::Board& board) {
    must(board.variants.size() <= studio::most_variants, "a board holds no more than it has places for");
    for (const auto& variant : board.variants) {
        must(variant.number >= 1 && variant.number < board.next_number, "the next number is above all");
        must(board.find(variant.number) == &variant, "no number is given twice");
        must(studio::variant_name(variant.name) == variant.name, "a name is one short line");
    }
}

void check_hands(studio::Board board) {
    if (board.variants.empty()) return;
    studio::Variant first = board.variants.front();
    must(studio::pin(board, first.design, "", nullptr).has_value(), "what hangs there already can be pinned");
    board.variants.erase(board.variants.begin());
    studio::put_back(board, first, 1000);
    must(board.variants.back() == first, "what was taken off can be put back");
    first.design.seed += 1;
    if (!board.full() && !board.holding(first.design))
        must(studio::pin(board, first.design, first.name, nullptr).has_value(), "a new one can be pinned");
    check_numbers(board);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto read = taken([&] { return studio::parse_board(bytes_from(data, size), "fuzz"); });
    if (!read) return 0;
    check_numbers(*read);
    const std::string text = studio::to_json(*read);
    const auto again = taken([&] { return studio::parse_board(text, "written"); });
    must(again.has_value(), "a board that was read can be written and read");
    must(*again == *read, "it is the same board then");
    must(studio::to_json(*again) == text, "its file is the same then");
    check_hands(*read);
    return 0;
}
