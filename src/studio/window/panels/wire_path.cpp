// The wire's way drawn over the poured layers. Dark on light, so that it shows on every colour.
#include <algorithm>
#include <cmath>
#include <vector>

#include "flow/tool.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

struct Frame {
    Area figure;
    double px_per_mm = 1;

    ImVec2 screen_from_mould(Vec2 mm) const {
        return ImVec2(figure.x + static_cast<float>(mm.x * px_per_mm),
                      figure.bottom() - static_cast<float>(mm.y * px_per_mm));
    }
    Vec2 mould_from_screen(ImVec2 at) const {
        return {static_cast<double>(at.x - figure.x) / px_per_mm,
                static_cast<double>(figure.bottom() - at.y) / px_per_mm};
    }
};

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

// The tool where its way begins (filled) or ends.
void draw_tool(const Ui& ui, ImDrawList* list, const Frame& frame, const design::Stroke& stroke, ImVec2 at,
               bool filled) {
    const flow::ToolShape shape(flow::Stroke{stroke.wire_diameter_mm, 1, {}, stroke.tool});
    const auto radius =
        std::max(ui.px(shape.round() ? 3 : 1.5F), static_cast<float>(shape.radius_mm() * frame.px_per_mm));
    const auto placed = [&](Vec2 offset) {
        return ImVec2(at.x + static_cast<float>(offset.x * frame.px_per_mm),
                      at.y - static_cast<float>(offset.y * frame.px_per_mm));
    };
    for (const auto& core : shape.cores()) {
        const ImVec2 a = placed(core.a), b = placed(core.b);
        if (!shape.round()) {
            list->AddLine(a, b, dusk::ink, 2 * radius + ui.px(3));
            if (filled) list->AddLine(a, b, dusk::lamp, 2 * radius);
            continue;
        }
        if (filled) list->AddCircleFilled(a, radius, dusk::lamp, 24);
        list->AddCircle(a, radius, dusk::ink, 24, ui.px(1.5F));
    }
}

void draw_stroke(const Ui& ui, ImDrawList* list, const Frame& frame, const design::Stroke& stroke,
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
    draw_tool(ui, list, frame, stroke, points.front(), true);
    draw_tool(ui, list, frame, stroke, points.back(), false);
}

void drag_points(const Studio& studio, ImDrawList* list, const Frame& frame, std::size_t index) {
    Ui& ui = studio.ui;
    const auto* path = std::get_if<design::Waypoints>(&studio.session.design().strokes[index].path);
    if (!path) return;
    const std::vector<Vec2> points = path->points_mm;
    const float reach = ui.px(12);
    for (std::size_t i = 0; i < points.size(); ++i) {
        const ImVec2 at = frame.screen_from_mould(points[i]);
        ImGui::SetCursorScreenPos(ImVec2(at.x - reach, at.y - reach));
        const std::string name = "waypoint:" + std::to_string(i + 1);
        ImGui::InvisibleButton(name.c_str(), ImVec2(2 * reach, 2 * reach));
        ui.note(name);
        const bool held = ImGui::IsItemActive(), over = ImGui::IsItemHovered();
        if (over || held) ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeAll);
        if (held) studio.view.waypoint = i;
        const bool chosen = studio.view.waypoint == i;
        list->AddCircleFilled(at, ui.px(chosen ? 6 : 4), chosen ? dusk::lamp : dusk::paper, 20);
        list->AddCircle(at, ui.px(chosen ? 6 : 4), dusk::ink, 20, ui.px(1.5F));
        if (held && ImGui::IsMouseDragging(0, ui.px(3))) {
            auto next = studio.session.design();
            Vec2 to = frame.mould_from_screen(ImGui::GetMousePos());
            to.x = std::clamp(std::round(to.x * 2) / 2, 0.0, next.mould.width_mm);
            to.y = std::clamp(std::round(to.y * 2) / 2, 0.0, next.mould.fill_mm + 40);
            std::get<design::Waypoints>(next.strokes[index].path).points_mm[i] = to;
            studio.session.edit(std::move(next), "move a point of the wire's way",
                                "waypoint" + std::to_string(i));
        }
        if (ImGui::IsItemDeactivated()) studio.session.close_step();
    }
}

}  // namespace

void draw_wire_path(const Studio& studio, const Area& figure, double px_per_mm) {
    const Frame frame{figure, px_per_mm};
    ImDrawList* list = ImGui::GetWindowDrawList();
    const auto& design = studio.session.design();
    for (std::size_t i = 0; i < design.strokes.size(); ++i)
        draw_stroke(studio.ui, list, frame, design.strokes[i], design, i == studio.view.stroke);
    if (studio.view.stroke < design.strokes.size()) drag_points(studio, list, frame, studio.view.stroke);
}

}  // namespace foreslice::studio
