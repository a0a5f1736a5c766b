// Dropped theme pictures: the few colours they are made of, and an eyedropper for every other one.
#include <algorithm>
#include <cmath>

#include "studio/window/colour_desk.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

constexpr std::size_t most_themes = 8;
constexpr int picked_px = 2;  // to each side: the mean of 5 x 5 pixels, so that noise is not what is picked

colour::EncodedSrgb colour_at(const colour::Photo& photo, double x, double y) {
    colour::LinearSrgb sum;
    double count = 0;
    const int cx = std::clamp(static_cast<int>(x), 0, photo.width_px - 1),
              cy = std::clamp(static_cast<int>(y), 0, photo.height_px - 1);
    for (int py = std::max(0, cy - picked_px); py <= std::min(photo.height_px - 1, cy + picked_px); ++py)
        for (int px = std::max(0, cx - picked_px); px <= std::min(photo.width_px - 1, cx + picked_px); ++px) {
            const auto light = colour::decoded(photo.at(px, py));
            sum = {sum.r + light.r, sum.g + light.g, sum.b + light.b};
            count += 1;
        }
    return colour::encoded({sum.r / count, sum.g / count, sum.b / count});
}

void draw_picture(const Studio& studio, ThemePicture& theme) {
    Ui& ui = studio.ui;
    if (theme.texture.empty()) theme.texture.upload(theme.photo->shown);
    const colour::Photo& photo = theme.photo->photo;
    const float room = ImGui::GetContentRegionAvail().x;
    const float scale =
        std::min(room / static_cast<float>(photo.width_px), ui.px(190) / static_cast<float>(photo.height_px));
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const ImVec2 size(std::floor(static_cast<float>(photo.width_px) * scale),
                      std::floor(static_cast<float>(photo.height_px) * scale));
    ImGui::GetWindowDrawList()->AddImage(theme.texture.id(), at, ImVec2(at.x + size.x, at.y + size.y));
    const bool clicked = ImGui::InvisibleButton("theme-picture", size);
    ui.note("theme-picture");
    if (!ImGui::IsItemHovered()) return;
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const auto under = colour_at(photo, (mouse.x - at.x) / scale, (mouse.y - at.y) / scale);
    ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    ImGui::BeginTooltip();
    ui.swatch(under, ImVec2(ui.px(96), ui.px(40)));
    ImGui::TextUnformatted(colour::hex_of(under).c_str());
    ImGui::EndTooltip();
    if (clicked) want_colour(studio, under);
}

// The palette as one band, each colour as wide as its share, never too narrow to click.
void draw_palette(const Studio& studio, const std::vector<colour::PaletteColour>& palette) {
    Ui& ui = studio.ui;
    const float room = ImGui::GetContentRegionAvail().x, least = ui.px(28), height = ui.px(30);
    const float spare = room - least * static_cast<float>(palette.size());
    for (std::size_t i = 0; i < palette.size(); ++i) {
        if (i > 0) ImGui::SameLine(0, 0);
        const float width = least + spare * static_cast<float>(palette[i].weight);
        const ImVec2 at = ImGui::GetCursorScreenPos(), end(at.x + width, at.y + height);
        const std::string name = "theme-colour:" + std::to_string(i);
        if (ImGui::InvisibleButton(name.c_str(), ImVec2(width, height))) want_colour(studio, palette[i].srgb);
        const std::string hex = colour::hex_of(palette[i].srgb),
                          share = format_quantity(100 * palette[i].weight, Unit::percent, 0);
        ui.note(name, hex);
        ui.help(std::string(hex).append(", ").append(share).append(
            " of the picture. A click makes it the wanted colour."));
        const bool over = ImGui::IsItemHovered();
        if (over) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
        ImDrawList* list = ImGui::GetWindowDrawList();
        const auto c = palette[i].srgb;
        list->AddRectFilled(at, end, IM_COL32(c.r, c.g, c.b, 255));
        if (over) list->AddRect(at, end, dusk::lamp, 0, 0, ui.px(2));
        const bool dark =
            colour::lab_of(colour::xyz_of(colour::decoded(c)), colour::white_of(colour::Illuminant::d65)).l <
            55;
        if (ui.text_width(ui.fonts.small, share) < width - ui.px(4))
            ui.text_at(list, ui.fonts.small, ImVec2((at.x + end.x) / 2, at.y + ui.px(7)),
                       dark ? dusk::chalk : dusk::ink, share, 0.5F);
    }
}

}  // namespace

void add_theme(const Studio& studio, std::shared_ptr<const OpenedPhoto> photo) {
    ColourDesk& desk = studio.view.shelf.at<ColourDesk>();
    if (desk.themes.size() >= most_themes) desk.themes.erase(desk.themes.begin());
    desk.themes.push_back(std::make_unique<ThemePicture>());
    desk.themes.back()->photo = std::move(photo);
    desk.theme = desk.themes.size() - 1;
    studio.view.step = Step::tint;
}

void draw_themes(const Studio& studio) {
    Ui& ui = studio.ui;
    ui.section("Theme");
    ColourDesk& desk = studio.view.shelf.at<ColourDesk>();
    if (desk.themes.empty()) {
        ui.quiet_text("Drop a picture on the window to pick its colours.");
        return;
    }
    desk.theme = std::min(desk.theme, desk.themes.size() - 1);
    if (desk.themes.size() > 1) {
        std::vector<std::string> numbers;
        for (std::size_t i = 0; i < desk.themes.size(); ++i) numbers.push_back(std::to_string(i + 1));
        if (const int chosen = ui.choice("theme", numbers, static_cast<int>(desk.theme)); chosen >= 0)
            desk.theme = static_cast<std::size_t>(chosen);
    }
    ThemePicture& theme = *desk.themes[desk.theme];
    draw_picture(studio, theme);
    draw_palette(studio, theme.photo->palette);
    ui.quiet_text("Click in the picture or on the band: that becomes the wanted colour.");
}

}  // namespace foreslice::studio
