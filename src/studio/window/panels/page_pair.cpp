// The page one works on: the layers as poured, which can be taken hold of, and beside them the cut face.
#include <algorithm>

#include "studio/window/panels.h"
#include "studio/window/panels/figure.h"

namespace foreslice::studio {
namespace {

// The maker's own words about the design, where the paper is empty.
void draw_maker_notes(const Studio& studio, const Area& inside, const Figures& figures) {
    const Ui& ui = studio.ui;
    const std::string& notes = studio.session.design().notes;
    const float width = std::min(figures.face.x - ui.px(40) - inside.x, ui.px(430));
    const float room = std::min(figures.labels.y, figures.poured.y) - ui.px(24) - inside.y;
    if (notes.empty() || figures.face.x <= figures.poured.x || width < ui.px(200) || room < ui.px(40)) return;
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ImVec2 at(inside.x, inside.y + ui.px(4));
    list->PushClipRect(at, ImVec2(at.x + width, at.y + room), true);
    list->AddText(ui.fonts.small, ui.fonts.small->FontSize, at, dusk::ink_soft, notes.data(),
                  notes.data() + notes.size(), width);
    list->PopClipRect();
}

// Everything on the paper that is not a picture.
void draw_around(const Studio& studio, const Area& inside, const Figures& figures) {
    Ui& ui = studio.ui;
    const Figure poured{figures.poured, figures.poured_px_per_mm}, face{figures.face, figures.px_per_mm};
    ui.note_rect("face", face.min(), face.max());
    ui.note_rect("poured", poured.min(), poured.max());
    draw_layer_labels(studio, figures);
    if (studio.view.step == Step::wire)
        draw_wire_path(studio, poured);
    else
        draw_layer_hands(studio, poured);
    draw_caption(studio, figures.poured, "As poured");
    const float after = draw_caption(studio, figures.face, "Cut face");
    draw_scale_bar(studio, after + ui.px(24), figures.face.right(), figures.face.bottom() + ui.px(21),
                   figures.px_per_mm);
    draw_maker_notes(studio, inside, figures);
    draw_sketch_note(studio, figures.face);
}

}  // namespace

void draw_page_pair(const Studio& studio, const Area& page) {
    const auto face = studio.session.face();
    const auto& design = studio.session.design();
    const bool makeable = studio.session.fault().empty();
    const double width_mm = makeable ? design.mould.width_mm : face ? face->order.design.mould.width_mm : 65;
    const double fill_mm = makeable ? design.mould.fill_mm : face ? face->order.design.mould.fill_mm : 80;
    Area inside = inside_page(studio.ui, page);
    inside.height -= studio.ui.px(36);  // captions
    Figures figures = sheet_figures(inside, width_mm, fill_mm, studio.ui.scale);
    if (const double rise = rise_mm(studio); rise > 0) {  // room for what stands above the face
        Area lower = inside;
        const float room = static_cast<float>(rise * figures.px_per_mm) + studio.ui.px(14);
        lower.y += room;
        lower.height -= room;
        figures = sheet_figures(lower, width_mm, fill_mm, studio.ui.scale);
    }
    want_face(studio, figures.px_per_mm);
    if (face) {
        ImDrawList* list = ImGui::GetWindowDrawList();
        draw_bar_image(list, studio.view.poured, face->margin_px, figures.poured);
        draw_bar_image(list, studio.view.drawn, face->margin_px, figures.face);
    }
    if (draw_fault(studio, page) || !face) return;
    draw_around(studio, inside, figures);
    draw_whence(studio, *face, {figures.face, figures.px_per_mm}, true);
    draw_loupe(studio, face, {figures.face, figures.px_per_mm}, true);
}

}  // namespace foreslice::studio
