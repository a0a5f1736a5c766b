// A photo of test bars: click the card and the bars, say what went in, fit, keep.
#include <algorithm>
#include <cmath>

#include "colour/learned.h"
#include "design/limits.h"
#include "foundation/error.h"
#include "foundation/text_file.h"
#include "studio/window/actions.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

constexpr std::size_t most_bars = 8;
constexpr int first_bar = 2;  // of `pointing_at`
constexpr int most_texture_px = 2048;

picture::Image shown_picture(const colour::Photo& photo) {
    const int step =
        std::max(1, (std::max(photo.width_px, photo.height_px) + most_texture_px - 1) / most_texture_px);
    picture::Image image(photo.width_px / step, photo.height_px / step, {});
    for (int y = 0; y < image.height_px; ++y)
        for (int x = 0; x < image.width_px; ++x) {
            const auto c = photo.at(x * step, y * step);
            const auto at = 4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width_px) +
                                 static_cast<std::size_t>(x));
            image.rgba[at] = c.r;
            image.rgba[at + 1] = c.g;
            image.rgba[at + 2] = c.b;
        }
    return image;
}

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
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const double radius = std::min({desk.radius_px, desk.photo.width_px / 2.0, desk.photo.height_px / 2.0});
    return {std::clamp<double>((mouse.x - at.x) / scale, radius, desk.photo.width_px - radius),
            std::clamp<double>((mouse.y - at.y) / scale, radius, desk.photo.height_px - radius), radius};
}

void point(SwatchDesk& desk, const colour::Patch& patch) {
    desk.fit.reset();
    if (desk.pointing_at == 0)
        desk.card = patch;
    else if (desk.pointing_at == 1)
        desk.plain = patch;
    else
        desk.bars[static_cast<std::size_t>(desk.pointing_at - first_bar)].patch = patch;
    // On to the next thing that has not been pointed at yet; the plain bar may be left out.
    if (desk.pointing_at + 1 < first_bar + static_cast<int>(desk.bars.size())) ++desk.pointing_at;
}

void draw_photo(const Studio& studio) {
    SwatchDesk& desk = studio.view.swatches;
    if (!desk.on_card_of_graphics) {
        desk.texture.upload(shown_picture(desk.photo));
        desk.on_card_of_graphics = true;
    }
    const float room_x = ImGui::GetContentRegionAvail().x, room_y = ImGui::GetIO().DisplaySize.y * 0.38F;
    const float scale = std::min(room_x / static_cast<float>(desk.photo.width_px),
                                 room_y / static_cast<float>(desk.photo.height_px));
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const ImVec2 size(static_cast<float>(desk.photo.width_px) * scale,
                      static_cast<float>(desk.photo.height_px) * scale);
    ImGui::GetWindowDrawList()->AddImage(desk.texture.id(), at, ImVec2(at.x + size.x, at.y + size.y));
    if (ImGui::InvisibleButton("swatch-photo", size)) point(desk, pointed_at(desk, at, scale));
    studio.ui.note("swatch-photo");
    if (desk.card) draw_mark(studio, *desk.card, at, scale, "card");
    if (desk.plain) draw_mark(studio, *desk.plain, at, scale, "plain");
    for (std::size_t n = 0; n < desk.bars.size(); ++n)
        if (desk.bars[n].patch)
            draw_mark(studio, *desk.bars[n].patch, at, scale, "bar " + std::to_string(n + 1));
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
        if (ui.quantity(quantity, value).changed) desk.fit.reset();
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

colour::LinearSrgb seen(const SwatchDesk& desk, const colour::Patch& patch) {
    return colour::white_balanced(colour::read_patch(desk.photo, patch).light,
                                  colour::read_patch(desk.photo, *desk.card).light, desk.card_reflectance);
}

std::vector<colour::TestBar> test_bars(const SwatchDesk& desk) {
    std::vector<colour::TestBar> bars;
    for (const auto& bar : desk.bars)
        if (bar.patch) bars.push_back({bar.g_per_kg_oils, bar.white_g_per_kg_oils, seen(desk, *bar.patch)});
    return bars;
}

colour::ColourantLibrary library_with_base(const Studio& studio) {
    const SwatchDesk& desk = studio.view.swatches;
    const auto& library = studio.session.library();
    if (!desk.plain) return library;
    return colour::with_base(library, colour::fit_base(library.base(), seen(desk, *desk.plain)),
                             colour::learned_base_provenance({desk.file_name, desk.card_reflectance}));
}

void fit(const Studio& studio) {
    SwatchDesk& desk = studio.view.swatches;
    desk.fit.reset();
    if (!desk.card) {
        desk.words = "Click the card first: it says what white is in this light.";
        return;
    }
    try {
        const auto bars = test_bars(desk);
        desk.fit = colour::fit_colourant(library_with_base(studio).base(),
                                         studio.session.library().find("titanium-dioxide"), bars);
        desk.words = "The model agrees with " + std::to_string(bars.size()) + " bars to dE00 " +
                     format_number(desk.fit->mean_de00, 2) + " on average, " +
                     format_number(desk.fit->greatest_de00, 2) + " at most.";
        if (!desk.fit->scattering_known)
            desk.words += " Add a bar with white: these do not tell how much it scatters.";
    } catch (const InputError& error) {
        desk.words = error.what();
    }
}

void keep(const Studio& studio) {
    SwatchDesk& desk = studio.view.swatches;
    try {
        const std::string id = colour::id_from_name(desk.colourant_name);
        const auto library = library_with_base(studio);
        const auto made =
            colour::learned_colourant(*desk.fit, test_bars(desk), {desk.file_name, desk.card_reflectance}, id,
                                      desk.colourant_name, "other", library.find(id));
        const std::string text = colour::with_colourant(library, made).to_json();
        colour::ColourantLibrary::parse(text, desk.own_library.string());
        write_file_atomically(desk.own_library, text);
        desk.words = "Kept in " + desk.own_library.string() + "; the studio uses it from its next start.";
    } catch (const InputError& error) {
        desk.words = error.what();
    }
}

}  // namespace

void draw_swatches(const Studio& studio) {
    Ui& ui = studio.ui;
    SwatchDesk& desk = studio.view.swatches;
    ui.quiet_text(
        "Choose what to point at, then click it in the photo: the card, the plain bar if there is one, every "
        "bar.");
    draw_pointing(studio);
    draw_photo(studio);
    draw_fields(studio);
    ui.text_field("swatch-name", "", desk.colourant_name, "Name of the colourant");
    if (!desk.words.empty()) ui.quiet_text(desk.words);
    const ImVec2 size(ui.px(130), ui.px(36));
    if (ui.button("swatch-fit", "Fit", desk.fit ? ButtonKind::plain : ButtonKind::lit, size)) fit(studio);
    ImGui::SameLine();
    if (desk.bars.size() < most_bars) {
        if (ui.button("swatch-more", "Another bar", ButtonKind::plain, size)) desk.bars.emplace_back();
        ImGui::SameLine();
    }
    if (desk.fit && !desk.own_library.empty()) {
        if (ui.button("swatch-keep", "Keep", ButtonKind::lit, size)) keep(studio);
        ImGui::SameLine();
    }
    if (ui.button("swatch-close", "Close", ButtonKind::plain, size)) close_dialog(studio.view);
}

bool open_swatches(const Studio& studio, const std::filesystem::path& file) {
    std::string ending = file.extension().string();
    for (char& c : ending) c = static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
    if (ending != ".jpg" && ending != ".jpeg" && ending != ".png") return false;
    SwatchDesk& desk = studio.view.swatches;
    try {
        desk.photo = colour::load_photo(file);
        desk.file_name = file.filename().string();
        desk.on_card_of_graphics = false;
        desk.card.reset();
        desk.plain.reset();
        desk.fit.reset();
        desk.words.clear();
        desk.bars.assign(2, {});
        desk.bars[1].white_g_per_kg_oils = 8;
        desk.pointing_at = 0;
        desk.radius_px =
            std::max(2.0, std::round(0.012 * std::max(desk.photo.width_px, desk.photo.height_px)));
        open_dialog(studio.view, Dialog::swatches);
    } catch (const InputError& error) {
        show_trouble(studio.view, error.what());
    }
    return true;
}

}  // namespace foreslice::studio
