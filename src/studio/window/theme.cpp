#include "studio/window/theme.h"

#include <cmath>

#include "foundation/error.h"
#include "foundation/text_file.h"
#include "picture/assets.h"
#include "picture/font_file.h"

namespace foreslice::studio {
namespace {

// Latin with accents, Greek, punctuation, sub- and superscripts, currency, arrows and mathematics, shapes,
// ticks. Must outlive the atlas.
constexpr ImWchar glyph_ranges[] = {0x20,   0x17f,  0x370,  0x3ff,  0x2000, 0x209f, 0x20a0, 0x20cf,
                                    0x2100, 0x22ff, 0x25a0, 0x25ff, 0x2713, 0x2718, 0};

ImFont* add_font(const char* name, float size_px) {
    const auto file = picture::own_file(name);
    if (!picture::is_whole_font(read_file(file)))
        throw InputError(file.string(), "", "is not a font that can be read", "an OpenType or TrueType font");
    ImFontConfig config;
    config.GlyphRanges = glyph_ranges;
    config.PixelSnapH = true;
    return ImGui::GetIO().Fonts->AddFontFromFileTTF(file.string().c_str(), std::round(size_px), &config);
}

ImFont* add_stand_in(float size_px) {
    ImFontConfig config;
    config.SizePixels = std::round(size_px);
    return ImGui::GetIO().Fonts->AddFontDefault(&config);
}

template <typename Add>
Fonts fonts_at(float scale, const Add& add) {
    const char* const regular = "assets/fonts/Inter-Regular.otf";
    const char* const semi_bold = "assets/fonts/Inter-SemiBold.otf";
    Fonts fonts;
    fonts.body = add(regular, 16 * scale);
    fonts.bold = add(semi_bold, 16 * scale);
    fonts.small = add(regular, 13.5F * scale);
    fonts.small_bold = add(semi_bold, 13.5F * scale);
    fonts.title = add(semi_bold, 22 * scale);
    return fonts;
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
    set(style, ImGuiCol_PopupBg, dusk::quay);
    set(style, ImGuiCol_Border, dusk::quay_edge);
    set(style, ImGuiCol_BorderShadow, 0);
    set(style, ImGuiCol_FrameBg, dusk::well);
    set(style, ImGuiCol_FrameBgHovered, dusk::well);
    set(style, ImGuiCol_FrameBgActive, dusk::well);
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

void wear(Look look) {
    const bool day = look == Look::morning;
    const auto either = [day](unsigned at_dusk, unsigned in_the_morning) {
        return dusk::rgb(day ? in_the_morning : at_dusk);
    };
    dusk::water = either(0x141d28, 0xd3dbe1);
    dusk::quay = either(0x1d2937, 0xf4f2ec);
    dusk::quay_edge = either(0x2e3e50, 0xc5ccd1);
    dusk::well = either(0x121a24, 0xffffff);
    dusk::slate = either(0x2b3b4d, 0xdbe2e7);
    dusk::slate_lit = either(0x384b60, 0xc9d4db);
    dusk::slate_deep = either(0x223040, 0xb9c6cf);
    dusk::chalk = either(0xece6d8, 0x1e2933);
    dusk::fog = either(0xa9b7c4, 0x4a5967);
    dusk::mist = either(0x74879a, 0x687887);
    dusk::lamp = either(0xe6a94f, 0xb8741b);
    dusk::lamp_lit = either(0xf2bd6b, 0x935607);
    dusk::lamp_deep = either(0xc98c35, 0xd0903a);
    dusk::buoy = either(0xe58a6c, 0xb03c1d);
    dusk::weed = either(0x8fc1a5, 0x2c7350);
    dusk::paper = either(0xf1ebde, 0xfbf8f1);
    dusk::paper_shade = either(0xe3dac8, 0xeae4d7);
}

Fonts load_fonts(float scale, std::string& trouble) {
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    atlas.Clear();
    try {
        const Fonts fonts = fonts_at(scale, add_font);
        if (atlas.Build()) return fonts;
        trouble = "The font that the studio writes with cannot be read";
    } catch (const InputError& error) {
        trouble = error.what();
    }
    atlas.Clear();
    const Fonts fonts = fonts_at(scale, [](const char*, float size_px) { return add_stand_in(size_px); });
    atlas.Build();
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
