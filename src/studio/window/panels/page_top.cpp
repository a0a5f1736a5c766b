// The whole loaf from above: what was done to its top, where it will be cut, and the knife.
#include <algorithm>
#include <cmath>

#include "design/design_file.h"
#include "foundation/content_key.h"
#include "foundation/worker_pool.h"
#include "picture/from_above.h"
#include "picture/loaf.h"
#include "studio/session/asked.h"
#include "studio/window/actions.h"
#include "studio/window/panels.h"
#include "studio/window/panels/figure.h"

namespace foreslice::studio {
namespace {

constexpr flow::Resolution coarse{48, 4, 0.2};

struct FromAbove {
    picture::Image image;
};

struct TopTable {
    Asked<FromAbove> asked;
    Texture texture;
    std::shared_ptr<const FromAbove> on_card;
    std::uint64_t revision = 0, design_key = 0;
};

/// The loaf on the page, lying along it.
struct Lying {
    Area area;
    double px_per_mm = 1;
    float x_of(double z_mm) const { return area.x + static_cast<float>(z_mm * px_per_mm); }
};

Lying lying_in(const Ui& ui, const Area& inside, const design::Mould& mould) {
    const float above = ui.px(34), below = ui.px(52);  // numbers of the bars; caption
    Lying out;
    out.px_per_mm = std::min(static_cast<double>(inside.width) / mould.length_mm,
                             static_cast<double>(inside.height - above - below) / mould.width_mm);
    out.px_per_mm = std::clamp(std::floor(out.px_per_mm * 8) / 8, 0.5, picture::most_above_px_per_mm);
    const auto width = static_cast<float>(mould.length_mm * out.px_per_mm);
    const auto height = static_cast<float>(mould.width_mm * out.px_per_mm);
    out.area = {std::round(inside.x + (inside.width - width) / 2),
                std::round(inside.y + above + (inside.height - above - below - height) / 2), width, height};
    return out;
}

void want_top(const Studio& studio, TopTable& table, double px_per_mm) {
    const Session& session = studio.session;
    if (table.revision != session.revision()) {
        table.revision = session.revision();
        table.design_key = ContentKey().add(design::to_json(session.design())).value();
    }
    const auto key =
        ContentKey().add(table.design_key).add(px_per_mm).add(session.colour_library().key()).value();
    table.asked.want(
        key, session.waker(),
        [design = session.design(), library = session.shared_library(), px_per_mm,
         threads = session.threads()](Progress& progress) {
            WorkerPool pool(threads);
            picture::FaceMaker maker(pool, library);
            return FromAbove{picture::loaf_from_above(maker, design, px_per_mm, coarse, progress)};
        });
}

// Before it is there: the colour of what was poured last, lying still.
void draw_ground(const Studio& studio, const Lying& loaf) {
    const auto& design = studio.session.design();
    ImDrawList* list = ImGui::GetWindowDrawList();
    const auto portion = design.pours.empty() ? 0 : portion_index(design, design.pours.back().portion);
    const auto colour = colour_of_portion(studio.session, portion);
    list->AddRectFilled(ImVec2(loaf.area.x, loaf.area.y), ImVec2(loaf.area.right(), loaf.area.bottom()),
                        IM_COL32(colour.r, colour.g, colour.b, 150));
}

void draw_shadow(const Ui& ui, const Lying& loaf) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    for (int i = 1; i <= 6; ++i) {
        const float reach = ui.px(1.2F) * static_cast<float>(i);
        list->AddRect(ImVec2(loaf.area.x - reach + ui.px(1), loaf.area.y - reach + ui.px(3)),
                      ImVec2(loaf.area.right() + reach + ui.px(1), loaf.area.bottom() + reach + ui.px(3)),
                      dusk::rgb(0x3a3226, static_cast<unsigned>(44 - 7 * i)), reach, 0, ui.px(1.5F));
    }
}

// A cut: dark beside light, so that it shows on any colour.
void draw_cut(const Ui& ui, const Lying& loaf, double z_mm) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float x = std::round(loaf.x_of(z_mm)), top = loaf.area.y - ui.px(5),
                bottom = loaf.area.bottom() + ui.px(5);
    list->AddLine(ImVec2(x, top), ImVec2(x, bottom), dusk::rgb(0xfbf7ee, 150), ui.px(3));
    list->AddLine(ImVec2(x, top), ImVec2(x, bottom), dusk::rgb(0x26303b, 170), ui.px(1));
}

void draw_bars(const Studio& studio, const Lying& loaf) {
    Ui& ui = studio.ui;
    const auto& design = studio.session.design();
    ImDrawList* list = ImGui::GetWindowDrawList();
    const int bars = design::bar_count(design), shown = shown_bar(studio);
    const double thick = design.cut.bar_thickness_mm;
    const auto veil = [&](double from, double to) {
        if (to - from < 0.05) return;
        list->AddRectFilled(ImVec2(loaf.x_of(from), loaf.area.y), ImVec2(loaf.x_of(to), loaf.area.bottom()),
                            (dusk::paper & 0x00ffffffU) | (165U << 24U));
        ui.text_at(list, ui.fonts.small, ImVec2(loaf.x_of((from + to) / 2), loaf.area.bottom() + ui.px(8)),
                   dusk::ink_soft, loaf.x_of(to) - loaf.x_of(from) > ui.px(46) ? "trimmed" : "", 0.5F);
    };
    veil(0, design.cut.trim_mm);
    veil(design.cut.trim_mm + bars * thick, design.mould.length_mm);
    for (int bar = 1; bar <= bars + 1; ++bar) draw_cut(ui, loaf, design.cut.trim_mm + (bar - 1) * thick);
    for (int bar = 1; bar <= bars; ++bar) {
        const double z = design::bar_face_z_mm(design, bar);
        const float middle = loaf.x_of(z + thick / 2), y = loaf.area.y - ui.px(26);
        const std::string words = std::to_string(bar);
        if (bar == shown) {
            const float half = std::max(ui.px(13), ui.text_width(ui.fonts.bold, words) / 2 + ui.px(6));
            list->AddRectFilled(ImVec2(middle - half, y - ui.px(2)), ImVec2(middle + half, y + ui.px(20)),
                                dusk::lamp, ui.px(11));
        }
        ui.text_at(list, bar == shown ? ui.fonts.bold : ui.fonts.small, ImVec2(middle, y + ui.px(1)),
                   bar == shown ? dusk::on_lamp : dusk::ink, words, 0.5F);
        ui.note_rect("top-bar:" + words, ImVec2(loaf.x_of(z), loaf.area.y),
                     ImVec2(loaf.x_of(z + thick), loaf.area.bottom()), bar == shown ? "shown" : "");
    }
}

void slide_knife(const Studio& studio, const Lying& loaf) {
    Ui& ui = studio.ui;
    const float reach = ui.px(30);
    ImGui::SetCursorScreenPos(ImVec2(loaf.area.x, loaf.area.y - reach));
    ImGui::InvisibleButton("top-loaf", ImVec2(loaf.area.width, loaf.area.height + reach));
    ui.note("top-loaf", ui.shown(shown_z_mm(studio), Unit::mm, 1));
    const bool held = ImGui::IsItemActive(), over = ImGui::IsItemHovered();
    if (held || over) ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeEW);
    if (held)
        put_knife(studio,
                  std::clamp(static_cast<double>(ImGui::GetMousePos().x - loaf.area.x) / loaf.px_per_mm, 0.0,
                             studio.session.design().mould.length_mm));
    const float x = loaf.x_of(shown_z_mm(studio));
    const float top = loaf.area.y - ui.px(8), bottom = loaf.area.bottom() + ui.px(12);
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddLine(ImVec2(x, top), ImVec2(x, bottom), dusk::paper, ui.px(7));
    list->AddLine(ImVec2(x, top), ImVec2(x, bottom), held || over ? dusk::lamp_deep : dusk::ink, ui.px(3));
    list->AddTriangleFilled(ImVec2(x - ui.px(8), bottom + ui.px(9)), ImVec2(x + ui.px(8), bottom + ui.px(9)),
                            ImVec2(x, bottom - ui.px(3)), held || over ? dusk::lamp_deep : dusk::ink);
    ui.note_rect("top-knife", ImVec2(x - ui.px(12), top), ImVec2(x + ui.px(12), bottom),
                 ui.shown(shown_z_mm(studio), Unit::mm, 1));
}

void draw_words(const Studio& studio, const Lying& loaf) {
    const Ui& ui = studio.ui;
    Area figure = loaf.area;
    figure.height += ui.px(18);
    const float after = draw_caption(studio, figure, "From above");
    draw_scale_bar(studio, after + ui.px(24), loaf.area.right() - ui.px(300), figure.bottom() + ui.px(21),
                   loaf.px_per_mm);
    ui.text_at(ImGui::GetWindowDrawList(), ui.fonts.small,
               ImVec2(loaf.area.right(), figure.bottom() + ui.px(22) - ui.fonts.small->FontSize / 2),
               dusk::ink_soft, "slide the knife; the face it opens is on the other pages", 1);
}

}  // namespace

void draw_page_top(const Studio& studio, const Area& page) {
    keep_face(studio, page);
    if (draw_fault(studio, page)) return;
    Ui& ui = studio.ui;
    TopTable& table = studio.view.shelf.at<TopTable>();
    const Lying loaf = lying_in(ui, inside_page(ui, page), studio.session.design().mould);
    want_top(studio, table, loaf.px_per_mm);
    const auto answer = table.asked.answer();
    if (answer && table.on_card != answer) {
        table.texture.upload(answer->image);
        table.on_card = answer;
    }
    draw_shadow(ui, loaf);
    if (table.on_card)
        ImGui::GetWindowDrawList()->AddImage(table.texture.id(), ImVec2(loaf.area.x, loaf.area.y),
                                             ImVec2(loaf.area.right(), loaf.area.bottom()));
    else
        draw_ground(studio, loaf);
    ui.note_rect("top-picture", ImVec2(loaf.area.x, loaf.area.y),
                 ImVec2(loaf.area.right(), loaf.area.bottom()), table.asked.current() ? "current" : "older");
    draw_bars(studio, loaf);
    slide_knife(studio, loaf);
    draw_words(studio, loaf);
    const std::string problem = table.asked.problem();
    const auto doing = table.asked.doing();
    if (!problem.empty())
        draw_tag(ui, ImVec2(page.x + page.width / 2, page.y + ui.px(8)), problem);
    else if (!table.asked.current())
        draw_tag(ui, ImVec2(page.x + page.width / 2, page.y + ui.px(8)),
                 doing.stage.empty() ? "looking from above…" : doing.stage + "…");
}

}  // namespace foreslice::studio
