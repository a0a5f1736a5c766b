// The compare board: variants of the design side by side, each with its face, its name, a star and figures.
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "foundation/content_key.h"
#include "studio/session/board_words.h"
#include "studio/window/actions.h"
#include "studio/window/panels.h"
#include "studio/window/panels/board_parts.h"
#include "studio/window/panels/figure.h"

namespace foreslice::studio {
namespace {

constexpr std::size_t card_lines = 2;
constexpr std::array sort_words{"as pinned",   "stars first",    "strongest contrast",
                                "least muddy", "broadest bands", "most symmetric"};

// Larger comes first.
double worth(const Variant& variant, const VariantFace* face, int sorting) {
    if (sorting == 1) return variant.starred ? 1 : 0;
    if (sorting == 0 || !face || !face->problem.empty()) return -1e9;
    const auto& m = face->measures;
    return sorting == 2   ? m.mean_contrast_de00
           : sorting == 3 ? -m.muddy_percent
           : sorting == 4 ? m.median_thickness_mm
                          : m.symmetry;
}

std::vector<std::size_t> sorted_places(const Studio& studio) {
    const BoardDesk& desk = board_desk(studio);
    const auto& variants = studio.session.board().variants;
    std::vector<std::size_t> places(variants.size());
    std::vector<double> worths(variants.size(), 0);
    for (std::size_t i = 0; i < places.size(); ++i) {
        places[i] = i;
        worths[i] = worth(variants[i], board_face(studio, i).get(), desk.sorting);
    }
    std::stable_sort(places.begin(), places.end(),
                     [&](std::size_t a, std::size_t b) { return worths[a] > worths[b]; });
    return places;
}

std::vector<std::string> lines_of(const Ui& ui, const VariantFace* face) {
    if (!face || !face->problem.empty()) return {"", ""};
    const auto& m = face->measures;
    return {"contrast " + format_number(m.mean_contrast_de00, 1) + " · muddy " +
                format_quantity(m.muddy_percent, Unit::percent, 0),
            "bands " + ui.shown(m.median_thickness_mm, Unit::mm, 1) + " · symmetry " +
                format_quantity(100 * m.symmetry, Unit::percent, 0)};
}

std::string letter_of(const BoardDesk& desk, int number) {
    for (std::size_t i = 0; i < desk.chosen.size(); ++i)
        if (desk.chosen[i] == number) return i == 0 ? "A" : "B";
    return "";
}

// One click chooses, another one lets go; of three the oldest gives way.
void choose(BoardDesk& desk, int number) {
    const auto found = std::find(desk.chosen.begin(), desk.chosen.end(), number);
    if (found != desk.chosen.end()) {
        desk.chosen.erase(found);
        return;
    }
    if (desk.chosen.size() >= 2) desk.chosen.erase(desk.chosen.begin());
    desk.chosen.push_back(number);
}

void draw_variant(const Studio& studio, std::size_t place, const Area& card) {
    BoardDesk& desk = board_desk(studio);
    const Variant variant = studio.session.board().variants[place];
    const auto face = board_face(studio, place);
    CardLook look;
    look.name = "variant:" + std::to_string(variant.number);
    look.title = variant.name;
    look.lines = lines_of(studio.ui, face.get());
    look.letter = letter_of(desk, variant.number);
    look.star = variant.starred ? 1 : 0;
    look.help = variant.name +
                ". A click chooses it, a second one elsewhere compares the two; a double click opens it.";
    if (desk.now_number == variant.number) look.tag = "the design now";
    const Texture* texture = nullptr;
    if (face && face->problem.empty()) texture = &desk.textures.of(desk.keys[place], face->bar);
    const CardClicks clicks = draw_card(studio, look, card, face.get(), texture, variant.design);
    if (clicks.star) star_variant(studio, variant.number);
    if (clicks.card) choose(desk, variant.number);
    if (clicks.twice) open_variant(studio, variant.number);
}

void draw_cards(const Studio& studio, const Area& area) {
    const Ui& ui = studio.ui;
    const auto& design = studio.session.design();
    const std::size_t count = studio.session.board().variants.size();
    const double rise = card_rise_mm(studio);
    const CardGrid grid = card_grid_for(ui, room_for_cards(ui, area), count, design.mould, card_lines, rise);
    want_board_faces(studio, card_px_per_mm(ui, grid.width, grid.height, card_lines, design.mould, rise));
    const float gap = ui.px(10);
    const float rows = cell_of(count + grid.columns - 1, grid.columns).y;
    begin_cards("variants", area);
    const ImVec2 corner = ImGui::GetCursorScreenPos(), start(corner.x + ui.px(2), corner.y + ui.px(2));
    const auto places = sorted_places(studio);
    for (std::size_t i = 0; i < places.size() && i < studio.session.board().variants.size(); ++i) {
        const ImVec2 cell = cell_of(i, grid.columns);
        draw_variant(studio, places[i],
                     {start.x + cell.x * (grid.width + gap), start.y + cell.y * (grid.height + gap),
                      grid.width, grid.height});
    }
    end_cards(rows * (grid.height + gap) - gap + ui.px(4));
}

// Nothing hangs there yet: what the board is for, and how to begin.
void draw_empty(const Studio& studio, const Area& area) {
    Ui& ui = studio.ui;
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float width = std::min(area.width, ui.px(520)), x = area.x + (area.width - width) / 2;
    float y = area.y + area.height * 0.22F;
    for (int i = 0; i < 3; ++i) {  // three empty places
        const float card = ui.px(84), left = area.x + area.width / 2 +
                                             (static_cast<float>(i) - 1.5F) * (card + ui.px(14)) + ui.px(7);
        list->AddRect(ImVec2(left, y), ImVec2(left + card, y + ui.px(100)), dusk::paper_rule, ui.px(7), 0,
                      ui.px(2));
        ui.text_at(list, ui.fonts.title, ImVec2(left + card / 2, y + ui.px(36)), dusk::paper_rule,
                   i == 1 ? "+" : "", 0.5F);
    }
    y += ui.px(124);
    ui.text_at(list, ui.fonts.title, ImVec2(area.x + area.width / 2, y), dusk::ink, "Nothing is pinned yet",
               0.5F);
    ui.note_rect("board:empty", ImVec2(x, y), ImVec2(x + width, y + ui.px(30)), "nothing is pinned yet");
    y += ui.px(38);
    for (const char* sentence :
         {"Pin the design as it stands, change it, and pin it again: up to 12 hang side by side.",
          "Undo leaves them alone, and they are still here tomorrow."}) {
        ui.text_at(list, ui.fonts.body, ImVec2(area.x + area.width / 2, y), dusk::ink_soft, sentence, 0.5F);
        y += ui.px(22);
    }
}

void draw_name_field(const Studio& studio, BoardDesk& desk, const Variant& variant) {
    Ui& ui = studio.ui;
    if (desk.name_of != variant.number || (!ImGui::GetIO().WantTextInput && desk.name != variant.name)) {
        desk.name_of = variant.number;
        desk.name = variant.name;
    }
    if (std::exchange(desk.name_wanted, false)) ImGui::SetKeyboardFocusHere();
    const Edited edited = ui.text_field("board:name", "", desk.name, "What do you call it?");
    ui.help("Its name on the board (F2)");
    if (!edited.changed) return;
    Board next = studio.session.board();
    Variant* own = next.find(variant.number);
    const std::string name = variant_name(desk.name);
    if (!own || name.empty()) return;
    own->name = name;
    own->named = true;
    studio.session.change_board(std::move(next));
}

bool foot_button(const Studio& studio, const char* name, const char* words, const char* help, float& x,
                 float y, ButtonKind kind = ButtonKind::paper) {
    Ui& ui = studio.ui;
    const float width = ui.text_width(ui.fonts.body, words) + ui.px(24);
    ImGui::SetCursorScreenPos(ImVec2(x, y));
    const bool pressed = ui.button(name, words, kind, ImVec2(width, ui.px(32)));
    ui.help(help);
    x += width + ui.px(8);
    return pressed;
}

void draw_foot_of_one(const Studio& studio, BoardDesk& desk, const Variant& variant, const Area& area) {
    const Ui& ui = studio.ui;
    const float y = area.y + (area.height - ui.px(32)) / 2;
    const float buttons = ui.px(430);
    ImGui::SetCursorScreenPos(ImVec2(area.x, y));
    const float name_width = std::clamp(area.width - buttons, ui.px(140), ui.px(360));
    ImGui::BeginChild("name-of-variant", ImVec2(name_width, ui.px(34)));
    draw_name_field(studio, desk, variant);
    ImGui::EndChild();
    float x = area.x + name_width + ui.px(10);
    if (foot_button(studio, "board:open", "Open in place",
                    "Make it the design; undo brings back what was (Ctrl+Enter)", x, y, ButtonKind::lit))
        open_variant(studio, variant.number);
    if (foot_button(studio, "board:send", "Send to the collection",
                    "As a design file of its own beside a collection (Ctrl+L)", x, y))
        run(Action::board_send, studio);
    if (foot_button(studio, "board:take-off", "Take off", "Off the board; it can be put back (Delete)", x, y))
        take_off_variant(studio, variant.number);
}

void draw_foot_of_two(const Studio& studio, BoardDesk& desk, const Area& area) {
    Ui& ui = studio.ui;
    const float y = area.y + (area.height - ui.px(32)) / 2;
    const float button = ui.text_width(ui.fonts.body, "Look at both") + ui.px(24);
    const float room = area.width - button - ui.px(20);
    const std::string words = compared_in_a_line(studio, 3);
    const Variant* a = studio.session.board().find(desk.chosen[0]);
    const Variant* b = studio.session.board().find(desk.chosen[1]);
    if (!a || !b) return;
    ImDrawList* list = ImGui::GetWindowDrawList();
    ui.text_at(list, ui.fonts.small_bold, ImVec2(area.x, y - ui.px(4)), dusk::ink,
               ui.fitted(ui.fonts.small_bold, "From A “" + a->name + "” to B “" + b->name + "”", room));
    const ImVec2 at(area.x, y + ui.px(14));
    list->PushClipRect(at, ImVec2(at.x + room, at.y + ui.px(36)), true);
    list->AddText(ui.fonts.small, ui.fonts.small->FontSize, at, dusk::ink_soft, words.data(),
                  words.data() + words.size(), room);
    list->PopClipRect();
    ui.note_rect("board:words", at, ImVec2(at.x + room, at.y + ui.px(36)), words);
    float x = area.right() - button;
    if (foot_button(studio, "board:both", "Look at both", "Both faces large, and all that differs (Ctrl+D)",
                    x, y, ButtonKind::lit))
        look_at_board(studio, BoardDesk::Side::compare);
}

void draw_foot(const Studio& studio, const Area& area) {
    Ui& ui = studio.ui;
    BoardDesk& desk = board_desk(studio);
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddLine(ImVec2(area.x, area.y), ImVec2(area.right(), area.y), dusk::paper_rule, ui.px(1));
    if (desk.chosen.size() == 2) return draw_foot_of_two(studio, desk, area);
    if (desk.chosen.size() == 1) {
        if (const Variant* variant = studio.session.board().find(desk.chosen.front()))
            draw_foot_of_one(studio, desk, Variant(*variant), area);
        return;
    }
    float x = area.x;
    const float y = area.y + (area.height - ui.px(32)) / 2;
    if (desk.taken_off) {
        const std::string words =
            "“" + ui.fitted(ui.fonts.body, desk.taken_off->first.name, ui.px(260)) + "” was taken off.";
        ui.text_at(list, ui.fonts.body, ImVec2(x, y + ui.px(7)), dusk::ink, words);
        x += ui.text_width(ui.fonts.body, words) + ui.px(14);
        if (foot_button(studio, "board:put-back", "Put it back", "Where it hung before", x, y)) {
            Board next = studio.session.board();
            put_back(next, desk.taken_off->first, desk.taken_off->second);
            studio.session.change_board(std::move(next));
            desk.taken_off.reset();
        }
        return;
    }
    ui.text_at(list, ui.fonts.body, ImVec2(x, y + ui.px(7)), dusk::ink_soft,
               studio.session.board().variants.size() > 1
                   ? "Click one to choose it, and another one to have the difference in words."
                   : "Click it to choose it.");
}

void sort_list(const Studio& studio, BoardDesk& desk, float x, float y, float width) {
    Ui& ui = studio.ui;
    ImGui::SetCursorScreenPos(ImVec2(x, y));
    ImGui::PushStyleColor(ImGuiCol_FrameBg, dusk::paper_shade);
    ImGui::PushStyleColor(ImGuiCol_FrameBgHovered, dusk::paper_rule);
    ImGui::PushStyleColor(ImGuiCol_Button, dusk::paper_rule);
    ImGui::PushStyleColor(ImGuiCol_Text, dusk::ink);
    ImGui::BeginChild("sort", ImVec2(width, ui.px(34)));
    const bool open = ui.begin_list("board:sort", "", sort_words[static_cast<std::size_t>(desk.sorting)]);
    ImGui::PopStyleColor(4);
    if (open) {
        for (std::size_t i = 0; i < sort_words.size(); ++i)
            if (ui.list_entry("board:sort:" + std::to_string(i), sort_words[i],
                              desk.sorting == static_cast<int>(i)))
                desk.sorting = static_cast<int>(i);
        ui.end_list();
    }
    ImGui::EndChild();
}

// The sides of the page on the left, what belongs to all of them on the right.
void draw_heading(const Studio& studio, const Area& area) {
    Ui& ui = studio.ui;
    BoardDesk& desk = board_desk(studio);
    const std::size_t count = studio.session.board().variants.size();
    const std::string pinned = "Pinned, " + std::to_string(count) + " of " + std::to_string(most_variants);
    struct Tab {
        BoardDesk::Side side;
        const char* name;
        std::string words, help;
    };
    const Tab tabs[] = {
        {BoardDesk::Side::board, "board:pinned", pinned, "The variants that hang on the board"},
        {BoardDesk::Side::orders, "board:orders", "Orders of the layers",
         "Every order in which the layers could be poured, ranked"},
        {BoardDesk::Side::compare, "board:compare", "Two compared",
         "Two variants large, with the difference in words (Ctrl+D)"}};
    float x = area.x;
    for (const Tab& tab : tabs) {
        const float width = ui.text_width(ui.fonts.body, tab.words) + ui.px(22);
        ImGui::SetCursorScreenPos(ImVec2(x, area.y));
        ImGui::BeginDisabled(tab.side == BoardDesk::Side::compare && count < 2);
        if (ui.button(tab.name, tab.words, desk.side == tab.side ? ButtonKind::lit : ButtonKind::paper,
                      ImVec2(width, ui.px(32))))
            look_at_board(studio, tab.side);
        ImGui::EndDisabled();
        ui.help(tab.help);
        x += width + ui.px(6);
    }
    const char* words = "Pin the design";
    const float width = ui.text_width(ui.fonts.body, words) + ui.px(28);
    float right = area.right() - width;
    ImGui::SetCursorScreenPos(ImVec2(right, area.y));
    ImGui::BeginDisabled(!can_run(Action::board_pin, studio));
    if (ui.button("board:pin", words, ButtonKind::lit, ImVec2(width, ui.px(32))))
        run(Action::board_pin, studio);
    ImGui::EndDisabled();
    ui.help("Hang the design as it is now on the board (F8, on any page)");
    const float list_width = ui.px(150);
    right -= list_width + ui.px(8);
    if (desk.side == BoardDesk::Side::board && count > 1 && right > x)
        sort_list(studio, desk, right, area.y, list_width);
}

// Variants that are gone cannot be chosen any longer, nor can those of another document.
void settle_choice(const Studio& studio, BoardDesk& desk) {
    const auto& session = studio.session;
    if (desk.of_design != session.document_id()) {
        desk.of_design = session.document_id();
        desk.chosen.clear();
        desk.taken_off.reset();
        desk.side = BoardDesk::Side::board;
    }
    std::erase_if(desk.chosen, [&](int number) { return !session.board().find(number); });
    const auto stamp = ContentKey().add(session.revision()).add(session.board_stamp()).value();
    if (desk.now_of == stamp) return;
    desk.now_of = stamp;
    const Variant* now = session.board().holding(session.design());
    desk.now_number = now ? now->number : 0;
}

}  // namespace

BoardDesk& board_desk(const Studio& studio) {
    return studio.view.shelf.at<BoardDesk>();
}

void want_board_faces(const Studio& studio, double px_per_mm) {
    BoardDesk& desk = board_desk(studio);
    const Session& session = studio.session;
    const auto& variants = session.board().variants;
    const int bar = shown_bar(studio);
    const auto library = session.shared_library();
    const auto library_key = library->key();
    const auto stamp =
        ContentKey().add(session.board_stamp()).add(bar).add(px_per_mm).add(library_key).value();
    if (desk.keys_of != stamp || desk.keys.size() != variants.size()) {
        desk.keys_of = stamp;
        desk.keys.clear();
        for (const Variant& variant : variants)
            desk.keys.push_back(BoardFaces::key_of(variant.design, bar, px_per_mm, library_key));
    }
    desk.faces.want(
        desk.keys,
        [&](std::size_t i) {
            return BoardFaces::Wanted{desk.keys[i], variants[i].design, bar, px_per_mm};
        },
        library, session.threads(), session.waker());
}

std::shared_ptr<const VariantFace> board_face(const Studio& studio, std::size_t place) {
    const BoardDesk& desk = board_desk(studio);
    return place < desk.keys.size() ? desk.faces.face(desk.keys[place]) : nullptr;
}

void draw_board_side(const Studio& studio, const Area& area) {
    const Ui& ui = studio.ui;
    if (studio.session.board().variants.empty() && !board_desk(studio).taken_off)
        return draw_empty(studio, area);
    const float foot = ui.px(70);
    draw_cards(studio, {area.x, area.y, area.width, area.height - foot - ui.px(6)});
    draw_foot(studio, {area.x, area.bottom() - foot, area.width, foot});
}

void draw_page_board(const Studio& studio, const Area& page) {
    const Ui& ui = studio.ui;
    BoardDesk& desk = board_desk(studio);
    settle_choice(studio, desk);
    keep_face(studio, page);
    const Area inside{page.x + ui.px(20), page.y + ui.px(10), page.width - ui.px(40),
                      page.height - ui.px(18)};
    draw_heading(studio, {inside.x, inside.y, inside.width, ui.px(32)});
    const Area body{inside.x, inside.y + ui.px(42), inside.width, inside.height - ui.px(42)};
    switch (desk.side) {
        case BoardDesk::Side::board:
            draw_board_side(studio, body);
            break;
        case BoardDesk::Side::orders:
            draw_orders_side(studio, body);
            break;
        case BoardDesk::Side::compare:
            draw_compare_side(studio, body);
            break;
    }
    desk.textures.end_frame();
    desk.order_textures.end_frame();
}

}  // namespace foreslice::studio
