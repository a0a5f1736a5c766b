// The board's second side: every order in which the layers could be poured, drawn from one flow and ranked by
// what the maker chose; any of them can be pinned.
#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "design/layer_orders.h"
#include "foundation/content_key.h"
#include "foundation/error.h"
#include "foundation/worker_pool.h"
#include "studio/window/actions.h"
#include "studio/window/panels.h"
#include "studio/window/panels/board_parts.h"
#include "studio/window/panels/figure.h"

namespace foreslice::studio {
namespace {

constexpr std::size_t most_shown = 48, card_lines = 4;
constexpr flow::Resolution coarse{48, 4, 0.2};  // as the loaf's page: they are only compared at a glance

struct AimButton {
    picture::OrderAim aim;
    const char* id;
    const char* words;
    const char* help;
};
constexpr std::array aim_buttons{
    AimButton{picture::OrderAim::contrast, "contrast", "Strong contrast",
              "How different the colours are where two portions meet, on the mean (CIEDE2000)."},
    AimButton{picture::OrderAim::clean, "clean", "Little mud", "How little of the face has gone muddy."},
    AimButton{picture::OrderAim::accent, "accent", "The accent shows",
              "How much of the smallest portion is seen as itself."}};

picture::OrdersRequest request_of(const Studio& studio, const BoardDesk& desk) {
    picture::OrdersRequest request;
    request.bar = shown_bar(studio);
    request.resolution = coarse;
    request.aims.clear();
    for (std::size_t i = 0; i < aim_buttons.size(); ++i)
        if (desk.aims[i]) request.aims.push_back({aim_buttons[i].aim, 1, {}});
    if (!desk.share_of.empty()) request.aims.push_back({picture::OrderAim::share, 1, desk.share_of});
    if (request.aims.empty()) request.aims.emplace_back();
    return request;
}

void draw_aims(const Studio& studio, BoardDesk& desk, const Area& area) {
    Ui& ui = studio.ui;
    float x = area.x;
    ui.text_at(ImGui::GetWindowDrawList(), ui.fonts.body, ImVec2(x, area.y + ui.px(7)), dusk::ink_soft,
               "Rank by");
    x += ui.text_width(ui.fonts.body, "Rank by") + ui.px(12);
    for (std::size_t i = 0; i < aim_buttons.size(); ++i) {
        const std::string words = (desk.aims[i] ? "✓ " : "") + std::string(aim_buttons[i].words);
        const float width = ui.text_width(ui.fonts.body, words) + ui.px(22);
        ImGui::SetCursorScreenPos(ImVec2(x, area.y));
        if (ui.button(std::string("aim:") + aim_buttons[i].id, words,
                      desk.aims[i] ? ButtonKind::plain : ButtonKind::paper, ImVec2(width, ui.px(32))))
            desk.aims[i] = !desk.aims[i];
        ui.help(aim_buttons[i].help);
        x += width + ui.px(6);
    }
    // Much of one portion.
    const float width = std::min(ui.px(190), area.right() - x);
    if (width < ui.px(90)) return;
    const auto& portions = studio.session.design().portions;
    std::string shown = "Much of …";
    for (const auto& portion : portions)
        if (portion.id == desk.share_of) shown = "✓ Much of " + portion_name(portion);
    ImGui::SetCursorScreenPos(ImVec2(x, area.y));
    ImGui::PushStyleColor(ImGuiCol_FrameBg, desk.share_of.empty() ? dusk::paper_shade : dusk::slate);
    ImGui::PushStyleColor(ImGuiCol_FrameBgHovered,
                          desk.share_of.empty() ? dusk::paper_rule : dusk::slate_lit);
    ImGui::PushStyleColor(ImGuiCol_Button, desk.share_of.empty() ? dusk::paper_rule : dusk::slate_lit);
    ImGui::PushStyleColor(ImGuiCol_Text, desk.share_of.empty() ? dusk::ink : dusk::chalk);
    ImGui::BeginChild("share-of", ImVec2(width, ui.px(34)));
    const bool open = ui.begin_list("aim:share", "", shown);
    ImGui::PopStyleColor(4);
    if (open) {
        if (ui.list_entry("aim:share:none", "no portion", desk.share_of.empty())) desk.share_of.clear();
        for (const auto& portion : portions)
            if (ui.list_entry("aim:share:" + portion.id, portion_name(portion), portion.id == desk.share_of))
                desk.share_of = portion.id;
        ui.end_list();
    }
    ImGui::EndChild();
}

void draw_progress(const Studio& studio, BoardDesk& desk, const Worker::Doing& doing, const Area& area) {
    Ui& ui = studio.ui;
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float stop = ui.text_width(ui.fonts.body, "Stop") + ui.px(24);
    const Area bar{area.x, area.y + ui.px(22), area.width - stop - ui.px(12), ui.px(8)};
    ui.text_at(list, ui.fonts.small, ImVec2(area.x, area.y), dusk::ink,
               doing.stage.empty() ? "beginning…" : doing.stage + "…");
    list->AddRectFilled(ImVec2(bar.x, bar.y), ImVec2(bar.right(), bar.bottom()), dusk::paper_rule, ui.px(4));
    list->AddRectFilled(ImVec2(bar.x, bar.y),
                        ImVec2(bar.x + bar.width * static_cast<float>(doing.fraction), bar.bottom()),
                        dusk::lamp_deep, ui.px(4));
    ui.note_rect("orders:progress", ImVec2(bar.x, bar.y), ImVec2(bar.right(), bar.bottom()), doing.stage);
    ImGui::SetCursorScreenPos(ImVec2(area.right() - stop, area.y));
    if (ui.button("orders:stop", "Stop", ButtonKind::paper, ImVec2(stop, ui.px(32)))) desk.tried.cancel();
}

// "24 orders looked at, ..." and how they are shown.
void draw_found(const Studio& studio, BoardDesk& desk, const TriedOrders& found, const Area& area) {
    Ui& ui = studio.ui;
    std::string words = found.ranked.how;
    if (desk.tried_revision != studio.session.revision() && !(found.design == studio.session.design()))
        words = "Of the design as it was before your last changes. " + words;
    const char* other = desk.grouped ? "Show every one" : "Gather the look-alikes";
    const float width = ui.text_width(ui.fonts.body, other) + ui.px(24);
    ui.text_at(ImGui::GetWindowDrawList(), ui.fonts.small, ImVec2(area.x, area.y + ui.px(8)), dusk::ink_soft,
               ui.fitted(ui.fonts.small, words, area.width - width - ui.px(14)));
    ui.note_rect("orders:how", ImVec2(area.x, area.y),
                 ImVec2(area.right() - width - ui.px(8), area.y + ui.px(28)), words);
    ImGui::SetCursorScreenPos(ImVec2(area.right() - width, area.y));
    if (ui.button("orders:grouped", other, ButtonKind::paper, ImVec2(width, ui.px(32))))
        desk.grouped = !desk.grouped;
    ui.help("Faces that hardly differ are gathered behind the best of them.");
}

// Which of the orders are cards, and their designs and faces.
void settle_cards(const Studio& studio, BoardDesk& desk, const TriedOrders& found, double px_per_mm) {
    const int bar = shown_bar(studio);
    const auto library = studio.session.shared_library();
    const auto stamp = ContentKey()
                           .add(static_cast<std::uint64_t>(reinterpret_cast<std::uintptr_t>(&found)))
                           .add(desk.grouped)
                           .add(bar)
                           .add(px_per_mm)
                           .add(library->key())
                           .value();
    if (desk.order_keys_of != stamp) {
        desk.order_keys_of = stamp;
        desk.order_shown.clear();
        desk.order_designs.clear();
        desk.order_keys.clear();
        if (desk.grouped)
            for (const auto& group : found.ranked.groups) desk.order_shown.push_back(group.front());
        else
            for (std::size_t i = 0; i < std::min(most_shown, found.ranked.orders.size()); ++i)
                desk.order_shown.push_back(i);
        const design::Layers layers(found.design);
        for (const std::size_t i : desk.order_shown) {
            desk.order_designs.push_back(layers.in_order(found.ranked.orders[i].order));
            desk.order_keys.push_back(
                BoardFaces::key_of(desk.order_designs.back(), bar, px_per_mm, library->key()));
        }
    }
    desk.order_faces.want(
        desk.order_keys,
        [&](std::size_t i) {
            return BoardFaces::Wanted{desk.order_keys[i], desk.order_designs[i], bar, px_per_mm, false};
        },
        library, studio.session.threads(), studio.session.waker());
}

std::string alike_words(const TriedOrders& found, std::size_t order) {
    for (const auto& group : found.ranked.groups)
        if (group.front() == order && group.size() > 1)
            return std::to_string(group.size() - 1) + (group.size() == 2 ? " looks alike" : " look alike");
    return "";
}

void draw_order(const Studio& studio, BoardDesk& desk, const TriedOrders& found, std::size_t place,
                const Area& card) {
    const std::size_t index = desk.order_shown[place];
    const picture::RankedOrder& order = found.ranked.orders[index];
    const Variant* pinned = studio.session.board().holding(desk.order_designs[place]);
    CardLook look;
    look.name = "order:" + std::to_string(place + 1);
    look.title = std::to_string(place + 1) + "  " + order.words;
    look.lines = {"contrast " + format_number(order.glance.contrast_de00, 1),
                  "muddy " + format_quantity(order.glance.muddy_percent, Unit::percent, 1),
                  "accent " + format_quantity(order.accent_percent, Unit::percent, 1),
                  desk.grouped ? alike_words(found, index) : ""};
    look.tag = pinned ? "✓ pinned" : "";
    look.help = order.stack + " (from the top down). A click pins it to the board" +
                (pinned ? "; once more takes it off." : ".");
    const auto face = desk.order_faces.face(desk.order_keys[place]);
    const Texture* texture = nullptr;
    if (face && face->problem.empty()) texture = &desk.order_textures.of(desk.order_keys[place], face->bar);
    const CardClicks clicks = draw_card(studio, look, card, face.get(), texture, desk.order_designs[place]);
    if (!clicks.card) return;
    if (pinned)
        take_off_variant(studio, pinned->number);
    else
        pin_order(studio, desk.order_designs[place], order.words);
}

void draw_orders(const Studio& studio, BoardDesk& desk, const TriedOrders& found, const Area& area) {
    const Ui& ui = studio.ui;
    const std::size_t count =
        desk.grouped ? found.ranked.groups.size() : std::min(most_shown, found.ranked.orders.size());
    const auto& mould = found.design.mould;
    const CardGrid grid =
        card_grid_for(ui, room_for_cards(ui, area), count, mould, card_lines, card_rise_mm(studio));
    settle_cards(studio, desk, found,
                 card_px_per_mm(ui, grid.width, grid.height, card_lines, mould, card_rise_mm(studio)));
    const float gap = ui.px(10);
    begin_cards("orders", area);
    const ImVec2 corner = ImGui::GetCursorScreenPos(), start(corner.x + ui.px(2), corner.y + ui.px(2));
    const float rows = cell_of(count + grid.columns - 1, grid.columns).y;
    for (std::size_t i = 0; i < std::min(count, desk.order_shown.size()); ++i) {
        const ImVec2 cell = cell_of(i, grid.columns);
        draw_order(studio, desk, found, i,
                   {start.x + cell.x * (grid.width + gap), start.y + cell.y * (grid.height + gap), grid.width,
                    grid.height});
    }
    end_cards(rows * (grid.height + gap) - gap + ui.px(4));
}

void draw_sentence(const Studio& studio, const Area& area, const std::string& sentence) {
    const Ui& ui = studio.ui;
    const float width = std::min(area.width, ui.px(460));
    const ImVec2 at(area.x + (area.width - width) / 2, area.y + area.height * 0.3F);
    ImGui::GetWindowDrawList()->AddText(ui.fonts.body, ui.fonts.body->FontSize, at, dusk::ink_soft,
                                        sentence.data(), sentence.data() + sentence.size(), width);
    studio.ui.note_rect("orders:sentence", at, ImVec2(at.x + width, at.y + ui.px(60)), sentence);
}

}  // namespace

void try_orders(const Studio& studio) {
    BoardDesk& desk = board_desk(studio);
    look_at_board(studio, BoardDesk::Side::orders);
    if (!studio.session.fault().empty()) return;
    desk.tried_revision = studio.session.revision();
    desk.tried.want(
        ++desk.tries, studio.session.waker(),
        [design = studio.session.design(), request = request_of(studio, desk),
         library = studio.session.shared_library(), threads = studio.session.threads()](Progress& progress) {
            WorkerPool pool(threads);
            picture::FaceMaker maker(pool, library);
            try {
                return TriedOrders{design, picture::ranked_orders(maker, design, request, progress)};
            } catch (const InputError& error) {
                throw std::runtime_error(error.problem());
            }
        });
}

void draw_orders_side(const Studio& studio, const Area& area) {
    Ui& ui = studio.ui;
    BoardDesk& desk = board_desk(studio);
    const char* words = "Try every order";
    const float width = ui.text_width(ui.fonts.body, words) + ui.px(28);
    draw_aims(studio, desk, {area.x, area.y, area.width - width - ui.px(12), ui.px(32)});
    ImGui::SetCursorScreenPos(ImVec2(area.right() - width, area.y));
    ImGui::BeginDisabled(!studio.session.fault().empty());
    if (ui.button("orders:try", words, ButtonKind::lit, ImVec2(width, ui.px(32)))) try_orders(studio);
    ImGui::EndDisabled();
    ui.help("Pours the same layers in every order and ranks the faces (Ctrl+T)");
    Area below{area.x, area.y + ui.px(42), area.width, area.height - ui.px(42)};
    const auto doing = desk.tried.doing();
    if (doing.busy) {
        draw_progress(studio, desk, doing, {below.x, below.y, below.width, ui.px(36)});
        return;
    }
    if (const std::string problem = desk.tried.problem(); !problem.empty())
        return draw_sentence(studio, below, "The layers cannot change places: " + problem + ".");
    const auto found = desk.tried.answer();
    if (!found)
        return draw_sentence(
            studio, below,
            "One flow serves every order of the same layers, so all of them can be looked at in "
            "a moment. Choose what makes an order good, then try them; a click pins one.");
    draw_found(studio, desk, *found, {below.x, below.y, below.width, ui.px(32)});
    draw_orders(studio, desk, *found, {below.x, below.y + ui.px(40), below.width, below.height - ui.px(40)});
}

}  // namespace foreslice::studio
