// A photo of test bars: click the card and the bars, say what went in, fit, keep.
#include <algorithm>
#include <cmath>

#include "studio/window/actions.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

constexpr std::size_t most_bars = 8;
constexpr int first_bar = 2;  // of `pointing_at`

void draw_mark(const Studio& studio, const colour::Patch& patch, ImVec2 at, float scale,
               const std::string& words) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ImVec2 centre(at.x + static_cast<float>(patch.x_px) * scale,
                        at.y + static_cast<float>(patch.y_px) * scale);
    const float radius = std::max(3.0F, static_cast<float>(patch.radius_px) * scale);
    list->AddCircle(centre, radius + 1, IM_COL32(0, 0, 0, 200), 0, studio.ui.px(3));
    list->AddCircle(centre, radius + 1, IM_COL32(255, 255, 255, 255), 0, studio.ui.px(1.5F));
    const ImVec2 below(centre.x, centre.y + radius + studio.ui.px(4));
    studio.ui.text_at(list, studio.ui.fonts.small_bold, ImVec2(below.x + 1, below.y + 1),
                      IM_COL32(0, 0, 0, 220), words, 0.5F);
    studio.ui.text_at(list, studio.ui.fonts.small_bold, below, IM_COL32(255, 255, 255, 255), words, 0.5F);
}

/// The patch under the mouse, kept inside the photo.
colour::Patch pointed_at(const SwatchDesk& desk, ImVec2 at, float scale) {
    const colour::Photo& photo = desk.opened->photo;
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const double radius = std::min({desk.radius_px, photo.width_px / 2.0, photo.height_px / 2.0});
    return {std::clamp<double>((mouse.x - at.x) / scale, radius, photo.width_px - radius),
            std::clamp<double>((mouse.y - at.y) / scale, radius, photo.height_px - radius), radius};
}

void point(SwatchDesk& desk, const colour::Patch& patch) {
    desk.forget_fit();
    if (desk.pointing_at == 0)
        desk.card = patch;
    else if (desk.pointing_at == 1)
        desk.plain = patch;
    else
        desk.bars[static_cast<std::size_t>(desk.pointing_at - first_bar)].patch = patch;
    // On to the next thing that has not been pointed at yet; the plain bar may be left out.
    if (desk.pointing_at + 1 < first_bar + static_cast<int>(desk.bars.size())) ++desk.pointing_at;
}

struct ShownPhoto {
    ImVec2 at, size;
    float scale = 1;  ///< points of the screen a pixel
};

ShownPhoto draw_photo_itself(const Studio& studio) {
    SwatchDesk& desk = studio.view.swatches;
    const colour::Photo& photo = desk.opened->photo;
    if (!desk.on_card_of_graphics) {
        desk.texture.upload(desk.opened->shown);
        desk.on_card_of_graphics = true;
    }
    const float room_x = ImGui::GetContentRegionAvail().x, room_y = ImGui::GetIO().DisplaySize.y * 0.38F;
    const float scale =
        std::min(room_x / static_cast<float>(photo.width_px), room_y / static_cast<float>(photo.height_px));
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const ImVec2 size(static_cast<float>(photo.width_px) * scale,
                      static_cast<float>(photo.height_px) * scale);
    ImGui::GetWindowDrawList()->AddImage(desk.texture.id(), at, ImVec2(at.x + size.x, at.y + size.y));
    if (!desk.is_of_bars) ImGui::Dummy(size);
    return {at, size, scale};
}

void draw_photo(const Studio& studio) {
    SwatchDesk& desk = studio.view.swatches;
    const ShownPhoto shown = draw_photo_itself(studio);
    if (ImGui::InvisibleButton("swatch-photo", shown.size))
        point(desk, pointed_at(desk, shown.at, shown.scale));
    studio.ui.note("swatch-photo");
    if (desk.card) draw_mark(studio, *desk.card, shown.at, shown.scale, "card");
    if (desk.plain) draw_mark(studio, *desk.plain, shown.at, shown.scale, "plain");
    for (std::size_t n = 0; n < desk.bars.size(); ++n)
        if (desk.bars[n].patch)
            draw_mark(studio, *desk.bars[n].patch, shown.at, shown.scale, "bar " + std::to_string(n + 1));
}

void draw_pointing(const Studio& studio) {
    SwatchDesk& desk = studio.view.swatches;
    std::vector<std::string> words{"Card", "Plain bar"};
    for (std::size_t n = 0; n < desk.bars.size(); ++n) words.push_back("Bar " + std::to_string(n + 1));
    if (const int chosen = studio.ui.choice("swatch-pointing", words, desk.pointing_at); chosen >= 0)
        desk.pointing_at = chosen;
}

void draw_fields(const Studio& studio) {
    SwatchDesk& desk = studio.view.swatches;
    Ui& ui = studio.ui;
    const auto number = [&](const char* name, const char* label, Unit unit, double least, double most,
                            double step, int decimals, const char* help, double& value) {
        const Quantity quantity{name, label, unit, least, most, least, most, step, decimals, help};
        if (ui.quantity(quantity, value).changed) desk.forget_fit();
    };
    if (desk.pointing_at >= first_bar) {
        auto& bar = desk.bars[static_cast<std::size_t>(desk.pointing_at - first_bar)];
        number("swatch-dose", "Colourant in this bar", Unit::g_per_kg, 0.01, 200, 0.5, 2,
               "Grams for each kilogram of oils.", bar.g_per_kg_oils);
        number("swatch-white", "White in this bar", Unit::g_per_kg, 0, 200, 0.5, 2,
               "Titanium dioxide, grams for each kilogram of oils. One bar with and one without tell most.",
               bar.white_g_per_kg_oils);
        return;
    }
    number("swatch-card", "Light that the card gives back", Unit::none, 0.05, 1, 0.01, 2,
           "White paper about 0.9, a photographer's grey card 0.18.", desk.card_reflectance);
    number("swatch-radius", "Radius of what is read, px", Unit::none, 1, 400, 1, 0,
           "In pixels of the photo; keep away from edges, shine and shadow.", desk.radius_px);
}

/// A bar that fills from the left while a worker is busy.
void draw_progress(const Studio& studio, const Worker::Doing& doing) {
    Ui& ui = studio.ui;
    ui.quiet_text(doing.stage.empty() ? "Waiting for its turn…" : doing.stage + "…");
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(6);
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(at, ImVec2(at.x + width, at.y + height), dusk::well, height / 2);
    list->AddRectFilled(at, ImVec2(at.x + width * static_cast<float>(doing.fraction), at.y + height),
                        dusk::lamp, height / 2);
    ImGui::Dummy(ImVec2(width, height));
}

/// False while there is nothing to point at yet.
bool photo_is_there(const Studio& studio) {
    SwatchDesk& desk = studio.view.swatches;
    const std::string problem = desk.opening.problem();
    if (!problem.empty()) {
        desk.opening.cancel();
        close_dialog(studio.view);
        show_trouble(studio.view, problem);
        return false;
    }
    if (desk.opened) return true;
    draw_progress(studio, desk.opening.doing());
    studio.ui.note("swatch-reading");
    if (studio.ui.button("swatch-cancel", "Cancel", ButtonKind::plain,
                         ImVec2(studio.ui.px(130), studio.ui.px(36)))) {
        desk.opening.cancel();
        close_dialog(studio.view);
    }
    return false;
}

/// A dropped picture may be a board to take colours from, or test bars to learn from.
void ask_what_it_is(const Studio& studio) {
    Ui& ui = studio.ui;
    SwatchDesk& desk = studio.view.swatches;
    draw_photo_itself(studio);
    ui.quiet_text(desk.opened->file_name);
    const ImVec2 size(ui.px(230), ui.px(36));
    const bool tinting = studio.view.step == Step::tint;
    const auto kind = [](bool lit) { return lit ? ButtonKind::lit : ButtonKind::plain; };
    if (ui.button("picture:theme", "Pick colours from it", kind(tinting), size)) {
        add_theme(studio, desk.opened);
        close_dialog(studio.view);
    }
    ui.help("A theme: its colours can be matched with recipes.");
    ImGui::SameLine();
    if (ui.button("picture:bars", "It shows test bars", kind(!tinting), size)) desk.is_of_bars = true;
    ui.help("Bars of known doses beside a white or grey card: a colourant is learned from them.");
    ImGui::SameLine();
    if (ui.button("picture:close", "Close", ButtonKind::plain, ImVec2(ui.px(110), ui.px(36))))
        close_dialog(studio.view);
}

void draw_buttons(const Studio& studio) {
    Ui& ui = studio.ui;
    SwatchDesk& desk = studio.view.swatches;
    const ImVec2 size(ui.px(130), ui.px(36));
    const bool working = desk.fit_awaited || desk.kept_awaited;
    ImGui::BeginDisabled(working);
    if (ui.button("swatch-fit", "Fit", desk.fit ? ButtonKind::plain : ButtonKind::lit, size))
        fit_swatches(studio);
    ImGui::SameLine();
    if (desk.bars.size() < most_bars) {
        if (ui.button("swatch-more", "Another bar", ButtonKind::plain, size)) desk.bars.emplace_back();
        ImGui::SameLine();
    }
    if (desk.fit && !desk.own_library.empty()) {
        if (ui.button("swatch-keep", "Keep", ButtonKind::lit, size)) keep_swatches(studio);
        ImGui::SameLine();
    }
    ImGui::EndDisabled();
    if (ui.button("swatch-close", "Close", ButtonKind::plain, size)) close_dialog(studio.view);
}

}  // namespace

void draw_swatches(const Studio& studio) {
    Ui& ui = studio.ui;
    SwatchDesk& desk = studio.view.swatches;
    if (!photo_is_there(studio)) return;
    if (!desk.is_of_bars) {
        ask_what_it_is(studio);
        return;
    }
    ui.quiet_text(
        "Choose what to point at, then click it in the photo: the card, the plain bar if there is one, every "
        "bar.");
    draw_pointing(studio);
    draw_photo(studio);
    draw_fields(studio);
    ui.text_field("swatch-name", "", desk.colourant_name, "Name of the colourant");
    if (desk.fit_awaited)
        draw_progress(studio, desk.fitting.doing());
    else if (!desk.words.empty())
        ui.quiet_text(desk.words);
    draw_buttons(studio);
}

}  // namespace foreslice::studio
