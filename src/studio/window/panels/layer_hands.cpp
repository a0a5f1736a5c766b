// Taking hold of the poured layers: an edge is dragged to thicken a layer, a layer is dragged to another
// place in the order, a portion is dropped on a layer, the place of a falling stream is moved.
#include <algorithm>
#include <cmath>
#include <cstring>
#include <optional>

#include "studio/session/edits.h"
#include "studio/session/layer_edits.h"
#include "studio/session/pour_edits.h"
#include "studio/window/panels.h"
#include "studio/window/panels/figure.h"

namespace foreslice::studio {
namespace {

struct Hands {
    enum class Holding { nothing, layer, edge, level } holding = Holding::nothing;
    std::size_t pour = 0, upper = 0;
    ImVec2 from;
    bool moved = false;
    design::Design before;
};

struct Under {
    std::optional<std::size_t> pour;   ///< the layer there
    std::optional<std::size_t> lower;  ///< of an edge within reach
    std::size_t upper = 0;
    bool level = false;  ///< the top of the batter
};

// The face may still be that of a moment ago; what it says counts only while it has the same pours.
bool speaks_of_this(const DrawnFace& face, const design::Design& design) {
    return face.poured_whence && face.order.design.pours.size() == design.pours.size() &&
           face.order.design.mould.width_mm == design.mould.width_mm;
}

Under what_is_under(const Studio& studio, const DrawnFace& face, const Figure& figure) {
    Under out;
    const auto pours = studio.session.design().pours.size();
    const Vec2 at = figure.mould_from_screen(ImGui::GetMousePos());
    const double reach = static_cast<double>(studio.ui.px(6)) / figure.px_per_mm;
    const auto pour_at = [&](double y_mm) {
        return static_cast<std::size_t>(std::max(0, face.poured_whence({at.x, y_mm}).pour));
    };
    if (std::abs(at.y - studio.session.design().mould.fill_mm) < reach) {
        out.level = true;
        return out;
    }
    const std::size_t here = pour_at(at.y);
    if (here >= pours) return out;
    out.pour = here;
    for (const double off : {reach * 0.5, -reach * 0.5, reach, -reach}) {
        const std::size_t other = pour_at(at.y + off);
        if (other == here || other >= pours) continue;
        out.lower = off > 0 ? here : other;
        out.upper = off > 0 ? other : here;
        return out;
    }
    return out;
}

// Where a layer would go if it were let go here: above how many of the pours.
std::size_t place_in_order(const design::Design& design, double y_mm) {
    const auto areas = design::pour_areas_mm2(design);
    double top = 0;
    std::size_t place = 0;
    for (const double area : areas) {
        const double depth = area / design.mould.width_mm;
        if (y_mm > top + depth / 2) ++place;
        top += depth;
    }
    return place;
}

double height_of_place(const design::Design& design, std::size_t place) {
    const auto areas = design::pour_areas_mm2(design);
    double top = 0;
    for (std::size_t i = 0; i < std::min(place, areas.size()); ++i) top += areas[i];
    return top / design.mould.width_mm;
}

std::string depth_words(const Ui& ui, const design::Design& design, std::size_t pour) {
    const auto areas = design::pour_areas_mm2(design);
    const std::size_t portion = portion_index(design, design.pours[pour].portion);
    if (portion >= design.portions.size() || pour >= areas.size()) return "";
    return portion_name(design.portions[portion]) + "  " +
           ui.shown(areas[pour] / design.mould.width_mm, Unit::mm, 1);
}

void drag_edge(const Studio& studio, Hands& hands, const Figure& figure) {
    const double up = static_cast<double>(hands.from.y - ImGui::GetMousePos().y) / figure.px_per_mm;
    const bool level = hands.holding == Hands::Holding::level;
    auto next = level ? with_level_moved(hands.before, up)
                      : with_edge_moved(hands.before, hands.pour, hands.upper, up);
    studio.session.edit(std::move(next), level ? "pour the last layer deeper" : "move the edge of a layer",
                        "layer-edge");
    const auto& now = studio.session.design();
    const ImVec2 mouse = ImGui::GetMousePos();
    const std::size_t last = now.pours.size() - 1;
    draw_tag(
        studio.ui, ImVec2(mouse.x, mouse.y - studio.ui.px(34)),
        level ? "filled to " + studio.ui.shown(now.mould.fill_mm, Unit::mm, 1) + " · " +
                    depth_words(studio.ui, now, last)
              : depth_words(studio.ui, now, hands.upper) + "  ·  " + depth_words(studio.ui, now, hands.pour));
    ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeNS);
}

void drag_layer(const Studio& studio, Hands& hands, const Figure& figure, bool released) {
    const Ui& ui = studio.ui;
    const auto& design = studio.session.design();
    const ImVec2 mouse = ImGui::GetMousePos();
    const std::size_t place = place_in_order(design, figure.mould_from_screen(mouse).y);
    const std::size_t to = std::min(place > hands.pour ? place - 1 : place, design.pours.size() - 1);
    if (released) {
        if (to != hands.pour)
            studio.session.edit(with_pour_moved(design, hands.pour, to), "change the order of the layers");
        studio.session.close_step();
        studio.view.pour = to;
        return;
    }
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float y = figure.screen_from_mould({0, height_of_place(design, place)}).y;
    list->AddLine(ImVec2(figure.area.x - ui.px(10), y), ImVec2(figure.area.right() + ui.px(10), y),
                  dusk::paper, ui.px(5));
    list->AddLine(ImVec2(figure.area.x - ui.px(10), y), ImVec2(figure.area.right() + ui.px(10), y),
                  dusk::lamp_deep, ui.px(3));
    const std::size_t portion = portion_index(design, design.pours[hands.pour].portion);
    const auto colour = colour_of_portion(studio.session, portion);
    const float half = figure.area.width * 0.42F, high = ui.px(18);
    const ImVec2 min(mouse.x - half, mouse.y - high / 2), max(mouse.x + half, mouse.y + high / 2);
    list->AddRectFilled(min, max, IM_COL32(colour.r, colour.g, colour.b, 235), ui.px(4));
    list->AddRect(min, max, dusk::ink, ui.px(4), 0, ui.px(1.5F));
    draw_tag(ui, ImVec2(mouse.x, max.y + ui.px(6)),
             to == hands.pour ? "stays where it is" : "becomes layer " + std::to_string(to + 1));
    ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
}

void take_hold(const Studio& studio, Hands& hands, const Under& under) {
    hands = {};
    hands.from = ImGui::GetMousePos();
    hands.before = studio.session.design();
    if (under.level) {
        hands.holding = Hands::Holding::level;
    } else if (under.lower) {
        hands.holding = Hands::Holding::edge;
        hands.pour = *under.lower;
        hands.upper = under.upper;
    } else if (under.pour) {
        hands.holding = Hands::Holding::layer;
        hands.pour = *under.pour;
        studio.view.pour = *under.pour;
        studio.view.portion =
            portion_index(studio.session.design(), studio.session.design().pours[*under.pour].portion);
    }
}

void hold_on(const Studio& studio, Hands& hands, const Figure& figure, bool released) {
    if (ImGui::IsMouseDragging(0, studio.ui.px(4))) hands.moved = true;
    if (hands.moved && hands.holding == Hands::Holding::layer)
        drag_layer(studio, hands, figure, released);
    else if (hands.moved && hands.holding != Hands::Holding::nothing)
        drag_edge(studio, hands, figure);
    if (!released) return;
    studio.session.close_step();
    hands.holding = Hands::Holding::nothing;
}

void take_dropped_portion(const Studio& studio, const Under& under) {
    if (!ImGui::BeginDragDropTarget()) return;
    if (const ImGuiPayload* payload = ImGui::AcceptDragDropPayload(portion_payload)) {
        const std::string id(static_cast<const char*>(payload->Data),
                             static_cast<std::size_t>(payload->DataSize));
        if (under.pour) {
            studio.session.edit(with_pour_of(studio.session.design(), *under.pour, id),
                                "pour another portion");
            studio.view.portion = portion_index(studio.session.design(), id);
        }
    }
    ImGui::EndDragDropTarget();
}

void show_what_can_be_done(const Studio& studio, const Under& under, const Figure& figure,
                           const DrawnFace& face) {
    if (under.level || under.lower) {
        ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeNS);
        if (ImGui::GetIO().MouseDelta.x != 0 || ImGui::GetIO().MouseDelta.y != 0) return;
        ImGui::SetTooltip("%s", under.level
                                    ? "Drag to pour the last layer deeper or less deep."
                                    : "Drag the edge to make one layer thicker and the other thinner.");
    } else if (under.pour) {
        ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
        draw_whence(studio, face, figure, false);
    }
}

// A stream from above at each place of the chosen falling pour.
void draw_streams(const Studio& studio, const Figure& figure) {
    const auto& design = studio.session.design();
    const std::size_t pour = studio.view.pour;
    if (pour >= design.pours.size() || design.pours[pour].manner != design::PourManner::free_fall) return;
    Ui& ui = studio.ui;
    auto places = design.pours[pour].fall.at_mm;
    if (places.empty()) places.push_back(design.mould.width_mm / 2);
    const auto colour = colour_of_portion(studio.session, portion_index(design, design.pours[pour].portion));
    ImDrawList* list = ImGui::GetWindowDrawList();
    for (std::size_t k = 0; k < places.size(); ++k) {
        const ImVec2 foot = figure.screen_from_mould({places[k], design.mould.fill_mm});
        const ImVec2 head(foot.x, foot.y - ui.px(26));
        ImGui::SetCursorScreenPos(ImVec2(head.x - ui.px(12), head.y - ui.px(12)));
        const std::string name = "stream:" + std::to_string(k + 1);
        ImGui::InvisibleButton(name.c_str(), ImVec2(ui.px(24), ui.px(38)));
        ui.note(name);
        ui.help("Drag to move the place where the stream falls.");
        const bool held = ImGui::IsItemActive(), over = ImGui::IsItemHovered();
        if (held || over) ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeEW);
        list->AddLine(head, foot, dusk::ink, ui.px(7));
        list->AddLine(head, foot, IM_COL32(colour.r, colour.g, colour.b, 255), ui.px(4));
        list->AddCircleFilled(head, ui.px(held || over ? 9 : 7), IM_COL32(colour.r, colour.g, colour.b, 255),
                              24);
        list->AddCircle(head, ui.px(held || over ? 9 : 7), dusk::ink, 24, ui.px(2));
        if (held && ImGui::IsMouseDragging(0, ui.px(2)))
            studio.session.edit(
                with_fall_at(design, pour, k, figure.mould_from_screen(ImGui::GetMousePos()).x),
                "move where the stream falls", "stream" + std::to_string(k));
        if (ImGui::IsItemDeactivated()) studio.session.close_step();
        if (held) return;  // the design may be another one now
    }
}

}  // namespace

void draw_layer_hands(const Studio& studio, const Figure& figure) {
    const auto face = studio.session.face();
    if (!face || studio.session.design().pours.empty()) return;
    Hands& hands = studio.view.shelf.at<Hands>();
    if (studio.view.step == Step::pour) draw_streams(studio, figure);
    const float reach = studio.ui.px(6);
    ImGui::SetCursorScreenPos(ImVec2(figure.area.x, figure.area.y - reach));
    ImGui::InvisibleButton("layers", ImVec2(figure.area.width, figure.area.height + reach));
    studio.ui.note("layers");
    const bool speaks = speaks_of_this(*face, studio.session.design());
    const bool over = ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenBlockedByActiveItem);
    const Under under =
        speaks && (over || ImGui::IsItemActive()) ? what_is_under(studio, *face, figure) : Under{};
    take_dropped_portion(studio, under);
    if (ImGui::IsItemActivated()) take_hold(studio, hands, under);
    const bool released = ImGui::IsItemDeactivated();
    if (ImGui::IsItemActive() || released)
        hold_on(studio, hands, figure, released);
    else if (ImGui::IsItemHovered())
        show_what_can_be_done(studio, under, figure, *face);
}

void offer_portion(const Studio& studio, std::size_t portion) {
    if (!ImGui::BeginDragDropSource(ImGuiDragDropFlags_SourceAllowNullID)) return;
    const auto& one = studio.session.design().portions[portion];
    ImGui::SetDragDropPayload(portion_payload, one.id.data(), one.id.size());
    studio.ui.swatch(colour_of_portion(studio.session, portion), ImVec2(studio.ui.px(34), studio.ui.px(24)));
    ImGui::SameLine();
    ImGui::TextUnformatted((portion_name(one) + ": drop it on a layer").c_str());
    ImGui::EndDragDropSource();
}

}  // namespace foreslice::studio
