#include "studio/window/theme.h"

#include <cmath>

#include "foundation/error.h"

namespace foreslice::studio {
namespace {

// Latin with accents, Greek, punctuation, sub- and superscripts, currency, arrows and mathematics, shapes,
// ticks. Must outlive the atlas.
constexpr ImWchar glyph_ranges[] = {0x20,   0x17f,  0x370,  0x3ff,  0x2000, 0x209f, 0x20a0, 0x20cf,
                                    0x2100, 0x22ff, 0x25a0, 0x25ff, 0x2713, 0x2718, 0};

ImFont* add_font(const std::filesystem::path& file, float size_px) {
    std::error_code error;
    if (!std::filesystem::is_regular_file(file, error))
        throw InputError(file.string(), "", "the font that the studio writes with is missing", "");
    ImFontConfig config;
    config.GlyphRanges = glyph_ranges;
    config.PixelSnapH = true;
    return ImGui::GetIO().Fonts->AddFontFromFileTTF(file.string().c_str(), std::round(size_px), &config);
}

void set(ImGuiStyle& style, ImGuiCol place, ImU32 colour) {
    style.Colors[place] = ImGui::ColorConvertU32ToFloat4(colour);
}

void set_colours(ImGuiStyle& style) {
    for (ImVec4& colour : style.Colors) colour = ImGui::ColorConvertU32ToFloat4(dusk::slate);
    set(style, ImGuiCol_Text, dusk::chalk);
    set(style, ImGuiCol_TextDisabled, dusk::mist);
    set(style, ImGuiCol_WindowBg, dusk::water);
    set(style, ImGuiCol_ChildBg, 0);
    set(style, ImGuiCol_PopupBg, dusk::rgb(0x22303f));
    set(style, ImGuiCol_Border, dusk::quay_edge);
    set(style, ImGuiCol_BorderShadow, 0);
    set(style, ImGuiCol_FrameBg, dusk::well);
    set(style, ImGuiCol_FrameBgHovered, dusk::rgb(0x182330));
    set(style, ImGuiCol_FrameBgActive, dusk::rgb(0x182330));
    set(style, ImGuiCol_ScrollbarBg, 0);
    set(style, ImGuiCol_ScrollbarGrab, dusk::slate);
    set(style, ImGuiCol_ScrollbarGrabHovered, dusk::slate_lit);
    set(style, ImGuiCol_ScrollbarGrabActive, dusk::lamp_deep);
    set(style, ImGuiCol_CheckMark, dusk::lamp);
    set(style, ImGuiCol_Button, dusk::slate);
    set(style, ImGuiCol_ButtonHovered, dusk::slate_lit);
    set(style, ImGuiCol_ButtonActive, dusk::slate_deep);
    set(style, ImGuiCol_Header, dusk::slate);
    set(style, ImGuiCol_HeaderHovered, dusk::slate_lit);
    set(style, ImGuiCol_HeaderActive, dusk::slate_deep);
    set(style, ImGuiCol_Separator, dusk::quay_edge);
    set(style, ImGuiCol_TextSelectedBg, dusk::rgb(0xe6a94f, 110));
    set(style, ImGuiCol_NavHighlight, dusk::lamp);
    set(style, ImGuiCol_ModalWindowDimBg, dusk::rgb(0x0a0f16, 170));
}

}  // namespace

Fonts load_fonts(const std::filesystem::path& font_folder, float scale) {
    ImGui::GetIO().Fonts->Clear();
    const auto regular = font_folder / "Inter-Regular.otf", semi_bold = font_folder / "Inter-SemiBold.otf";
    Fonts fonts;
    fonts.body = add_font(regular, 16 * scale);
    fonts.bold = add_font(semi_bold, 16 * scale);
    fonts.small = add_font(regular, 13.5F * scale);
    fonts.small_bold = add_font(semi_bold, 13.5F * scale);
    fonts.title = add_font(semi_bold, 22 * scale);
    ImGui::GetIO().Fonts->Build();
    return fonts;
}

void apply_theme(float scale) {
    ImGuiStyle& style = ImGui::GetStyle();
    style = ImGuiStyle();
    set_colours(style);
    style.WindowPadding = ImVec2(18, 16);
    style.FramePadding = ImVec2(10, 6);
    style.ItemSpacing = ImVec2(8, 8);
    style.ItemInnerSpacing = ImVec2(6, 6);
    style.WindowRounding = 8;
    style.ChildRounding = 8;
    style.PopupRounding = 8;
    style.FrameRounding = 5;
    style.GrabRounding = 4;
    style.ScrollbarRounding = 6;
    style.ScrollbarSize = 12;
    style.WindowBorderSize = 0;
    style.PopupBorderSize = 1;
    style.WindowTitleAlign = ImVec2(0, 0.5F);
    style.SelectableTextAlign = ImVec2(0, 0.5F);
    style.DisabledAlpha = 0.45F;
    style.CurveTessellationTol = 0.6F;
    style.CircleTessellationMaxError = 0.2F;
    style.ScaleAllSizes(scale);
}

}  // namespace foreslice::studio
