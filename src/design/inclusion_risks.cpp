// Inclusions that do not fit, and embeds that lie in the wire's way.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "design/internal/top_fields.h"
#include "foundation/error.h"

namespace foreslice::design {
namespace {

constexpr double look_mm = 0.5;  // how finely the wire's way is looked along
constexpr double most_cover = 0.3;

std::string tenths(double value) {
    return plain_number(std::round(value * 10) / 10);
}

void check_colour(const Design& design, const std::string& colour, const std::string& path,
                  const Fail& fail) {
    if (colour.empty() || colour.front() == '#' || find_portion(design, colour)) return;
    fail(path + "/colour", "there is no portion " + foreslice::quoted(colour),
         "\"#rrggbb\" or a portion's id");
}

double cover_of(const Scattered& bits) {
    if (bits.percent) return *bits.percent / 100;
    const double a = bits.least_mm, b = bits.most_mm;
    const double mean_square = (a * a + a * b + b * b) / 3;
    return bits.per_cm2 / 100 * mean_square * bits.roundness * std::numbers::pi / 4;
}

void check_scattered(const Design& design, std::size_t index, const Fail& fail) {
    const Scattered& bits = design.inclusions.scattered[index];
    const std::string path = path_to("/inclusions/scattered", index);
    if (!bits.on_top && !find_portion(design, bits.portion))
        fail(path + "/portion", "there is no portion " + foreslice::quoted(bits.portion), "a portion's id");
    if (bits.pour && static_cast<std::size_t>(*bits.pour) > design.pours.size())
        fail(path + "/pour", "there is no pour " + std::to_string(*bits.pour),
             "1 to " + std::to_string(design.pours.size()));
    if (bits.pour && !bits.on_top &&
        design.pours[static_cast<std::size_t>(*bits.pour - 1)].portion != bits.portion)
        fail(path + "/pour",
             "pour " + std::to_string(*bits.pour) + " is not of portion " + foreslice::quoted(bits.portion),
             "a pour of that portion");
    if (bits.least_mm > bits.most_mm)
        fail(path + "/least_mm", "the smallest is larger than the largest",
             "up to " + plain_number(bits.most_mm) + " (most_mm)");
    const double largest_mm = limits::most_bit_per_width * design.mould.width_mm;
    if (bits.most_mm > largest_mm)
        fail(path + "/most_mm", plain_number(bits.most_mm) + " mm is too large for this mould",
             "up to " + plain_number(largest_mm) + " mm (a quarter of its width)");
    if (cover_of(bits) > most_cover + 1e-9)
        fail(path + "/per_cm2", "so many would cover " + tenths(100 * cover_of(bits)) + " % of their area",
             "as many as cover 30 %");
    check_colour(design, bits.colour, path, fail);
}

void check_embed(const Design& design, std::size_t index, const Fail& fail) {
    const Embed& embed = design.inclusions.embeds[index];
    const std::string path = path_to("/inclusions/embeds", index);
    if (embed.shape == EmbedShape::curve && embed.points_mm.size() < 2)
        fail(path + "/points_mm", "the curve has no middle line", "2 to 60 points");
    if (embed.at_mm.x > design.mould.width_mm || embed.at_mm.y > design.mould.height_mm)
        fail(path + "/at_mm",
             std::string("[") + plain_number(embed.at_mm.x) + ", " + plain_number(embed.at_mm.y) +
                 "] is not in the mould",
             "up to " + plain_number(design.mould.width_mm) + " across and " +
                 plain_number(design.mould.height_mm) + " up");
    const Vec2 size = 2.0 * half_size_mm(embed, embed.angle_deg);
    const flow::Box box = box_of(design);
    if (size.x > box.width_mm || size.y > box.height_mm)
        fail(path, "an embed of " + tenths(size.x) + " x " + tenths(size.y) + " mm does not fit",
             "up to " + plain_number(box.width_mm) + " x " + tenths(box.height_mm) + " mm as it is turned");
    check_colour(design, embed.colour, path, fail);
}

// How far (mm) a tool with its middle at `at` cuts into an embed; below 0: it misses.
double cut_mm(const flow::Stroke& stroke, Vec2 at, const Embed& embed) {
    const double angle = -embed.angle_deg * std::numbers::pi / 180;
    const auto outside = [&](Vec2 place) {
        const Vec2 off = place - embed.at_mm;
        return outside_mm(embed, {std::cos(angle) * off.x - std::sin(angle) * off.y,
                                  std::sin(angle) * off.x + std::cos(angle) * off.y});
    };
    double most = -1e9;
    if (stroke.tool.kind == flow::Tool::Kind::strip) {
        const double turn = stroke.tool.angle_deg * std::numbers::pi / 180;
        const int steps = std::max(1, static_cast<int>(stroke.tool.width_mm));
        for (int i = 0; i <= steps; ++i) {
            const double along = stroke.tool.width_mm * (static_cast<double>(i) / steps - 0.5);
            most = std::max(most, stroke.tool.thickness_mm / 2 -
                                      outside(at + along * Vec2{std::cos(turn), std::sin(turn)}));
        }
        return most;
    }
    const int wires = stroke.tool.kind == flow::Tool::Kind::comb ? stroke.tool.wires : 1;
    for (int i = 0; i < wires; ++i)
        most = std::max(most, stroke.wire_diameter_mm / 2 -
                                  outside(at + Vec2{(i - 0.5 * (wires - 1)) * stroke.tool.spacing_mm, 0}));
    return most;
}

double deepest_cut_mm(const flow::Stroke& stroke, const Embed& embed) {
    double most = -1e9;
    for (std::size_t i = 1; i < stroke.path_mm.size(); ++i) {
        const Vec2 from = stroke.path_mm[i - 1], way = stroke.path_mm[i] - from;
        const int steps = std::max(1, static_cast<int>(std::ceil(length(way) / look_mm)));
        for (int step = 0; step <= steps; ++step)
            most = std::max(most, cut_mm(stroke, from + (static_cast<double>(step) / steps) * way, embed));
    }
    return most;
}

}  // namespace

void check_inclusions(const Design& design, const Fail& fail) {
    for (std::size_t i = 0; i < design.inclusions.scattered.size(); ++i) check_scattered(design, i, fail);
    for (std::size_t i = 0; i < design.inclusions.embeds.size(); ++i) check_embed(design, i, fail);
}

void watch_inclusions(const Design& design, const Warn& warn) {
    const auto strokes = flow_strokes_of(design);
    for (std::size_t i = 0; i < design.inclusions.embeds.size(); ++i) {
        const Embed& embed = design.inclusions.embeds[i];
        if (embed.laid == EmbedLaid::after_drawing) continue;
        double most = 0;
        for (const flow::Stroke& stroke : strokes) most = std::max(most, deepest_cut_mm(stroke, embed));
        if (most < 0.05) continue;
        warn(path_to("/inclusions/embeds", i) + "/at_mm",
             "The wire's way leads " + tenths(most) + " mm into " + foreslice::quoted(embed.name) +
                 ": it is wider than the gap the wire leaves, and the wire would cut or drag it.",
             "Lay it between the wire's passes or in after the drawing, or take a smaller one.");
    }
}

}  // namespace foreslice::design
