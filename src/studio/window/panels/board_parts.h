// What the parts of the compare board share.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "picture/orders.h"
#include "studio/session/asked.h"
#include "studio/session/board.h"
#include "studio/session/board_faces.h"
#include "studio/window/layout.h"
#include "studio/window/texture.h"
#include "studio/window/view.h"

namespace foreslice::studio {

/// Textures of faces by their key; those that were not used for a frame go.
class FaceTextures {
  public:
    const Texture& of(std::uint64_t key, const picture::Image& image);
    void end_frame();

  private:
    struct Kept {
        Texture texture;
        bool used = true;
    };
    std::map<std::uint64_t, std::unique_ptr<Kept>> kept_;
};

/// Every order of the layers of one design, ranked.
struct TriedOrders {
    design::Design design;
    picture::RankedOrders ranked;
};

struct BoardDesk {
    enum class Side { board, orders, compare };
    Side side = Side::board;
    std::uint64_t of_design = 0;  ///< what the choice below belongs to

    // The board.
    std::vector<int> chosen;  ///< numbers of at most two variants, the first is A
    int sorting = 0;          ///< index of the sort list
    std::string name;         ///< in the field, of the one chosen
    int name_of = 0;
    bool name_wanted = false;  ///< the keyboard goes into the name's field
    std::optional<std::pair<Variant, std::size_t>> taken_off;
    BoardFaces faces;
    FaceTextures textures;
    std::vector<std::uint64_t> keys;  ///< of the variants' faces
    std::uint64_t keys_of = 0;
    std::uint64_t now_of = 0;
    int now_number = 0;  ///< the variant that the design is at present; 0: none

    // Orders of the layers.
    std::array<bool, 3> aims{true, false, false};  ///< contrast, clean, accent
    std::string share_of;                          ///< portion whose share counts; empty: none
    bool grouped = true;
    Asked<TriedOrders> tried;
    std::uint64_t tries = 0;           ///< grows with every request
    std::uint64_t tried_revision = 0;  ///< of the design when it was asked for
    BoardFaces order_faces;
    FaceTextures order_textures;
    std::uint64_t order_keys_of = 0;
    std::vector<std::uint64_t> order_keys;
    std::vector<std::size_t> order_shown;  ///< into the ranked orders
    std::vector<design::Design> order_designs;
};

BoardDesk& board_desk(const Studio& studio);

/// A face with what stands round it, as a card of the board.
struct CardLook {
    std::string name;                ///< of the widget
    std::string title;               ///< above the face
    std::vector<std::string> lines;  ///< below it, small
    std::string tag;                 ///< a word on the face; may be empty
    std::string letter;              ///< "A" or "B" when it is chosen
    std::string help;
    int star = -1;  ///< -1: none, 0: not starred, 1: starred
};
struct CardClicks {
    bool card = false, twice = false, star = false;
};
/// `face` null: still being drawn; then bands of `colours` stand in its place.
CardClicks draw_card(const Studio& studio, const CardLook& look, const Area& card, const VariantFace* face,
                     const Texture* texture, const design::Design& design);
/// Of the largest face that a card of this width and height has room for, in steps. `rise_mm`: of a worked
/// top above the level of the mould.
double card_px_per_mm(const Ui& ui, float width, float height, std::size_t lines, const design::Mould& mould,
                      double rise_mm);
/// A star, filled or in outline.
void draw_star(ImDrawList* list, ImVec2 middle, float radius, bool filled, ImU32 colour, float line);

/// Rows and columns of cards in an area: all at once where they stay legible, else to be scrolled.
struct CardGrid {
    std::size_t columns = 1;
    float width = 1, height = 1;  ///< of a card
};
CardGrid card_grid_for(const Ui& ui, const Area& area, std::size_t cards, const design::Mould& mould,
                       std::size_t lines, double rise_mm);
/// Room above the faces for what stands on them, mm: that of the design, and a little for uneven edges.
double card_rise_mm(const Studio& studio);

/// Without a margin for the outlines of cards.
inline Area room_for_cards(const Ui& ui, const Area& area) {
    return {area.x + ui.px(2), area.y + ui.px(2), area.width - ui.px(4), area.height - ui.px(4)};
}

/// What scrolls when the cards are many; `height`: of all of them together.
void begin_cards(const char* id, const Area& area);
void end_cards(float height);

/// The three sides of the page; each into the area below its heading.
void draw_board_side(const Studio& studio, const Area& area);
void draw_orders_side(const Studio& studio, const Area& area);
void draw_compare_side(const Studio& studio, const Area& area);

/// Orders faces of the variants at a scale; refreshes the desk's keys.
void want_board_faces(const Studio& studio, double px_per_mm);
/// The face of a variant of the board, by its place; null while it is drawn.
std::shared_ptr<const VariantFace> board_face(const Studio& studio, std::size_t place);

/// What differs between A and B, so many of each kind at most; says so while a face is missing.
std::string compared_in_a_line(const Studio& studio, std::size_t most_of_each);

/// What can be done with the board from anywhere; each says what it did.
void pin_design(const Studio& studio);
void pin_order(const Studio& studio, const design::Design& design, const std::string& name);
void open_variant(const Studio& studio, int number);
void star_variant(const Studio& studio, int number);
void take_off_variant(const Studio& studio, int number);
void rename_variant(const Studio& studio, int number);
void try_orders(const Studio& studio);
void look_at_board(const Studio& studio, BoardDesk::Side side);
bool board_shown(const Studio& studio);
/// The one variant that is chosen while the board is on the screen; 0: none, or two.
int chosen_variant(const Studio& studio);

}  // namespace foreslice::studio
