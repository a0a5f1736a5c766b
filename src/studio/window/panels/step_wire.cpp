// Step 4: the strokes of the wire, each as even passes or point by point.
#include <algorithm>

#include "design/limits.h"
#include "studio/session/edits.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

namespace limits = design::limits;

void draw_stroke_choice(const Studio& studio) {
    Ui& ui = studio.ui;
    auto& session = studio.session;
    const std::size_t count = session.design().strokes.size();
    if (count > 1) {
        for (std::size_t i = 0; i < count; ++i) {
            if (i % 4 != 0) ImGui::SameLine(0, ui.px(4));
            const std::string number = std::to_string(i + 1);
            const float width =
                (ImGui::GetContentRegionAvail().x) / (4.0F - static_cast<float>(i % 4)) - ui.px(4);
            if (ui.button("stroke:" + number, "Stroke " + number,
                          i == studio.view.stroke ? ButtonKind::lit : ButtonKind::plain, ImVec2(width, 0)))
                studio.view.stroke = i;
        }
    }
    const float half = (ImGui::GetContentRegionAvail().x - ui.px(8)) / 2;
    ImGui::BeginDisabled(count >= limits::strokes);
    if (ui.button("stroke:add", count == 0 ? "Draw a wire through it" : "Another stroke", ButtonKind::plain,
                  ImVec2(count == 0 ? -1 : half, 0))) {
        session.edit(with_new_stroke(session.design()), "another stroke");
        studio.view.stroke = session.design().strokes.size() - 1;
    }
    ImGui::EndDisabled();
    if (count == 0) return;
    ImGui::SameLine();
    if (ui.button("stroke:out", count == 1 ? "No wire at all" : "Take it out", ButtonKind::plain,
                  ImVec2(half, 0)))
        session.edit(without_stroke(session.design(), studio.view.stroke), "take a stroke out");
}

void draw_wire_itself(const Studio& studio, std::size_t index) {
    const std::string field = std::to_string(index);
    {
        auto next = studio.session.design();
        const Quantity diameter{"wire:diameter",
                                "Wire",
                                Unit::mm,
                                limits::wire_diameter_mm.least,
                                limits::wire_diameter_mm.most,
                                1,
                                12,
                                0.5,
                                1,
                                "Diameter of the wire or hanger that is drawn through."};
        const Edited edited = studio.ui.quantity(diameter, next.strokes[index].wire_diameter_mm);
        apply(studio, edited, std::move(next), "wire diameter", diameter.name + field);
    }
    auto next = studio.session.design();
    const Quantity speed{"wire:speed",
                         "Speed",
                         Unit::mm_per_s,
                         limits::speed_mm_per_s.least,
                         limits::speed_mm_per_s.most,
                         10,
                         150,
                         5,
                         0,
                         "How fast the hand moves. Only batter with a yield stress takes notice."};
    const Edited edited = studio.ui.quantity(speed, next.strokes[index].speed_mm_per_s);
    apply(studio, edited, std::move(next), "speed of the wire", speed.name + field);
}

void draw_spacing(const Studio& studio, std::size_t index) {
    Ui& ui = studio.ui;
    auto next = studio.session.design();
    auto& passes = std::get<design::Passes>(next.strokes[index].path);
    bool even = !passes.spacing_mm.has_value();
    if (ui.check("passes:even", "spread evenly from wall to wall", even)) {
        const double width = next.mould.width_mm - 2 * passes.margin_mm;
        const double now = passes.count > 1 ? width / (passes.count - 1) : width;
        passes.spacing_mm = even ? std::nullopt
                                 : std::optional<double>(std::clamp(now, limits::pass_spacing_mm.least,
                                                                    limits::pass_spacing_mm.most));
        studio.session.edit(std::move(next),
                            even ? "spread the passes evenly" : "set the spacing of the passes");
        return;
    }
    if (even) return;
    const Quantity spacing{"passes:spacing",
                           "Spacing",
                           Unit::mm,
                           limits::pass_spacing_mm.least,
                           limits::pass_spacing_mm.most,
                           2,
                           25,
                           0.5,
                           1,
                           "From one pass to the next."};
    double value = *passes.spacing_mm;
    const Edited edited = ui.quantity(spacing, value);
    passes.spacing_mm = value;
    apply(studio, edited, std::move(next), "spacing of the passes", spacing.name + std::to_string(index));
}

void draw_pass_lengths(const Studio& studio, std::size_t index) {
    struct Row {
        const char *name, *label, *help;
        double design::Passes::*value;
        design::Range range;
        double usual_most;
    };
    static const Row rows[] = {
        {"passes:margin", "Margin", "From the wall to the middle of the first pass.",
         &design::Passes::margin_mm, limits::pass_margin_mm, 30},
        {"passes:floor", "Above the floor", "From the floor to the underside of the wire at its lowest.",
         &design::Passes::floor_clearance_mm, limits::floor_clearance_mm, 40},
        {"passes:top", "Below the top", "From the top of the batter to the wire at its upper turns.",
         &design::Passes::top_clearance_mm, limits::top_clearance_mm, 40},
    };
    for (const Row& row : rows) {
        auto next = studio.session.design();
        auto& passes = std::get<design::Passes>(next.strokes[index].path);
        const Quantity quantity{row.name,       row.label, Unit::mm, row.range.least, row.range.most, 0,
                                row.usual_most, 0.5,       1,        row.help};
        const Edited edited = studio.ui.quantity(quantity, passes.*(row.value));
        apply(studio, edited, std::move(next), row.label, row.name + std::to_string(index));
    }
}

void draw_passes(const Studio& studio, std::size_t index) {
    Ui& ui = studio.ui;
    {
        auto next = studio.session.design();
        auto& passes = std::get<design::Passes>(next.strokes[index].path);
        const Quantity count{"passes:count",
                             "Passes",
                             Unit::none,
                             limits::pass_count.least,
                             limits::pass_count.most,
                             1,
                             20,
                             1,
                             0,
                             "How often the wire goes down or up."};
        const Edited edited = ui.quantity(count, passes.count);
        apply(studio, edited, std::move(next), "number of passes", count.name + std::to_string(index));
    }
    draw_spacing(studio, index);
    draw_pass_lengths(studio, index);
    const auto& passes = std::get<design::Passes>(studio.session.design().strokes[index].path);
    ImGui::TextUnformatted("Begins at the");
    const int clicked =
        ui.choice("passes:start", {"left", "right"}, passes.start == design::Side::left ? 0 : 1);
    if (clicked < 0) return;
    auto next = studio.session.design();
    std::get<design::Passes>(next.strokes[index].path).start =
        clicked == 0 ? design::Side::left : design::Side::right;
    studio.session.edit(std::move(next), clicked == 0 ? "begin at the left" : "begin at the right");
}

void draw_point_values(const Studio& studio, std::size_t index, std::size_t point) {
    for (const bool across : {true, false}) {
        auto next = studio.session.design();
        auto& at = std::get<design::Waypoints>(next.strokes[index].path).points_mm[point];
        const double most = across ? next.mould.width_mm : next.mould.fill_mm + 40;
        const Quantity quantity{across ? "point:x" : "point:y",
                                across ? "From the left wall" : "Above the floor",
                                Unit::mm,
                                0,
                                most,
                                0,
                                most,
                                0.5,
                                1,
                                "Where the middle of the wire passes."};
        const Edited edited = studio.ui.quantity(quantity, across ? at.x : at.y);
        apply(studio, edited, std::move(next), "move a point of the wire's way",
              quantity.name + std::to_string(index) + ":" + std::to_string(point));
    }
}

void draw_points(const Studio& studio, std::size_t index) {
    Ui& ui = studio.ui;
    const auto& points = std::get<design::Waypoints>(studio.session.design().strokes[index].path).points_mm;
    if (points.empty()) return;
    const std::size_t count = points.size();
    auto& chosen = studio.view.waypoint;
    chosen = std::min(chosen, count - 1);
    int number = static_cast<int>(chosen) + 1;
    const Quantity which{"point",
                         "Point",
                         Unit::none,
                         1,
                         static_cast<double>(count),
                         1,
                         static_cast<double>(count),
                         1,
                         0,
                         "Points can also be dragged on the poured layers."};
    ui.quantity(which, number);
    chosen = static_cast<std::size_t>(std::clamp(number, 1, static_cast<int>(count))) - 1;
    draw_point_values(studio, index, chosen);
    const float half = (ImGui::GetContentRegionAvail().x - ui.px(8)) / 2;
    if (ui.button("point:add", "Point after it", ButtonKind::plain, ImVec2(half, 0))) {
        auto next = studio.session.design();
        auto& list = std::get<design::Waypoints>(next.strokes[index].path).points_mm;
        const Vec2 here = list[chosen], after = list[std::min(chosen + 1, count - 1)];
        list.insert(list.begin() + static_cast<std::ptrdiff_t>(chosen) + 1, 0.5 * (here + after));
        studio.session.edit(std::move(next), "another point");
        ++chosen;
    }
    ImGui::SameLine();
    ImGui::BeginDisabled(count <= 2);
    if (ui.button("point:out", "Take it out", ButtonKind::plain, ImVec2(half, 0))) {
        auto next = studio.session.design();
        auto& list = std::get<design::Waypoints>(next.strokes[index].path).points_mm;
        list.erase(list.begin() + static_cast<std::ptrdiff_t>(chosen));
        studio.session.edit(std::move(next), "take a point out");
    }
    ImGui::EndDisabled();
}

void draw_manner(const Studio& studio, std::size_t index) {
    const bool passes = std::holds_alternative<design::Passes>(studio.session.design().strokes[index].path);
    const int clicked = studio.ui.choice("manner", {"even passes", "point by point"}, passes ? 0 : 1);
    if (clicked == 1 && passes) {
        studio.session.edit(with_passes_written_out(studio.session.design(), index), "go point by point");
    } else if (clicked == 0 && !passes) {
        auto next = studio.session.design();
        next.strokes[index].path = design::Passes{};
        studio.session.edit(std::move(next), "even passes");
    }
}

}  // namespace

void draw_wire(const Studio& studio) {
    Ui& ui = studio.ui;
    ui.section("Strokes");
    draw_stroke_choice(studio);
    const std::size_t count = studio.session.design().strokes.size();
    if (count == 0) {
        ui.quiet_text("Without a wire the bar shows the layers as they were poured.");
        return;
    }
    auto& index = studio.view.stroke;
    index = std::min(index, count - 1);
    ImGui::PushID(static_cast<int>(index));
    draw_wire_itself(studio, index);
    ui.section("Its way");
    draw_manner(studio, index);
    if (std::holds_alternative<design::Passes>(studio.session.design().strokes[index].path))
        draw_passes(studio, index);
    else
        draw_points(studio, index);
    ImGui::PopID();
}

}  // namespace foreslice::studio
