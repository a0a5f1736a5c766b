// A face on the paper: where it lies, and what is drawn on and round it on every page that shows one.
#pragma once

#include <functional>
#include <memory>
#include <string>

#include "flow/tool.h"
#include "picture/face.h"
#include "studio/window/layout.h"
#include "studio/window/view.h"

namespace foreslice::studio {

struct Figure {
    Area area;
    double px_per_mm = 1;

    ImVec2 screen_from_mould(Vec2 mm) const {
        return ImVec2(area.x + static_cast<float>(mm.x * px_per_mm),
                      area.bottom() - static_cast<float>(mm.y * px_per_mm));
    }
    Vec2 mould_from_screen(ImVec2 at) const {
        return {static_cast<double>(at.x - area.x) / px_per_mm,
                static_cast<double>(area.bottom() - at.y) / px_per_mm};
    }
    ImVec2 min() const { return ImVec2(area.x, area.y); }
    ImVec2 max() const { return ImVec2(area.right(), area.bottom()); }
    bool under_mouse() const;
};

/// How far the newest face's top reaches above the level that the mould is filled to.
double rise_mm(const Studio& studio);
/// The largest figure of the mould's section that fits, standing on the lower edge; room for a caption and,
/// when `handles`, for the wire's way above it.
Figure largest_figure(const Studio& studio, const Area& inside, bool handles = false);
/// Room on the page without its margins.
Area inside_page(const Ui& ui, const Area& page);

/// Orders the face for a page that shows it at a scale.
void want_face(const Studio& studio, double px_per_mm);
/// For a page that shows none: the ribbon and the status line follow the design all the same.
void keep_face(const Studio& studio, const Area& page);
/// Brings the newest face to the graphics card. To be called once a frame.
void refresh_textures(const Studio& studio);
/// A bar with its shadow, which reaches beyond the figure; so does a worked top above it.
void draw_bar_image(ImDrawList* list, const Texture& texture, int margin_px, const Area& figure,
                    float alpha = 1);
/// The words under a figure; returns where they end.
float draw_caption(const Studio& studio, const Area& figure, const std::string& title);
/// Between two places, as long as fits.
void draw_scale_bar(const Studio& studio, float x, float right, float y, double px_per_mm);
/// The tool in its true size, its middle at `at`; filled: where it is or begins, else where it ends.
void draw_tool(const Ui& ui, ImDrawList* list, const Figure& figure, const flow::ToolShape& shape, ImVec2 at,
               bool filled);
/// Says in words that the picture is not the last one yet.
void draw_sketch_note(const Studio& studio, const Area& figure);
/// The design cannot be made: says why over whatever is there. False when it can.
bool draw_fault(const Studio& studio, const Area& page);
/// A word on a dark ground near a place, for what the hand is just doing.
void draw_tag(const Ui& ui, ImVec2 at, const std::string& words);

/// What the soap under the mouse is, where it came from and its colour.
void draw_whence(const Studio& studio, const DrawnFace& face, const Figure& figure, bool drawn);
/// "came from layer 3, 12 mm higher and 4 mm further left"; lengths in the document's units.
std::string whence_in_words(const picture::Whence& whence, Vec2 seen_mm, const ShownUnits& units);

/// The magnifier, when it is on and the mouse is over the figure.
void draw_loupe(const Studio& studio, const std::shared_ptr<const DrawnFace>& face, const Figure& figure,
                bool drawn);
bool& loupe_on(const Studio& studio);

}  // namespace foreslice::studio
