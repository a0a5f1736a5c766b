// What the soap under the mouse is, where it came from in words, and its colour.
#include <algorithm>
#include <cmath>
#include <optional>

#include "colour/colorimetry.h"
#include "picture/section.h"
#include "studio/window/panels.h"
#include "studio/window/panels/figure.h"

namespace foreslice::studio {
namespace {

constexpr double hardly_moved_mm = 0.75;

std::string material_name(const design::Design& design, const picture::Whence& whence) {
    const auto materials = picture::materials_of(design);
    if (whence.material < 0 || whence.material >= static_cast<int>(materials.size())) return "";
    const auto& material = materials[static_cast<std::size_t>(whence.material)];
    if (material.kind == picture::Material::Kind::line) return "line of " + material.name;
    return material.index < design.portions.size() ? portion_name(design.portions[material.index])
                                                   : material.name;
}

// A pixel that differs from its portion by more than this holds others too; an eye sees about one.
constexpr double mixed_de00 = 2;

std::optional<colour::EncodedSrgb> pixel_under(const picture::Image& image, const Figure& figure,
                                               ImVec2 mouse) {
    const float scale = static_cast<float>(image.width_px) / figure.area.width;
    const auto column = static_cast<int>((mouse.x - figure.area.x) * scale);
    const int row = image.height_px - 1 - static_cast<int>((figure.area.bottom() - mouse.y) * scale);
    if (column < 0 || row < 0 || column >= image.width_px || row >= image.height_px) return std::nullopt;
    const auto at = 4 * (static_cast<std::size_t>(row) * static_cast<std::size_t>(image.width_px) +
                         static_cast<std::size_t>(column));
    return colour::EncodedSrgb{image.rgba[at], image.rgba[at + 1], image.rgba[at + 2]};
}

double difference_de00(colour::EncodedSrgb a, colour::EncodedSrgb b) {
    const auto lab = [](colour::EncodedSrgb colour) {
        return colour::lab_of(colour::xyz_of(colour::decoded(colour)),
                              colour::white_of(colour::Illuminant::d65));
    };
    return colour::ciede2000(lab(a), lab(b));
}

// The colour of the portion that the hint names; where a pixel holds several, what they look like together.
struct Tint {
    colour::EncodedSrgb own{};
    std::optional<colour::EncodedSrgb> mixed;
};

Tint tint_under(const picture::Face& face, const picture::Whence& whence, const Figure& figure,
                ImVec2 mouse) {
    const auto pixel = pixel_under(face.image, figure, mouse);
    Tint tint{pixel.value_or(colour::EncodedSrgb{}), std::nullopt};
    const auto material = static_cast<std::size_t>(whence.material);
    if (whence.material < 0 || material >= face.colours.size()) return tint;
    tint.own = colour::encoded(face.colours[material].linear);
    if (pixel && difference_de00(*pixel, tint.own) > mixed_de00) tint.mixed = pixel;
    return tint;
}

void draw_mixed(const Studio& studio, colour::EncodedSrgb mixed) {
    Ui& ui = studio.ui;
    ui.swatch(mixed, ImVec2(ui.px(14), ui.px(14)));
    ImGui::SameLine(0, ui.px(6));
    ImGui::TextUnformatted((colour::hex_of(mixed) + "   seen together with what lies beside it").c_str());
}

}  // namespace

std::string whence_in_words(const picture::Whence& whence, Vec2 seen_mm, const ShownUnits& units) {
    const double up = whence.before_mm.y - seen_mm.y, across = whence.before_mm.x - seen_mm.x;
    const std::string layer = "layer " + std::to_string(whence.pour + 1);
    const auto far = [&](double mm) { return format_quantity(std::abs(mm), Unit::mm, 0, units); };
    std::string way;
    if (std::abs(up) >= hardly_moved_mm) way = far(up) + (up > 0 ? " higher" : " lower");
    if (std::abs(across) >= hardly_moved_mm)
        way += (way.empty() ? "" : " and ") + far(across) + " further " + (across > 0 ? "right" : "left");
    return way.empty() ? "lies where " + layer + " was poured" : "came from " + layer + ", " + way;
}

void draw_whence(const Studio& studio, const DrawnFace& face, const Figure& figure, bool drawn) {
    if (!figure.under_mouse() || ImGui::IsMouseDown(0) || loupe_on(studio)) return;
    const auto& whence_at = drawn ? face.drawn_whence : face.poured_whence;
    if (!whence_at) return;
    const ImVec2 mouse = ImGui::GetMousePos();
    const Vec2 seen_mm = figure.mould_from_screen(mouse);
    const picture::Whence whence = whence_at(seen_mm);
    const Tint tint = tint_under(drawn ? face.drawn : face.poured, whence, figure, mouse);
    Ui& ui = studio.ui;
    const std::string words = whence_in_words(whence, seen_mm, ui.units);
    ui.note_rect(drawn ? "whence" : "whence-poured", mouse, mouse, words);
    ImGui::BeginTooltip();
    ui.swatch(tint.own, ImVec2(ui.px(30), ui.px(30)));
    ImGui::SameLine(0, ui.px(10));
    ImGui::BeginGroup();
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(0, ui.px(2)));
    ImGui::PushFont(ui.fonts.bold);
    ImGui::TextUnformatted(material_name(face.order.design, whence).c_str());
    ImGui::PopFont();
    ImGui::PushFont(ui.fonts.small);
    ImGui::TextUnformatted(words.c_str());
    ImGui::PushStyleColor(ImGuiCol_Text, dusk::fog);
    const std::string place = colour::hex_of(tint.own) + "   " + ui.shown(seen_mm.x, Unit::mm, 0) +
                              " from the left, " + ui.shown(seen_mm.y, Unit::mm, 0) + " up";
    ImGui::TextUnformatted(place.c_str());
    if (tint.mixed) draw_mixed(studio, *tint.mixed);
    ImGui::PopStyleColor();
    ImGui::PopFont();
    ImGui::PopStyleVar();
    ImGui::EndGroup();
    ImGui::EndTooltip();
}

}  // namespace foreslice::studio
