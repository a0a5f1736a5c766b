// Step 4: the strokes of wire, comb or strip, each as passes, zigzag, loops or point by point.
#include <algorithm>
#include <cmath>

#include "design/limits.h"
#include "studio/session/edits.h"
#include "studio/session/stroke_order.h"
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

std::string moment_in_words(const Studio& studio, std::size_t pours) {
    const auto& design = studio.session.design();
    if (pours >= design.pours.size()) return "all the pours";
    std::string words = "pour " + std::to_string(pours);
    if (const auto* portion = design::find_portion(design, design.pours[pours - 1].portion))
        words += ", " + portion_name(*portion);
    return words;
}

std::string height_in_words(const Studio& studio, std::size_t pours) {
    const double level_mm = design::level_after_mm(studio.session.design(), pours);
    return " (" + studio.ui.shown(level_mm, Unit::mm, 0) + " up)";
}

// After which pour the chosen stroke is drawn. False once the list of strokes is another.
bool draw_moment(const Studio& studio) {
    Ui& ui = studio.ui;
    const auto& design = studio.session.design();
    const auto moments = moments_for_stroke(design, studio.view.stroke);
    const std::size_t now = design::pours_before(design.strokes[studio.view.stroke], design);
    if (moments.size() < 2 && now == moments.back()) return true;
    std::size_t chosen = now;
    const bool open = ui.begin_list("stroke:moment", "Drawn after", moment_in_words(studio, now));
    if (!open) ui.help("A stroke can be drawn before the other layers are poured over it.");
    if (open) {
        for (auto moment = moments.rbegin(); moment != moments.rend(); ++moment)
            if (ui.list_entry("stroke:moment/" + std::to_string(*moment),
                              moment_in_words(studio, *moment) + height_in_words(studio, *moment),
                              *moment == now))
                chosen = *moment;
        ui.end_list();
    }
    if (chosen == now) return true;
    std::size_t stroke = studio.view.stroke;
    auto next = with_stroke_after(design, stroke, chosen);
    studio.session.edit(std::move(next), "draw a stroke at another moment");
    studio.view.stroke = stroke;
    return false;
}

// Which of several strokes comes first.
void draw_turn(const Studio& studio) {
    Ui& ui = studio.ui;
    const auto& design = studio.session.design();
    const std::size_t stroke = studio.view.stroke;
    const float half = (ImGui::GetContentRegionAvail().x - ui.px(8)) / 2;
    for (const bool later : {false, true}) {
        if (later) ImGui::SameLine();
        const bool possible =
            later ? strokes_can_swap(design, stroke) : stroke > 0 && strokes_can_swap(design, stroke - 1);
        ImGui::BeginDisabled(!possible);
        const bool clicked =
            ui.button(later ? "stroke:later" : "stroke:earlier", later ? "Draw it later" : "Draw it earlier",
                      ButtonKind::plain, ImVec2(half, 0));
        ui.help("Strokes that are drawn after the same pour can change places.");
        ImGui::EndDisabled();
        if (!clicked) continue;
        studio.session.edit(with_strokes_swapped(design, later ? stroke : stroke - 1),
                            later ? "draw a stroke later" : "draw a stroke earlier");
        studio.view.stroke = later ? stroke + 1 : stroke - 1;
        return;
    }
}

// One number of the chosen stroke: `value` finds it in a design.
template <typename Value>
void draw_number(const Studio& studio, const Quantity& quantity, std::size_t index, const std::string& what,
                 const Value& value) {
    auto next = studio.session.design();
    const Edited edited = studio.ui.quantity(quantity, value(next.strokes[index]));
    apply(studio, edited, std::move(next), what, quantity.name + std::to_string(index));
}

Quantity length_of(const char* name, const char* label, design::Range range, double usual_least,
                   double usual_most, const char* help) {
    return {name, label, Unit::mm, range.least, range.most, usual_least, usual_most, 0.5, 1, help};
}

void draw_tool_choice(const Studio& studio, std::size_t index) {
    const auto kind = studio.session.design().strokes[index].tool.kind;
    const int clicked = studio.ui.choice("tool", {"one wire", "comb", "flat strip"}, static_cast<int>(kind));
    if (clicked < 0 || clicked == static_cast<int>(kind)) return;
    auto next = studio.session.design();
    auto& stroke = next.strokes[index];
    stroke.tool = {};
    stroke.tool.kind = static_cast<flow::Tool::Kind>(clicked);
    // What fits between the walls at once: a third of the mould between the outermost wires, or across.
    const double room = next.mould.width_mm / 3;
    if (stroke.tool.kind == flow::Tool::Kind::comb)
        stroke.tool.spacing_mm = std::max(1.5 * stroke.wire_diameter_mm, std::round(room));
    if (stroke.tool.kind == flow::Tool::Kind::comb)
        stroke.tool.wires = 1 + std::max(1, static_cast<int>(room / stroke.tool.spacing_mm));
    if (stroke.tool.kind == flow::Tool::Kind::strip) stroke.tool.width_mm = std::round(room);
    studio.session.edit(std::move(next), clicked == 0   ? "take one wire"
                                         : clicked == 1 ? "take a comb"
                                                        : "take a flat strip");
}

void draw_comb(const Studio& studio, std::size_t index) {
    const Quantity wires{"comb:wires",
                         "Wires",
                         Unit::none,
                         limits::comb_wires.least,
                         limits::comb_wires.most,
                         2,
                         8,
                         1,
                         0,
                         "How many wires stand in the comb, side by side."};
    auto next = studio.session.design();
    const Edited edited = studio.ui.quantity(wires, next.strokes[index].tool.wires);
    apply(studio, edited, std::move(next), "wires of the comb", wires.name + std::to_string(index));
    draw_number(studio,
                length_of("comb:spacing", "Apart", limits::comb_spacing_mm, 5, 30,
                          "From one wire of the comb to the next, middle to middle."),
                index, "spacing of the comb", [](auto& stroke) -> double& { return stroke.tool.spacing_mm; });
}

void draw_strip(const Studio& studio, std::size_t index) {
    draw_number(studio,
                length_of("strip:width", "Strip", limits::strip_width_mm, 5, 50, "Width of the flat strip."),
                index, "width of the strip", [](auto& stroke) -> double& { return stroke.tool.width_mm; });
    draw_number(studio,
                length_of("strip:thickness", "Thickness", limits::strip_thickness_mm, 0.5, 5,
                          "Thickness of the flat strip; its edges are round."),
                index, "thickness of the strip",
                [](auto& stroke) -> double& { return stroke.tool.thickness_mm; });
    const Quantity angle{"strip:angle",
                         "Angle",
                         Unit::degree,
                         limits::strip_angle_deg.least,
                         limits::strip_angle_deg.most,
                         -90,
                         90,
                         5,
                         0,
                         "Degrees from the horizontal; the strip is held and does not turn."};
    draw_number(studio, angle, index, "angle of the strip",
                [](auto& stroke) -> double& { return stroke.tool.angle_deg; });
}

void draw_wire_itself(const Studio& studio, std::size_t index) {
    draw_tool_choice(studio, index);
    const auto kind = studio.session.design().strokes[index].tool.kind;
    if (kind == flow::Tool::Kind::strip)
        draw_strip(studio, index);
    else
        draw_number(
            studio,
            {"wire:diameter", "Wire", Unit::mm, limits::wire_diameter_mm.least, limits::wire_diameter_mm.most,
             1, 12, 0.5, 1, "Diameter of the wire or hanger that is drawn through."},
            index, "wire diameter", [](auto& stroke) -> double& { return stroke.wire_diameter_mm; });
    if (kind == flow::Tool::Kind::comb) draw_comb(studio, index);
    const std::string field = std::to_string(index);
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

// Margin and clearances, which passes, zigzags and loops have alike.
template <typename Way>
void draw_reach(const Studio& studio, std::size_t index) {
    struct Row {
        const char *name, *label, *help;
        double Way::*value;
        design::Range range;
        double usual_most;
    };
    static const Row rows[] = {
        {"passes:margin", "Margin", "From the wall to the middle of the wire at its outermost place.",
         &Way::margin_mm, limits::pass_margin_mm, 30},
        {"passes:floor", "Above the floor", "From the floor to the underside of the wire at its lowest.",
         &Way::floor_clearance_mm, limits::floor_clearance_mm, 40},
        {"passes:top", "Below the top", "From the top of the batter to the wire at its upper turns.",
         &Way::top_clearance_mm, limits::top_clearance_mm, 40},
    };
    for (const Row& row : rows)
        draw_number(studio, length_of(row.name, row.label, row.range, 0, row.usual_most, row.help), index,
                    row.label,
                    [&](auto& stroke) -> double& { return std::get<Way>(stroke.path).*(row.value); });
    ImGui::TextUnformatted("Begins at the");
    const auto start = std::get<Way>(studio.session.design().strokes[index].path).start;
    const int clicked =
        studio.ui.choice("passes:start", {"left", "right"}, start == design::Side::left ? 0 : 1);
    if (clicked < 0) return;
    auto next = studio.session.design();
    std::get<Way>(next.strokes[index].path).start = clicked == 0 ? design::Side::left : design::Side::right;
    studio.session.edit(std::move(next), clicked == 0 ? "begin at the left" : "begin at the right");
}

template <typename Way>
void draw_count(const Studio& studio, std::size_t index, const Quantity& count, const std::string& what) {
    auto next = studio.session.design();
    const Edited edited = studio.ui.quantity(count, std::get<Way>(next.strokes[index].path).count);
    apply(studio, edited, std::move(next), what, count.name + std::to_string(index));
}

void draw_zigzag(const Studio& studio, std::size_t index) {
    draw_count<design::Zigzag>(
        studio, index,
        {"zigzag:count", "Crossings", Unit::none, limits::zigzag_count.least, limits::zigzag_count.most, 1,
         20, 1, 0, "How often it goes from side to side."},
        "number of crossings");
    draw_reach<design::Zigzag>(studio, index);
}

void draw_loops(const Studio& studio, std::size_t index) {
    const auto shape = std::get<design::Loops>(studio.session.design().strokes[index].path).shape;
    const int clicked =
        studio.ui.choice("loops:shape", {"loops", "figure-eights"}, shape == design::LoopShape::loop ? 0 : 1);
    if (clicked >= 0) {
        auto next = studio.session.design();
        std::get<design::Loops>(next.strokes[index].path).shape =
            clicked == 0 ? design::LoopShape::loop : design::LoopShape::figure_eight;
        studio.session.edit(std::move(next), clicked == 0 ? "draw loops" : "draw figure-eights");
        return;
    }
    draw_count<design::Loops>(studio, index,
                              {"loops:count", "In the row", Unit::none, limits::loop_count.least,
                               limits::loop_count.most, 1, 8, 1, 0, "How many are drawn side by side."},
                              "number of loops");
    draw_reach<design::Loops>(studio, index);
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
    const Quantity slant{"passes:slant",
                         "Slant",
                         Unit::degree,
                         limits::slant_deg.least,
                         limits::slant_deg.most,
                         -45,
                         45,
                         1,
                         0,
                         "Degrees from the vertical: the lower end of every pass lies further on."};
    draw_number(studio, slant, index, "slant of the passes",
                [](auto& stroke) -> double& { return std::get<design::Passes>(stroke.path).slant_deg; });
    draw_reach<design::Passes>(studio, index);
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

// In the order of the buttons.
int manner_of(const design::Stroke& stroke) {
    if (std::holds_alternative<design::Passes>(stroke.path)) return 0;
    if (std::holds_alternative<design::Zigzag>(stroke.path)) return 1;
    return std::holds_alternative<design::Loops>(stroke.path) ? 2 : 3;
}

void draw_manner(const Studio& studio, std::size_t index) {
    const int manner = manner_of(studio.session.design().strokes[index]);
    const bool drawing = drawing_wire_by_hand(studio);
    if (studio.ui.button("wire:draw", drawing ? "Do not draw it after all" : "Draw it on the picture by hand",
                         drawing ? ButtonKind::lit : ButtonKind::plain, ImVec2(-1, 0)))
        drawing ? stop_drawing_wire(studio) : draw_wire_by_hand(studio);
    studio.ui.help("Press on the poured layers, draw the way and let go; it becomes a way by points.");
    const int clicked = studio.ui.choice("manner", {"passes", "zigzag", "loops", "by points"}, manner);
    if (clicked < 0 || clicked == manner) return;
    auto next = studio.session.design();
    auto& path = next.strokes[index].path;
    if (clicked == 0) path = design::Passes{};
    if (clicked == 1) path = design::Zigzag{};
    if (clicked == 2) path = design::Loops{};
    if (clicked == 3) next = with_passes_written_out(std::move(next), index);
    static const char* const steps[] = {"even passes", "a zigzag", "a row of loops", "go point by point"};
    studio.session.edit(std::move(next), steps[clicked]);
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
    if (!draw_moment(studio)) return;
    if (count > 1) draw_turn(studio);
    ImGui::PushID(static_cast<int>(index));
    draw_wire_itself(studio, index);
    ui.section("Its way");
    draw_manner(studio, index);
    switch (manner_of(studio.session.design().strokes[index])) {
        case 0:
            draw_passes(studio, index);
            break;
        case 1:
            draw_zigzag(studio, index);
            break;
        case 2:
            draw_loops(studio, index);
            break;
        default:
            draw_points(studio, index);
    }
    ImGui::PopID();
}

}  // namespace foreslice::studio
