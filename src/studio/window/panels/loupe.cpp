// The magnifier: a round glass at the mouse that shows the face four times as large. What it shows at once is
// the picture enlarged; a moment later the true edges, asked of the flow point by point.
#include <algorithm>
#include <array>
#include <cmath>

#include "foundation/content_key.h"
#include "picture/light.h"
#include "studio/session/asked.h"
#include "studio/window/panels.h"
#include "studio/window/panels/figure.h"

namespace foreslice::studio {
namespace {

constexpr float zoom = 4;

struct Loupe {
    bool on = false;
    Asked<picture::Image> asked;
    Texture sharp;
    const picture::Image* on_card = nullptr;
};

struct Glass {
    Vec2 middle_mm;
    double px_per_mm = 1;  ///< magnified
    int side_px = 1;
};

picture::Image seen_through(const Glass& glass, const std::shared_ptr<const DrawnFace>& face, bool drawn,
                            Progress& progress) {
    picture::Image image(glass.side_px, glass.side_px, {});
    const auto& whence_at = drawn ? face->drawn_whence : face->poured_whence;
    const auto& colours = (drawn ? face->drawn : face->poured).colours;
    const auto& mould = face->order.design.mould;
    progress.begin_stage("looking closely", glass.side_px);
    for (int row = 0; row < glass.side_px; ++row) {
        for (int column = 0; column < glass.side_px; ++column) {
            const double half = 0.5 * glass.side_px;
            const Vec2 at{glass.middle_mm.x + (column + 0.5 - half) / glass.px_per_mm,
                          glass.middle_mm.y - (row + 0.5 - half) / glass.px_per_mm};
            auto* rgba =
                &image.rgba[4 * (static_cast<std::size_t>(row) * static_cast<std::size_t>(glass.side_px) +
                                 static_cast<std::size_t>(column))];
            const bool inside = at.x >= 0 && at.y >= 0 && at.x <= mould.width_mm && at.y <= mould.fill_mm;
            const auto material = inside ? static_cast<std::size_t>(whence_at(at).material) : colours.size();
            rgba[3] = material < colours.size() ? 255 : 0;
            if (material >= colours.size()) continue;
            rgba[0] = colours[material].srgb.r;
            rgba[1] = colours[material].srgb.g;
            rgba[2] = colours[material].srgb.b;
        }
        progress.advance();
    }
    return image;
}

}  // namespace

bool& loupe_on(const Studio& studio) {
    return studio.view.shelf.at<Loupe>().on;
}

void draw_loupe(const Studio& studio, const std::shared_ptr<const DrawnFace>& face, const Figure& figure,
                bool drawn) {
    Loupe& loupe = studio.view.shelf.at<Loupe>();
    if (!loupe.on || !face || !figure.under_mouse()) return;
    if (!(drawn ? face->drawn_whence : face->poured_whence)) return;
    Ui& ui = studio.ui;
    const ImVec2 mouse = ImGui::GetMousePos();
    const float radius = ui.px(96);
    Glass glass{figure.mould_from_screen(mouse), static_cast<double>(zoom) * figure.px_per_mm,
                static_cast<int>(2 * radius)};
    const auto key = ContentKey()
                         .add(static_cast<double>(face->number))
                         .add(face->sketch ? 1.0 : 0.0)
                         .add(drawn ? 1.0 : 0.0)
                         .add(static_cast<double>(mouse.x))
                         .add(static_cast<double>(mouse.y))
                         .value();
    loupe.asked.want(key, studio.session.waker(),
                     [=](Progress& progress) { return seen_through(glass, face, drawn, progress); });
    ImDrawList* list = ImGui::GetForegroundDrawList();
    const ImVec2 min(mouse.x - radius, mouse.y - radius), max(mouse.x + radius, mouse.y + radius);
    list->AddCircleFilled(mouse, radius, dusk::paper, 96);
    const Texture& whole = drawn ? studio.view.drawn : studio.view.poured;
    const float margin_x = static_cast<float>(face->margin_px) / static_cast<float>(whole.width_px());
    const float margin_y = static_cast<float>(face->margin_px) / static_cast<float>(whole.height_px());
    const auto u_of = [&](float x) {
        return margin_x + (1 - 2 * margin_x) * (x - figure.area.x) / figure.area.width;
    };
    const auto v_of = [&](float y) {
        const float per_texture = (1 - 2 * margin_x) * static_cast<float>(whole.width_px()) /
                                  (figure.area.width * static_cast<float>(whole.height_px()));
        return 1 - margin_y - (figure.area.bottom() - y) * per_texture;
    };
    list->AddImageRounded(
        whole.id(), min, max, ImVec2(u_of(mouse.x - radius / zoom), v_of(mouse.y - radius / zoom)),
        ImVec2(u_of(mouse.x + radius / zoom), v_of(mouse.y + radius / zoom)), IM_COL32_WHITE, radius);
    const auto answer = loupe.asked.answer();
    if (answer && loupe.asked.current()) {
        if (loupe.on_card != answer.get()) loupe.sharp.upload(*answer);
        loupe.on_card = answer.get();
        list->AddImageRounded(loupe.sharp.id(), min, max, ImVec2(0, 0), ImVec2(1, 1), IM_COL32_WHITE, radius);
    }
    ui.note_rect("glass", min, max, answer && loupe.asked.current() ? "sharp" : "enlarged");
    list->AddCircle(mouse, radius, dusk::ink, 96, ui.px(4));
    list->AddCircle(mouse, radius - ui.px(2), dusk::rgb(0xffffff, 120), 96, ui.px(1.5F));
    list->AddLine(ImVec2(mouse.x - ui.px(6), mouse.y), ImVec2(mouse.x + ui.px(6), mouse.y), dusk::ink,
                  ui.px(1));
    list->AddLine(ImVec2(mouse.x, mouse.y - ui.px(6)), ImVec2(mouse.x, mouse.y + ui.px(6)), dusk::ink,
                  ui.px(1));
}

}  // namespace foreslice::studio
