// The board's third side: two variants large, and between them in words what differs; and what can be done
// with the board from anywhere.
#include <algorithm>
#include <cmath>
#include <utility>

#include "foundation/content_key.h"
#include "picture/bar.h"
#include "studio/session/board_words.h"
#include "studio/window/actions.h"
#include "studio/window/panel_list.h"
#include "studio/window/panels.h"
#include "studio/window/panels/board_parts.h"
#include "studio/window/panels/figure.h"
#include "studio/window/panels/making.h"

namespace foreslice::studio {
namespace {

/// What was compared last: finding it again every frame would cost a frame's time.
struct Compared {
    std::uint64_t of = 0;
    bool with_faces = false;
    std::vector<std::string> design, face;
};

std::size_t place_of(const Board& board, int number) {
    for (std::size_t i = 0; i < board.variants.size(); ++i)
        if (board.variants[i].number == number) return i;
    return board.variants.size();
}

// Without a choice of two: the first ones that hang there.
void settle_two(const Studio& studio, BoardDesk& desk) {
    const auto& variants = studio.session.board().variants;
    for (const Variant& variant : variants) {
        if (desk.chosen.size() >= 2) return;
        if (std::find(desk.chosen.begin(), desk.chosen.end(), variant.number) == desk.chosen.end())
            desk.chosen.push_back(variant.number);
    }
}

const Compared& compared(const Studio& studio) {
    const BoardDesk& desk = board_desk(studio);
    Compared& known = studio.view.shelf.at<Compared>();
    const Board& board = studio.session.board();
    const std::size_t a = place_of(board, desk.chosen.at(0)), b = place_of(board, desk.chosen.at(1));
    const auto face_a = board_face(studio, a), face_b = board_face(studio, b);
    const bool faces = face_a && face_b && face_a->problem.empty() && face_b->problem.empty();
    const auto of = ContentKey()
                        .add(studio.session.document_id())
                        .add(studio.session.board_stamp())
                        .add(desk.chosen[0])
                        .add(desk.chosen[1])
                        .add(faces)
                        .add(shown_bar(studio))
                        .add(studio.ui.units.inches)
                        .value();
    if (known.of == of) return known;
    known = {of, faces, {}, {}};
    const auto& one = board.variants.at(a).design;
    const auto& other = board.variants.at(b).design;
    known.design = design_changes(one, other, &studio.session.colour_library());
    if (faces) known.face = measure_changes(one, face_a->measures, other, face_b->measures, studio.ui.units);
    return known;
}

void draw_list(const Studio& studio, const char* title, const std::vector<std::string>& sentences,
               const char* otherwise) {
    Ui& ui = studio.ui;
    ImGui::PushStyleColor(ImGuiCol_Text, dusk::ink);
    ImGui::PushFont(ui.fonts.bold);
    ImGui::TextUnformatted(title);
    ImGui::PopFont();
    ImGui::PushTextWrapPos(0);
    for (const auto& sentence : sentences) {
        ImGui::Bullet();
        ImGui::SameLine();
        ImGui::TextUnformatted(sentence.data(), sentence.data() + sentence.size());
    }
    ImGui::PopStyleColor();
    ImGui::PushStyleColor(ImGuiCol_Text, dusk::ink_soft);
    if (sentences.empty()) ImGui::TextUnformatted(otherwise);
    ImGui::PopStyleColor();
    ImGui::PopTextWrapPos();
    ImGui::Dummy(ImVec2(0, ui.px(8)));
}

void draw_words(const Studio& studio, const Area& area) {
    Ui& ui = studio.ui;
    const Compared& words = compared(studio);
    ImGui::SetCursorScreenPos(ImVec2(area.x, area.y));
    ImGui::BeginChild("compared", ImVec2(area.width, area.height));
    draw_list(studio, "From A to B", words.design, "The designs are the same.");
    draw_list(studio, "On the face", words.face,
              words.with_faces ? "Hardly any difference." : "The faces are still being drawn.");
    ImGui::EndChild();
    ui.note_rect("compare:words", ImVec2(area.x, area.y), ImVec2(area.right(), area.bottom()),
                 in_one_line(words.design, words.face, 50));
}

void draw_large(const Studio& studio, std::size_t place, const std::string& letter, const Area& area) {
    Ui& ui = studio.ui;
    BoardDesk& desk = board_desk(studio);
    const Variant variant = studio.session.board().variants.at(place);  // a copy: clicks change the board
    const auto face = board_face(studio, place);
    CardLook look;
    look.name = "compare:" + letter;
    look.title = variant.name;
    look.letter = letter;
    look.star = variant.starred ? 1 : 0;
    look.help = variant.name;
    if (desk.now_number == variant.number) look.tag = "the design now";
    const Texture* texture = nullptr;
    if (face && face->problem.empty()) texture = &desk.textures.of(desk.keys[place], face->bar);
    const float foot = ui.px(40);
    const CardClicks clicks = draw_card(studio, look, {area.x, area.y, area.width, area.height - foot},
                                        face.get(), texture, variant.design);
    if (clicks.star) star_variant(studio, variant.number);
    ImGui::SetCursorScreenPos(ImVec2(area.x, area.bottom() - ui.px(32)));
    if (ui.button("compare:open:" + letter, "Open in place", ButtonKind::paper,
                  ImVec2(area.width, ui.px(32))))
        open_variant(studio, variant.number);
    ui.help("Make it the design; undo brings back what was.");
}

}  // namespace

std::string compared_in_a_line(const Studio& studio, std::size_t most_of_each) {
    if (board_desk(studio).chosen.size() != 2) return "";
    const Compared& words = compared(studio);
    return in_one_line(words.design, words.face, most_of_each) +
           (words.with_faces ? "" : "; the faces are still being drawn");
}

void draw_compare_side(const Studio& studio, const Area& area) {
    const Ui& ui = studio.ui;
    BoardDesk& desk = board_desk(studio);
    if (studio.session.board().variants.size() < 2) {
        desk.side = BoardDesk::Side::board;
        return draw_board_side(studio, area);
    }
    settle_two(studio, desk);
    const float gap = ui.px(14), words = std::clamp(area.width * 0.3F, ui.px(190), ui.px(400));
    const float wide = std::min((area.width - words - 2 * gap) / 2, ui.px(900));
    const auto& mould = studio.session.design().mould;
    want_board_faces(studio,
                     card_px_per_mm(ui, wide, area.height - ui.px(40), 0, mould, card_rise_mm(studio)));
    const Board& board = studio.session.board();
    const std::size_t a = place_of(board, desk.chosen[0]), b = place_of(board, desk.chosen[1]);
    const float x = area.x + (area.width - 2 * wide - words - 2 * gap) / 2;
    draw_large(studio, a, "A", {x, area.y, wide, area.height});
    draw_words(studio, {x + wide + gap, area.y + ui.px(6), words, area.height - ui.px(6)});
    // Opening A in the place of the design leaves the board as it is.
    draw_large(studio, b, "B", {x + wide + words + 2 * gap, area.y, wide, area.height});
}

void look_at_board(const Studio& studio, BoardDesk::Side side) {
    for (std::size_t i = 0; i < all_pages().size(); ++i)
        if (std::string(all_pages()[i].id) == "board") studio.view.page = i;
    stop_making(studio);
    board_desk(studio).side = side;
}

bool board_busy(const Studio& studio) {
    return board_shown(studio) && board_desk(studio).tried.doing().busy;
}

bool board_shown(const Studio& studio) {
    return !making_shown(studio) && studio.view.page < all_pages().size() &&
           std::string(all_pages()[studio.view.page].id) == "board";
}

int chosen_variant(const Studio& studio) {
    const BoardDesk& desk = board_desk(studio);
    if (!board_shown(studio) || desk.side != BoardDesk::Side::board || desk.chosen.size() != 1) return 0;
    return studio.session.board().find(desk.chosen.front()) ? desk.chosen.front() : 0;
}

void pin_design(const Studio& studio) {
    pin_order(studio, studio.session.design(), "");
}

void pin_order(const Studio& studio, const design::Design& design, const std::string& name) {
    Board next = studio.session.board();
    const bool known = next.holding(design) != nullptr;
    const auto number = pin(next, design, name, &studio.session.colour_library());
    if (!number) {
        studio.session.add_notice({true, "The board is full: " + std::to_string(most_variants) +
                                             " variants hang there. Take one off first."});
        return;
    }
    const std::string words = "“" + next.find(*number)->name + "” ";
    studio.session.add_notice(
        {false, words + (known ? "hangs on the board already." : "is pinned to the board.")});
    studio.session.change_board(std::move(next));
}

void open_variant(const Studio& studio, int number) {
    const Variant* variant = studio.session.board().find(number);
    if (!variant) return;
    studio.session.add_notice(
        {false, "“" + variant->name + "” is the design now; undo brings back what was."});
    studio.session.take_variant(number);
    studio.view.portion = studio.view.pour = studio.view.stroke = studio.view.waypoint = 0;
}

void star_variant(const Studio& studio, int number) {
    Board next = studio.session.board();
    Variant* variant = next.find(number);
    if (!variant) return;
    variant->starred = !variant->starred;
    studio.session.change_board(std::move(next));
}

void take_off_variant(const Studio& studio, int number) {
    Board next = studio.session.board();
    const std::size_t place = place_of(next, number);
    if (place >= next.variants.size()) return;
    board_desk(studio).taken_off.emplace(next.variants[place], place);
    next.variants.erase(next.variants.begin() + static_cast<std::ptrdiff_t>(place));
    studio.session.change_board(std::move(next));
}

void rename_variant(const Studio& studio, int number) {
    if (studio.session.board().find(number)) board_desk(studio).name_wanted = true;
}

}  // namespace foreslice::studio
