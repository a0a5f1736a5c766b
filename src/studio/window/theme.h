// How the studio looks: the harbour at dusk. Deep slate water round a sheet of warm paper, lamp amber where
// the hand is. Colours, type and sizes in one place.
#pragma once

#include <imgui.h>

#include <filesystem>

namespace foreslice::studio {

namespace dusk {
constexpr ImU32 rgb(unsigned hex, unsigned alpha = 255) {
    return IM_COL32((hex >> 16) & 255, (hex >> 8) & 255, hex & 255, alpha);
}
inline constexpr ImU32 on_lamp = rgb(0x201708);  ///< text on the accent

// The look that is worn: set by wear(), read by everything that draws.
inline ImU32 water = rgb(0x141d28);       ///< behind everything
inline ImU32 quay = rgb(0x1d2937);        ///< panels
inline ImU32 quay_edge = rgb(0x2e3e50);   ///< their outline and rules
inline ImU32 well = rgb(0x121a24);        ///< where numbers lie
inline ImU32 slate = rgb(0x2b3b4d);       ///< buttons
inline ImU32 slate_lit = rgb(0x384b60);   ///< under the mouse
inline ImU32 slate_deep = rgb(0x223040);  ///< pressed
inline ImU32 chalk = rgb(0xece6d8);       ///< text
inline ImU32 fog = rgb(0xa9b7c4);         ///< quieter text
inline ImU32 mist = rgb(0x74879a);        ///< marks, hints, switched off
inline ImU32 lamp = rgb(0xe6a94f);        ///< the accent
inline ImU32 lamp_lit = rgb(0xf2bd6b);
inline ImU32 lamp_deep = rgb(0xc98c35);
inline ImU32 buoy = rgb(0xe58a6c);   ///< trouble, always together with words
inline ImU32 weed = rgb(0x8fc1a5);   ///< all is well, always together with words
inline ImU32 paper = rgb(0xf1ebde);  ///< what the face lies on
inline ImU32 paper_shade = rgb(0xe3dac8);
inline ImU32 paper_rule = rgb(0xcfc4ae);
inline ImU32 ink = rgb(0x26303b);  ///< text on paper
inline ImU32 ink_soft = rgb(0x5b626b);
}  // namespace dusk

struct Fonts {
    ImFont* body = nullptr;
    ImFont* bold = nullptr;
    ImFont* small = nullptr;
    ImFont* small_bold = nullptr;
    ImFont* title = nullptr;
};

/// Builds the font atlas for a scale, replacing the old one, from the program's own font files. When one of
/// them is missing or damaged a plain face that is always there (Latin letters only) stands in, so that work
/// can go on and be saved, and `trouble` says what is wrong.
Fonts load_fonts(float scale, std::string& trouble);
enum class Look { dusk, morning };
/// Changes the colours that everything is drawn in; apply_theme() has to follow.
void wear(Look look);
/// Sets the style anew (never adds to an older scaling).
void apply_theme(float scale);

}  // namespace foreslice::studio
