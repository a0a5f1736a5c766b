// One card of the board: a name, a face, a few figures, and a star.
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "studio/window/panels.h"
#include "studio/window/panels/board_parts.h"
#include "studio/window/panels/figure.h"

namespace foreslice::studio {
namespace {

constexpr float title_height = 28, line_height = 16, padding = 8;
constexpr float least_face_height = 78, most_card_width = 420;

// The layers as they would lie, until the face is there.
void draw_bands(const Studio& studio, const design::Design& design, const Area& figure) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const auto areas = design::pour_areas_mm2(design);
    double whole = 0, below = 0;
    for (const double area : areas) whole += area;
    if (!(whole > 0)) return;
    for (std::size_t i = 0; i < std::min(areas.size(), design.pours.size()); ++i) {
        const auto& own = studio.session.design();
        const auto portion = portion_index(own, design.pours[i].portion);
        const auto colour = portion < own.portions.size() ? colour_of_portion(studio.session, portion)
                                                          : colour::EncodedSrgb{140, 140, 140};
        const float bottom = figure.bottom() - figure.height * static_cast<float>(below / whole);
        below += areas[i];
        const float top = figure.bottom() - figure.height * static_cast<float>(below / whole);
        list->AddRectFilled(ImVec2(figure.x, top), ImVec2(figure.right(), bottom),
                            IM_COL32(colour.r, colour.g, colour.b, 110));
    }
}

void draw_letter(const Ui& ui, ImVec2 at, const std::string& letter) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float radius = ui.px(13);
    list->AddCircleFilled(at, radius, letter == "A" ? dusk::lamp : dusk::ink, 32);
    list->AddCircle(at, radius, dusk::paper, 32, ui.px(2));
    ui.text_at(list, ui.fonts.bold, ImVec2(at.x, at.y - ui.fonts.bold->FontSize / 2),
               letter == "A" ? dusk::on_lamp : dusk::paper, letter, 0.5F);
}

// Of the face without what stands above it; a top that is higher than was thought makes it smaller.
Area face_area(const Studio& studio, const Area& card, std::size_t lines, const VariantFace* face,
               const design::Mould& mould) {
    const Ui& ui = studio.ui;
    double rise = card_rise_mm(studio);
    if (face && face->problem.empty())
        rise = std::max(rise, (face->bar.height_px - 2 * face->margin_px) / face->px_per_mm - mould.fill_mm);
    const double scale = card_px_per_mm(ui, card.width, card.height, lines, mould, rise);
    const auto width = static_cast<float>(std::round(mould.width_mm * scale));
    const auto height = static_cast<float>(std::round(mould.fill_mm * scale));
    const auto above = static_cast<float>(rise * scale);
    const float under = ui.px(line_height) * static_cast<float>(lines) + ui.px(padding + 6);
    // In a card that is higher than need be, in the middle.
    const float slack = card.height - ui.px(title_height) - under - above - height;
    return {std::round(card.x + (card.width - width) / 2),
            std::round(card.bottom() - under - std::max(0.0F, slack / 2) - height), width, height};
}

void draw_frame(const Ui& ui, const Area& card, const std::string& letter, bool over, bool focused) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ImVec2 min(card.x, card.y), max(card.right(), card.bottom());
    list->AddRectFilled(min, max, dusk::paper_shade, ui.px(7));
    const bool chosen = !letter.empty();
    if (!chosen && !over && !focused) return;
    const ImU32 colour = letter == "B" ? dusk::ink : (chosen || focused) ? dusk::lamp_deep : dusk::paper_rule;
    list->AddRect(min, max, colour, ui.px(7), 0, ui.px(chosen ? 3.5F : 2));
}

void draw_face(const Studio& studio, const CardLook& look, const Area& figure, const VariantFace* face,
               const Texture* texture, const design::Design& design) {
    const Ui& ui = studio.ui;
    const bool made = face && face->problem.empty();
    if (made && texture)
        draw_bar_image(ImGui::GetWindowDrawList(), *texture, face->margin_px, figure);
    else
        draw_bands(studio, design, figure);
    const ImVec2 middle(figure.x + figure.width / 2, figure.y + figure.height / 2 - ui.px(12));
    if (!made) draw_tag(ui, middle, face ? "cannot be made" : "coming…");
    if (made && !look.tag.empty()) draw_tag(ui, ImVec2(middle.x, figure.bottom() - ui.px(30)), look.tag);
}

bool star_clicked(const Studio& studio, const CardLook& look, const Area& card) {
    Ui& ui = studio.ui;
    const ImVec2 corner(card.right() - ui.px(30), card.y + ui.px(2));
    ImGui::SetCursorScreenPos(corner);
    const std::string name = look.name + ":star";
    const bool clicked = ImGui::InvisibleButton(name.c_str(), ImVec2(ui.px(28), ui.px(28)));
    const bool lit = ImGui::IsItemHovered() || (ImGui::IsItemFocused() && ImGui::GetIO().NavVisible);
    const bool starred = look.star == 1;
    ui.note(name, starred ? "starred" : "");
    ui.help(starred ? "Take the star away (Ctrl+K)" : "Give it a star (Ctrl+K)");
    draw_star(ImGui::GetWindowDrawList(), ImVec2(corner.x + ui.px(14), corner.y + ui.px(14)),
              ui.px(lit ? 10 : 8.5F), starred, starred ? dusk::lamp_deep : dusk::ink_soft, ui.px(1.5F));
    return clicked;
}

}  // namespace

const Texture& FaceTextures::of(std::uint64_t key, const picture::Image& image) {
    auto& kept = kept_[key];
    if (!kept) {
        kept = std::make_unique<Kept>();
        kept->texture.upload(image);
    }
    kept->used = true;
    return kept->texture;
}

// What this frame draws was noted before; what the frame before drew is on the screen no more.
void FaceTextures::end_frame() {
    std::erase_if(kept_, [](const auto& one) { return !one.second->used; });
    for (auto& [key, kept] : kept_) kept->used = false;
}

double card_rise_mm(const Studio& studio) {
    return std::max(rise_mm(studio), 0.06 * studio.session.design().mould.fill_mm);
}

double card_px_per_mm(const Ui& ui, float width, float height, std::size_t lines, const design::Mould& mould,
                      double rise_mm) {
    const float room_x = width - ui.px(2 * padding);
    const float room_y =
        height - ui.px(title_height + padding + 6) - ui.px(line_height) * static_cast<float>(lines);
    const double scale = std::min(static_cast<double>(room_x) / mould.width_mm,
                                  static_cast<double>(room_y) / (mould.fill_mm + rise_mm));
    return std::clamp(std::floor(scale * 8) / 8, 0.5, 8.0);
}

CardGrid card_grid_for(const Ui& ui, const Area& area, std::size_t cards, const design::Mould& mould,
                       std::size_t lines, double rise_mm) {
    const float gap = ui.px(10);
    const float beside = ui.px(title_height + padding + 6) + ui.px(line_height) * static_cast<float>(lines);
    const double shape = (mould.fill_mm + rise_mm) / mould.width_mm;
    CardGrid best;
    float best_face = -1;
    for (std::size_t columns = 1; columns <= std::max<std::size_t>(cards, 1); ++columns) {
        const std::size_t rows = (cards + columns - 1) / columns;
        const float width =
            std::min(ui.px(most_card_width), (area.width + gap) / static_cast<float>(columns) - gap);
        const float height = (area.height + gap) / static_cast<float>(std::max<std::size_t>(rows, 1)) - gap;
        const auto by_width = static_cast<float>(static_cast<double>(width - ui.px(2 * padding)) * shape);
        const float face = std::min(by_width, height - beside);
        if (width >= ui.px(104) && face > best_face) {
            best_face = face;
            best = {columns, width, std::min(height, beside + by_width)};
        }
    }
    if (best_face >= ui.px(least_face_height)) return best;
    // Too many for one look: cards of a legible size, to be scrolled.
    const float width = ui.px(150);
    best.columns = std::max<std::size_t>(1, static_cast<std::size_t>((area.width + gap) / (width + gap)));
    best.width = std::floor((area.width + gap) / static_cast<float>(best.columns) - gap - ui.px(2));
    const auto face = static_cast<float>(static_cast<double>(best.width - ui.px(2 * padding)) * shape);
    best.height = beside + std::min(face, ui.px(190));
    return best;
}

void draw_star(ImDrawList* list, ImVec2 middle, float radius, bool filled, ImU32 colour, float line) {
    std::array<ImVec2, 10> points;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const float angle = std::numbers::pi_v<float> * (static_cast<float>(i) / 5 - 0.5F);
        const float reach = i % 2 == 0 ? radius : radius * 0.45F;
        points[i] = ImVec2(middle.x + reach * std::cos(angle), middle.y + reach * std::sin(angle));
    }
    if (filled)
        for (std::size_t i = 0; i < points.size(); ++i)
            list->AddTriangleFilled(middle, points[i], points[(i + 1) % points.size()], colour);
    list->AddPolyline(points.data(), static_cast<int>(points.size()), colour, ImDrawFlags_Closed, line);
}

void begin_cards(const char* id, const Area& area) {
    ImGui::SetCursorScreenPos(ImVec2(area.x, area.y));
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(0, 0));
    ImGui::BeginChild(id, ImVec2(area.width, area.height));
}

void end_cards(float height) {
    const ImVec2 start = ImGui::GetWindowPos();
    ImGui::SetCursorScreenPos(ImVec2(start.x, start.y - ImGui::GetScrollY() + height - 1));
    ImGui::Dummy(ImVec2(1, 1));
    ImGui::EndChild();
    ImGui::PopStyleVar();
}

CardClicks draw_card(const Studio& studio, const CardLook& look, const Area& card, const VariantFace* face,
                     const Texture* texture, const design::Design& design) {
    Ui& ui = studio.ui;
    CardClicks clicks;
    ImGui::SetCursorScreenPos(ImVec2(card.x, card.y));
    clicks.card = ImGui::InvisibleButton(look.name.c_str(), ImVec2(card.width, card.height));
    ImGui::SetItemAllowOverlap();  // the star lies on it
    const bool over = ImGui::IsItemHovered();
    clicks.twice = over && ImGui::IsMouseDoubleClicked(0);
    ui.note(look.name, look.title);
    ui.help(look.help);
    if (over) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    draw_frame(ui, card, look.letter, over, ImGui::IsItemFocused() && ImGui::GetIO().NavVisible);
    const Area figure = face_area(studio, card, look.lines.size(), face, design.mould);
    draw_face(studio, look, figure, face, texture, design);
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float star_room = look.star >= 0 ? ui.px(24) : 0;
    ui.text_at(list, ui.fonts.small_bold, ImVec2(card.x + ui.px(padding), card.y + ui.px(8)), dusk::ink,
               ui.fitted(ui.fonts.small_bold, look.title, card.width - ui.px(2 * padding) - star_room));
    float y = figure.bottom() + ui.px(8);
    for (const auto& line : look.lines) {
        ui.text_at(list, ui.fonts.small, ImVec2(card.x + card.width / 2, y), dusk::ink_soft,
                   ui.fitted(ui.fonts.small, line, card.width - ui.px(8)), 0.5F);
        y += ui.px(line_height);
    }
    if (!look.letter.empty()) draw_letter(ui, ImVec2(card.x + ui.px(20), figure.y + ui.px(14)), look.letter);
    if (look.star >= 0 && star_clicked(studio, look, card)) clicks.star = true;
    if (look.star >= 0 && ImGui::IsItemHovered()) clicks.twice = false;
    return clicks;
}

}  // namespace foreslice::studio
