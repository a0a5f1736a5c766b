// Every bar of the loaf in order; a click looks at one.
#include <algorithm>
#include <cmath>
#include <vector>

#include "foundation/content_key.h"
#include "foundation/worker_pool.h"
#include "picture/bar.h"
#include "picture/loaf.h"
#include "studio/session/asked.h"
#include "studio/window/actions.h"
#include "studio/window/panels.h"
#include "studio/window/panels/figure.h"

namespace foreslice::studio {
namespace {

constexpr flow::Resolution coarse{48, 4, 0.2};

struct Bars {
    std::vector<picture::Image> images;
    int margin_px = 0;
};

struct Rows {
    std::size_t columns = 1, rows = 1;
    double px_per_mm = 1;
};

struct Table {
    Asked<Bars> asked;
    std::vector<std::unique_ptr<Texture>> textures;
    const Bars* on_card = nullptr;
};

// `rise_mm`: of the tops above the level that the mould is filled to.
Rows rows_for(const Ui& ui, const Area& inside, std::size_t bars, const design::Mould& mould,
              double rise_mm) {
    Rows best;
    best.px_per_mm = 0;
    for (std::size_t columns = 1; columns <= bars; ++columns) {
        const std::size_t rows = (bars + columns - 1) / columns;
        const double wide = (static_cast<double>(inside.width) / static_cast<double>(columns) -
                             static_cast<double>(ui.px(18))) /
                            mould.width_mm;
        const double high = (static_cast<double>(inside.height) / static_cast<double>(rows) -
                             static_cast<double>(ui.px(40))) /
                            (mould.fill_mm + rise_mm);
        const double scale = std::min(wide, high);
        if (scale > best.px_per_mm) best = {columns, rows, scale};
    }
    best.px_per_mm = std::clamp(std::floor(best.px_per_mm * 4) / 4, 0.5, 8.0);
    return best;
}

Bars all_bars(const design::Design& design, const std::shared_ptr<const colour::ColourantLibrary>& library,
              unsigned threads, double px_per_mm, Progress& progress) {
    WorkerPool pool(threads);
    picture::FaceMaker maker(pool, library);
    Bars out;
    out.margin_px = picture::bar_margin_px(px_per_mm);
    picture::FaceRequest request;
    request.px_per_mm = px_per_mm;
    request.resolution = coarse;
    const int bars = design::bar_count(design);
    for (request.bar = 1; request.bar <= bars; ++request.bar) {
        const auto face = maker.make(design, request, progress);
        out.images.push_back(picture::bar_picture(design, face, request));
    }
    return out;
}

void draw_one(const Studio& studio, Table& table, int bar, const Area& figure, float above, int margin_px) {
    Ui& ui = studio.ui;
    ImGui::SetCursorScreenPos(ImVec2(figure.x, figure.y - above));
    const std::string name = "loaf-bar:" + std::to_string(bar);
    const bool clicked =
        ImGui::InvisibleButton(name.c_str(), ImVec2(figure.width, above + figure.height + ui.px(24)));
    const bool shown = bar == shown_bar(studio), over = ImGui::IsItemHovered();
    ui.note(name, shown ? "shown" : "");
    if (over) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    if (clicked) {
        studio.view.bar = bar;
        studio.view.cut_z_mm.reset();
        if (shown) studio.view.page = 0;  // a second click opens it
    }
    ImDrawList* list = ImGui::GetWindowDrawList();
    draw_bar_image(list, *table.textures[static_cast<std::size_t>(bar - 1)], margin_px, figure);
    if (shown || over)
        list->AddRect(ImVec2(figure.x - ui.px(4), figure.y - above - ui.px(4)),
                      ImVec2(figure.right() + ui.px(4), figure.bottom() + ui.px(4)),
                      shown ? dusk::lamp_deep : dusk::paper_rule, ui.px(5), 0, ui.px(2.5F));
    const auto& design = studio.session.design();
    const double z = design::bar_face_z_mm(design, bar);
    const bool near_arms = z < picture::arms_reach_mm || z > design.mould.length_mm - picture::arms_reach_mm;
    ui.text_at(list, shown ? ui.fonts.small_bold : ui.fonts.small,
               ImVec2(figure.x + figure.width / 2, figure.bottom() + ui.px(7)), dusk::ink,
               std::to_string(bar) + (near_arms ? " · end" : ""), 0.5F);
    if (near_arms) ui.help("So near the end of the mould the arms of the wire disturb the pattern.");
}

}  // namespace

void draw_page_loaf(const Studio& studio, const Area& page) {
    keep_face(studio, page);
    if (draw_fault(studio, page)) return;
    Ui& ui = studio.ui;
    const auto& design = studio.session.design();
    const auto bars = static_cast<std::size_t>(std::max(1, design::bar_count(design)));
    const Area inside = inside_page(ui, page);
    const double rise = rise_mm(studio);
    const Rows rows = rows_for(ui, inside, bars, design.mould, rise);
    Table& table = studio.view.shelf.at<Table>();
    const auto key =
        ContentKey().add(static_cast<double>(studio.session.revision())).add(rows.px_per_mm).value();
    table.asked.want(key, studio.session.waker(),
                     [copy = design, library = studio.session.shared_library(), scale = rows.px_per_mm,
                      threads = studio.session.threads()](Progress& progress) {
                         return all_bars(copy, library, threads, scale, progress);
                     });
    const auto answer = table.asked.answer();
    if (!answer) {
        const auto doing = table.asked.doing();
        draw_tag(ui, ImVec2(page.x + page.width / 2, page.y + page.height * 0.4F),
                 doing.stage.empty() ? "cutting the loaf…" : "cutting the loaf… " + doing.stage);
        return;
    }
    if (table.on_card != answer.get()) {
        table.textures.clear();
        for (const auto& image : answer->images) {
            table.textures.push_back(std::make_unique<Texture>());
            table.textures.back()->upload(image);
        }
        table.on_card = answer.get();
    }
    const auto width = static_cast<float>(design.mould.width_mm * rows.px_per_mm);
    const auto height = static_cast<float>(design.mould.fill_mm * rows.px_per_mm);
    const auto above = static_cast<float>(rise * rows.px_per_mm);
    const float cell_w = inside.width / static_cast<float>(rows.columns);
    const float cell_h = inside.height / static_cast<float>(rows.rows);
    for (std::size_t i = 0; i < std::min(bars, table.textures.size()); ++i) {
        const ImVec2 cell = cell_of(i, rows.columns);
        draw_one(studio, table, static_cast<int>(i) + 1,
                 {std::round(inside.x + cell_w * cell.x + (cell_w - width) / 2),
                  std::round(inside.y + cell_h * cell.y + (cell_h - height + above - ui.px(28)) / 2), width,
                  height},
                 above, answer->margin_px);
    }
    if (!table.asked.current())
        draw_tag(ui, ImVec2(page.x + page.width / 2, page.y + ui.px(8)), "the loaf as it is now is coming");
}

}  // namespace foreslice::studio
