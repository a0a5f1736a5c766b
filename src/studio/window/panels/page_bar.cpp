// The bar as one would hold it: rounded edges, its top, light from a window. Drag to turn it.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <utility>

#include "foundation/content_key.h"
#include "studio/session/top_colours.h"
#include "studio/window/actions.h"
#include "studio/window/bar_scene.h"
#include "studio/window/panels.h"
#include "studio/window/panels/figure.h"

namespace foreslice::studio {
namespace {

struct OnTheTable {
    BarScene scene;
    BarView view;
};

Area table_on(const Ui& ui, const Area& page) {
    return {page.x, page.y + ui.px(4), page.width, page.height - ui.px(8)};
}

// Air above the soap takes the colour of the soap below it, so that the top's edge has no rim.
picture::Image without_air(picture::Image image) {
    const auto width = static_cast<std::size_t>(image.width_px);
    const auto height = static_cast<std::size_t>(image.height_px);
    for (std::size_t x = 0; x < width; ++x) {
        std::size_t row = 0;
        while (row + 1 < height && image.rgba[4 * (row * width + x) + 3] < 255) ++row;
        for (std::size_t above = 0; above < row; ++above)
            std::copy_n(&image.rgba[4 * (row * width + x)], 4, &image.rgba[4 * (above * width + x)]);
    }
    return image;
}

// A flake of glitter is some 0.4 mm across.
double grains_per_mm2(const design::Design& design) {
    double cover_percent = 0;
    for (const auto& glitter : design.top.glitter) cover_percent += glitter.cover_percent;
    return cover_percent / 100 / (0.4 * 0.4);
}

void take_bar(const DrawnFace& face, BarScene& scene) {
    const auto& design = face.order.design;
    BarSize size;
    size.width_mm = design.mould.width_mm;
    const auto& image = face.drawn.image;
    size.height_mm = design.mould.fill_mm;
    size.above_mm = std::max(
        0.0, design.mould.width_mm * image.height_px / std::max(1, image.width_px) - design.mould.fill_mm);
    size.thickness_mm = design.cut.bar_thickness_mm;
    const auto stamp = ContentKey()
                           .add(static_cast<double>(face.number))
                           .add(face.sketch ? "sketch" : "fine")
                           .add(size.thickness_mm)
                           .add(size.above_mm)
                           .value();
    if (scene.has_bar(size, stamp)) return;
    const auto& drawn = face.drawn;
    TopHeight top;
    if (drawn.top)
        top = [view = drawn.top, level_mm = size.height_mm](double x_mm, double z_mm) {
            return view->height_at_mm(x_mm, z_mm) - level_mm;
        };
    BarSkin skin{drawn.top ? without_air(image) : image, {}, grains_per_mm2(design)};
    if (drawn.top) skin.above = top_colours(drawn);
    scene.set_bar(size, std::move(skin), top, stamp);
}

void turn(const Studio& studio, const Area& area, BarView& view) {
    ImGui::SetCursorScreenPos(ImVec2(area.x, area.y));
    ImGui::InvisibleButton("bar-view", ImVec2(area.width, area.height));
    studio.ui.note("bar-view", std::to_string(static_cast<int>(std::lround(view.yaw_deg))) + " " +
                                   std::to_string(static_cast<int>(std::lround(view.pitch_deg))));
    if (ImGui::IsItemHovered() || ImGui::IsItemActive()) ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeAll);
    const ImGuiIO& io = ImGui::GetIO();
    if (ImGui::IsItemActive()) {
        view.yaw_deg -= io.MouseDelta.x * 0.4F / studio.ui.scale;
        view.pitch_deg = std::clamp(view.pitch_deg + io.MouseDelta.y * 0.4F / studio.ui.scale, -25.0F, 85.0F);
    }
    if (ImGui::IsItemHovered() && io.MouseWheel != 0)
        view.distance = std::clamp(view.distance * std::pow(0.92F, io.MouseWheel), 2.6F, 10.0F);
}

// Where it stands on the paper, darker towards the middle.
void draw_ground_shadow(const BarScene& scene, const BarView& view, const Area& area) {
    const BarSize& size = scene.size();
    const Matrix matrix = scene.matrix(view, area.width / area.height);
    const auto half_w = static_cast<float>(size.width_mm / 2),
               half_t = static_cast<float>(size.thickness_mm / 2);
    const auto floor = static_cast<float>(-size.height_mm / 2);
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->PushClipRect(ImVec2(area.x, area.y), ImVec2(area.right(), area.bottom()), true);
    constexpr int rings = 15;  // enough that no edge of one shows
    for (int ring = rings - 1; ring >= 0; --ring) {
        const float out = 10.0F * static_cast<float>(ring) / rings;
        std::array<ImVec2, 32> points;
        for (std::size_t k = 0; k < points.size(); ++k) {
            const float angle = 6.2831853F * static_cast<float>(k) / static_cast<float>(points.size());
            const float c = std::cos(angle), s = std::sin(angle);
            // A rectangle with round corners, shifted away from the light.
            const float x = (c > 0 ? 1 : -1) * (half_w - 2) + out * c + 1.5F;
            const float z = (s > 0 ? 1 : -1) * (half_t - 2) + out * s;
            const auto at = projected(matrix, {x, floor, z});
            points[k] = ImVec2(area.x + at[0] * area.width, area.y + at[1] * area.height);
        }
        list->AddConvexPolyFilled(points.data(), static_cast<int>(points.size()), dusk::rgb(0x3a3226, 11));
    }
    list->PopClipRect();
}

}  // namespace

bool prepare_page_bar(const Studio& studio) {
    OnTheTable& table = studio.view.shelf.at<OnTheTable>();
    const Area area = table_on(studio.ui, studio.view.page_area);
    return studio.view.shaders && area.width >= 1 && area.height >= 1 &&
           table.scene.prepare(static_cast<int>(area.width), static_cast<int>(area.height));
}

void draw_page_bar(const Studio& studio, const Area& page) {
    Ui& ui = studio.ui;
    const Figure figure = largest_figure(studio, inside_page(ui, page));
    want_face(studio, figure.px_per_mm);
    const auto face = studio.session.face();
    OnTheTable& table = studio.view.shelf.at<OnTheTable>();
    const Area area = table_on(ui, page);
    if (draw_fault(studio, page) || !face) return;
    take_bar(*face, table.scene);
    turn(studio, area, table.view);
    table.scene.draw(table.view, static_cast<int>(area.width), static_cast<int>(area.height),
                     studio.view.shaders, studio.session.waker());
    if (table.view.pitch_deg > 1) draw_ground_shadow(table.scene, table.view, area);
    ui.note_rect("bar-picture", ImVec2(area.x, area.y), ImVec2(area.right(), area.bottom()),
                 table.scene.by_shader() ? "by shader" : "on the processor");
    table.scene.lay_on(ImGui::GetWindowDrawList(), ImVec2(area.x, area.y),
                       ImVec2(area.right(), area.bottom()));
    const auto& design = face->order.design;
    const std::string words = "Bar " + std::to_string(shown_bar(studio)) + ", " +
                              ui.shown(design.mould.width_mm, Unit::mm, 0) + " × " +
                              ui.shown(design.mould.fill_mm, Unit::mm, 0) + " × " +
                              ui.shown(design.cut.bar_thickness_mm, Unit::mm, 0);
    ui.text_at(ImGui::GetWindowDrawList(), ui.fonts.bold,
               ImVec2(page.x + ui.px(22), page.bottom() - ui.px(28)), dusk::ink, words);
    ui.text_at(ImGui::GetWindowDrawList(), ui.fonts.small,
               ImVec2(page.right() - ui.px(22), page.bottom() - ui.px(26)), dusk::ink_soft,
               "drag to turn it, wheel to come nearer", 1);
    draw_sketch_note(studio, page);
}

}  // namespace foreslice::studio
