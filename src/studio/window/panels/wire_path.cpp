// The wire's way drawn over the poured layers. Dark on light, so that it shows on every colour.
#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "flow/tool.h"
#include "studio/session/wire_edits.h"
#include "studio/window/panels.h"
#include "studio/window/panels/figure.h"

namespace foreslice::studio {
namespace {

void draw_arrow(ImDrawList* list, ImVec2 from, ImVec2 to, float size) {
    const float dx = to.x - from.x, dy = to.y - from.y, length = std::hypot(dx, dy);
    if (length < 3 * size) return;
    const float ux = dx / length, uy = dy / length;
    const ImVec2 tip((from.x + to.x) / 2 + ux * size, (from.y + to.y) / 2 + uy * size);
    const ImVec2 left(tip.x - 2 * size * ux - size * uy, tip.y - 2 * size * uy + size * ux);
    const ImVec2 right(tip.x - 2 * size * ux + size * uy, tip.y - 2 * size * uy - size * ux);
    list->AddTriangle(tip, left, right, dusk::rgb(0xffffff, 190), size * 0.8F);
    list->AddTriangleFilled(tip, left, right, dusk::ink);
}

void draw_stroke(const Ui& ui, ImDrawList* list, const Figure& frame, const design::Stroke& stroke,
                 const design::Design& design, bool chosen) {
    std::vector<ImVec2> points;
    for (const Vec2 p : design::path_of(stroke, design)) points.push_back(frame.screen_from_mould(p));
    if (points.size() < 2) return;
    const int count = static_cast<int>(points.size());
    const float line = chosen ? ui.px(2) : ui.px(1);
    list->AddPolyline(points.data(), count, dusk::rgb(0xffffff, chosen ? 190 : 110), 0, line + ui.px(3));
    list->AddPolyline(points.data(), count, chosen ? dusk::ink : dusk::ink_soft, 0, line);
    if (!chosen) return;
    float since = ui.px(48);  // curves of many short pieces get an arrow now and then
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        const float piece = std::hypot(points[i + 1].x - points[i].x, points[i + 1].y - points[i].y);
        since += piece;
        if (since < ui.px(48)) continue;
        draw_arrow(list, points[i], points[i + 1], ui.px(4));
        since = 0;
    }
    const flow::ToolShape shape(flow::Stroke{stroke.wire_diameter_mm, 1, {}, stroke.tool});
    draw_tool(ui, list, frame, shape, points.front(), true);
    draw_tool(ui, list, frame, shape, points.back(), false);
}

struct WireHand {
    bool drawing = false;  ///< the next drag draws a way
    std::vector<Vec2> drawn_mm;
};

void draw_turn_handles(const Studio& studio, ImDrawList* list, const Figure& figure, std::size_t index,
                       const std::vector<Vec2>& path) {
    Ui& ui = studio.ui;
    const auto& stroke = studio.session.design().strokes[index];
    const bool turns = std::visit(
        [](const auto& way) {
            return requires {
                way.floor_clearance_mm;
            };
        },
        stroke.path);
    if (!turns || path.size() < 3) return;
    const double level = design::level_of_mm(stroke, studio.session.design());
    double lowest = level, highest = 0;
    for (const Vec2 p : path) {
        lowest = std::min(lowest, p.y);
        if (p.y < level) highest = std::max(highest, p.y);
    }
    for (const bool lower : {true, false}) {
        const float y = figure.screen_from_mould({0, lower ? lowest : highest}).y;
        const ImVec2 at(figure.area.right() + ui.px(15), y);
        ImGui::SetCursorScreenPos(ImVec2(at.x - ui.px(12), at.y - ui.px(12)));
        const char* name = lower ? "turns:lower" : "turns:upper";
        ImGui::InvisibleButton(name, ImVec2(ui.px(24), ui.px(24)));
        ui.note(name);
        ui.help(lower ? "Drag to bring the lower turns nearer to the floor or farther from it."
                      : "Drag to bring the upper turns nearer to the top or farther from it.");
        const bool held = ImGui::IsItemActive(), over = ImGui::IsItemHovered();
        if (held || over) {
            ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeNS);
            list->AddLine(ImVec2(figure.area.x, y), ImVec2(figure.area.right(), y), dusk::rgb(0xffffff, 150),
                          ui.px(3));
            list->AddLine(ImVec2(figure.area.x, y), ImVec2(figure.area.right(), y), dusk::ink, ui.px(1));
        }
        list->AddTriangleFilled(ImVec2(at.x - ui.px(8), at.y), ImVec2(at.x + ui.px(4), at.y - ui.px(7)),
                                ImVec2(at.x + ui.px(4), at.y + ui.px(7)),
                                held || over ? dusk::lamp_deep : dusk::ink);
        if (held && ImGui::IsMouseDragging(0, ui.px(2)))
            studio.session.edit(with_turns_at(studio.session.design(), index, lower,
                                              figure.mould_from_screen(ImGui::GetMousePos()).y),
                                lower ? "move the lower turns" : "move the upper turns", name);
        if (ImGui::IsItemDeactivated()) studio.session.close_step();
        if (held) return;
    }
}

// Whole passes are taken hold of anywhere along their line.
void drag_passes(const Studio& studio, ImDrawList* list, const Figure& figure, std::size_t index) {
    Ui& ui = studio.ui;
    const auto& design = studio.session.design();
    const auto* passes = std::get_if<design::Passes>(&design.strokes[index].path);
    if (!passes) return;
    const auto xs = design::pass_positions_mm(*passes, design);
    const double level = design::level_of_mm(design.strokes[index], design);
    const float top = figure.screen_from_mould({0, level}).y, reach = ui.px(8);
    for (std::size_t i = 0; i < std::min(xs.size(), static_cast<std::size_t>(passes->count)); ++i) {
        const float x = figure.screen_from_mould({xs[i], 0}).x;
        ImGui::SetCursorScreenPos(ImVec2(x - reach, top + ui.px(8)));
        const std::string name = "pass:" + std::to_string(i + 1);
        ImGui::InvisibleButton(name.c_str(), ImVec2(2 * reach, figure.area.bottom() - top - ui.px(16)));
        ui.note(name, ui.shown(xs[i], Unit::mm, 1));
        const bool held = ImGui::IsItemActive(), over = ImGui::IsItemHovered();
        const bool outer =
            i == 0 || (i + 1 == static_cast<std::size_t>(passes->count) && !passes->spacing_mm);
        ui.help(outer ? "Drag to set the margin from the wall; the passes between spread with it."
                      : "Drag to set the spacing of the passes.");
        if (held || over) {
            ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeEW);
            list->AddLine(ImVec2(x, top), ImVec2(x, figure.area.bottom()), dusk::lamp, ui.px(3));
            list->AddLine(ImVec2(x, top), ImVec2(x, figure.area.bottom()), dusk::ink, ui.px(1));
        }
        if (held && ImGui::IsMouseDragging(0, ui.px(2))) {
            const double to = figure.mould_from_screen(ImGui::GetMousePos()).x;
            studio.session.edit(with_pass_at(design, index, i, to),
                                outer ? "margin of the passes" : "spacing of the passes",
                                "pass" + std::to_string(i));
            draw_tag(ui, ImVec2(x, top - ui.px(30)), ui.shown(to, Unit::mm, 1) + " from the left");
        }
        if (ImGui::IsItemDeactivated()) studio.session.close_step();
        if (held) return;  // the design may be another one now
    }
}

void drag_point(const Studio& studio, ImDrawList* list, const Figure& figure, std::size_t index,
                std::size_t point, Vec2 at_mm) {
    Ui& ui = studio.ui;
    const float reach = ui.px(12);
    const ImVec2 at = figure.screen_from_mould(at_mm);
    ImGui::SetCursorScreenPos(ImVec2(at.x - reach, at.y - reach));
    const std::string name = "waypoint:" + std::to_string(point + 1);
    ImGui::InvisibleButton(name.c_str(), ImVec2(2 * reach, 2 * reach));
    ui.note(name);
    const bool held = ImGui::IsItemActive(), over = ImGui::IsItemHovered();
    if (over || held) ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeAll);
    ui.help("Drag to move the point; a double click takes it out.");
    if (held) studio.view.waypoint = point;
    const bool chosen = studio.view.waypoint == point;
    list->AddCircleFilled(at, ui.px(chosen || over ? 6 : 4), chosen ? dusk::lamp : dusk::paper, 20);
    list->AddCircle(at, ui.px(chosen || over ? 6 : 4), dusk::ink, 20, ui.px(1.5F));
    if (over && ImGui::IsMouseDoubleClicked(0))
        studio.session.edit(without_point(studio.session.design(), index, point), "take a point out");
    else if (held && ImGui::IsMouseDragging(0, ui.px(3)))
        studio.session.edit(with_point_at(studio.session.design(), index, point,
                                          figure.mould_from_screen(ImGui::GetMousePos())),
                            "move a point of the wire's way", "waypoint" + std::to_string(point));
    if (ImGui::IsItemDeactivated()) studio.session.close_step();
}

// A double click on the line between two points puts one in there.
void put_in_points(const Studio& studio, const Figure& figure, std::size_t index) {
    const auto& way = std::get<design::Waypoints>(studio.session.design().strokes[index].path);
    if (!ImGui::IsMouseDoubleClicked(0) || !figure.under_mouse() || ImGui::IsAnyItemHovered()) return;
    const Vec2 at = figure.mould_from_screen(ImGui::GetMousePos());
    const double reach = static_cast<double>(studio.ui.px(10)) / figure.px_per_mm;
    double nearest = reach;
    std::optional<std::size_t> after;
    for (std::size_t i = 0; i + 1 < way.points_mm.size(); ++i) {
        const Vec2 a = way.points_mm[i], along = way.points_mm[i + 1] - a;
        const double square = dot(along, along);
        const double share = square > 0 ? std::clamp(dot(at - a, along) / square, 0.0, 1.0) : 0;
        if (const double off = length(at - (a + share * along)); off < nearest) {
            nearest = off;
            after = i;
        }
    }
    if (!after) return;
    studio.session.edit(with_point(studio.session.design(), index, *after, at), "another point");
    studio.view.waypoint = *after + 1;
}

void drag_points(const Studio& studio, ImDrawList* list, const Figure& figure, std::size_t index) {
    const auto* path = std::get_if<design::Waypoints>(&studio.session.design().strokes[index].path);
    if (!path) return;
    const std::vector<Vec2> points = path->points_mm;
    const std::uint64_t before = studio.session.revision();
    for (std::size_t i = 0; i < points.size() && studio.session.revision() == before; ++i)
        drag_point(studio, list, figure, index, i, points[i]);
    if (studio.session.revision() == before) put_in_points(studio, figure, index);
}

// The next drag over the mould is the wire's way.
void draw_by_hand(const Studio& studio, ImDrawList* list, const Figure& figure, std::size_t index,
                  WireHand& hand) {
    Ui& ui = studio.ui;
    ImGui::SetCursorScreenPos(ImVec2(figure.area.x, figure.area.y - ui.px(24)));
    ImGui::InvisibleButton("wire:by-hand", ImVec2(figure.area.width, figure.area.height + ui.px(24)));
    ui.note("wire:by-hand");
    ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeAll);
    if (ImGui::IsItemActivated()) hand.drawn_mm.clear();
    if (ImGui::IsItemActive()) {
        const Vec2 at = figure.mould_from_screen(ImGui::GetMousePos());
        if (hand.drawn_mm.empty() || length(at - hand.drawn_mm.back()) > 0.4) hand.drawn_mm.push_back(at);
    }
    std::vector<ImVec2> points;
    for (const Vec2 p : hand.drawn_mm) points.push_back(figure.screen_from_mould(p));
    const int count = static_cast<int>(points.size());
    list->AddPolyline(points.data(), count, dusk::rgb(0xffffff, 200), 0, ui.px(6));
    list->AddPolyline(points.data(), count, dusk::ink, 0, ui.px(3));
    draw_tag(ui, ImVec2(figure.area.x + figure.area.width / 2, figure.area.y + ui.px(10)),
             "draw the wire's way from where it goes in to where it comes out");
    if (!ImGui::IsItemDeactivated()) return;
    studio.session.edit(with_drawn_way(studio.session.design(), index, hand.drawn_mm, 0.6),
                        "draw the wire's way by hand");
    hand = {};
    studio.view.waypoint = 0;
}

}  // namespace

void draw_wire_by_hand(const Studio& studio) {
    studio.view.shelf.at<WireHand>().drawing = true;
    studio.view.page = 0;  // where it can be drawn
}

bool drawing_wire_by_hand(const Studio& studio) {
    return studio.view.shelf.at<WireHand>().drawing;
}

void stop_drawing_wire(const Studio& studio) {
    studio.view.shelf.at<WireHand>() = {};
}

void draw_wire_path(const Studio& studio, const Figure& figure) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const auto& design = studio.session.design();
    const std::size_t chosen = studio.view.stroke;
    for (std::size_t i = 0; i < design.strokes.size(); ++i)
        draw_stroke(studio.ui, list, figure, design.strokes[i], design, i == chosen);
    if (chosen >= design.strokes.size()) return;
    WireHand& hand = studio.view.shelf.at<WireHand>();
    if (hand.drawing) {
        draw_by_hand(studio, list, figure, chosen, hand);
        return;
    }
    const auto path = design::path_of(design.strokes[chosen], design);
    const std::uint64_t before = studio.session.revision();
    drag_passes(studio, list, figure, chosen);
    if (studio.session.revision() == before) draw_turn_handles(studio, list, figure, chosen, path);
    if (studio.session.revision() == before) drag_points(studio, list, figure, chosen);
}

}  // namespace foreslice::studio
