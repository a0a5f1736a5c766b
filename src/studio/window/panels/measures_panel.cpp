// The measures of the face that is shown, taken on the worker that drew it.
#include <algorithm>
#include <cmath>

#include "picture/measures.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

struct MeasuresDesk {
    int drawn_in_frame = -1;
};

/// A figure with its name; the mouse over it says what it means.
void draw_figure(const Studio& studio, const char* name, const char* label, const std::string& value,
                 const char* help) {
    Ui& ui = studio.ui;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(26);
    ImGui::InvisibleButton(name, ImVec2(width, height));
    ui.note(name, value);
    ui.help(help);
    ImDrawList* list = ImGui::GetWindowDrawList();
    ui.text_at(list, ui.fonts.body, ImVec2(at.x, at.y + ui.px(3)), dusk::fog, label);
    ui.text_at(list, ui.fonts.bold, ImVec2(at.x + width, at.y + ui.px(3)), dusk::chalk, value, 1);
    list->AddLine(ImVec2(at.x, at.y + height), ImVec2(at.x + width, at.y + height), dusk::quay_edge);
}

/// A portion: poured above, shown on this face below, as bars over the same length.
void draw_share(const Studio& studio, const design::Design& design, std::size_t index,
                const picture::FaceMeasures::OfPortion& share, double most_percent) {
    Ui& ui = studio.ui;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(38);
    const std::string name = "measure:share:" + design.portions[index].id;
    ImGui::InvisibleButton(name.c_str(), ImVec2(width, height));
    const std::string words = format_quantity(share.face_percent, Unit::percent, 1) + " of the face, " +
                              format_quantity(share.poured_percent, Unit::percent, 1) + " poured";
    ui.note(name, words);
    ui.help("The upper line is what was poured of it, the lower one what this face shows of it.");
    ImDrawList* list = ImGui::GetWindowDrawList();
    const auto colour = colour_of_portion(studio.session, index);
    list->AddRectFilled(ImVec2(at.x, at.y + ui.px(3)), ImVec2(at.x + ui.px(22), at.y + ui.px(34)),
                        IM_COL32(colour.r, colour.g, colour.b, 255), ui.px(3));
    const float x = at.x + ui.px(30), room = width - ui.px(30);
    ui.text_at(list, ui.fonts.small_bold, ImVec2(x, at.y), dusk::chalk,
               ui.fitted(ui.fonts.small_bold, portion_name(design.portions[index]), room * 0.42F));
    ui.text_at(list, ui.fonts.small, ImVec2(at.x + width, at.y), dusk::fog, words, 1);
    const auto length = [&](double percent) {
        return room * static_cast<float>(percent / std::max(most_percent, 1.0));
    };
    const float upper = at.y + ui.px(20), lower = at.y + ui.px(27);
    list->AddRectFilled(ImVec2(x, upper), ImVec2(x + length(share.poured_percent), upper + ui.px(4)),
                        dusk::mist, ui.px(2));
    list->AddRectFilled(ImVec2(x, lower), ImVec2(x + length(share.face_percent), lower + ui.px(6)),
                        dusk::lamp, ui.px(2));
}

void draw_shares(const Studio& studio, const MeasuredFace& measured) {
    const auto& portions = measured.measures.portions;
    double most = 0;
    for (const auto& portion : portions)
        most = std::max({most, portion.face_percent, portion.poured_percent});
    const auto& design = measured.order.design;
    for (std::size_t i = 0; i < std::min(portions.size(), design.portions.size()); ++i)
        draw_share(studio, design, i, portions[i], most);
}

std::string least_contrast_words(const MeasuredFace& measured) {
    const auto& m = measured.measures;
    const picture::FaceMeasures::Boundary* least = nullptr;
    for (const auto& boundary : m.boundaries)
        if (boundary.length_mm >= picture::least_boundary_mm && (!least || boundary.de00 < least->de00))
            least = &boundary;
    if (least == nullptr) return "no boundaries";
    const auto& portions = measured.order.design.portions;
    return format_number(least->de00, 1) + "  " +
           portion_name(portions[static_cast<std::size_t>(least->one)]) + " / " +
           portion_name(portions[static_cast<std::size_t>(least->other)]);
}

void draw_figures(const Studio& studio, const MeasuredFace& measured) {
    const auto& m = measured.measures;
    draw_figure(
        studio, "measure:muddy", "Muddy share", format_quantity(m.muddy_percent, Unit::percent, 1),
        "How much of the face has bands thinner than an eye tells apart at arm's length (one minute of "
        "arc at 600 mm, 0.17 mm).");
    draw_figure(
        studio, "measure:bands", "Bands, middling and finest tenth",
        format_number(m.median_thickness_mm, 1) + " and " + format_quantity(m.fine_thickness_mm, Unit::mm, 2),
        "Half of the face has bands thinner than the first figure, a tenth thinner than the second.");
    draw_figure(studio, "measure:feathers", "Feathers", std::to_string(m.feathers),
                "Pieces that reach at least 4 mm away from where their portion was poured.");
    draw_figure(studio, "measure:symmetry", "Symmetry, left and right",
                format_quantity(100 * m.symmetry, Unit::percent, 0),
                "How much of the face shows the same portion at the mirrored place.");
    draw_figure(studio, "measure:contrast", "Contrast at the boundaries",
                "dE00 " + format_number(m.mean_contrast_de00, 1),
                "The mean colour difference of neighbours, by the length of their boundaries.");
    draw_figure(studio, "measure:least-contrast", "Least contrast", least_contrast_words(measured),
                "The two neighbours that differ least; below 6 they read as one band.");
}

}  // namespace

void draw_measures(const Studio& studio) {
    Ui& ui = studio.ui;
    ui.section("Measures of this face");
    studio.view.shelf.at<MeasuresDesk>().drawn_in_frame = ImGui::GetFrameCount();
    bool current = false;
    const auto measured = studio.session.measures(current);
    if (!measured) {
        ui.quiet_text("They are taken as soon as the fine face is there.");
        return;
    }
    ui.quiet_text(current ? "Shares of the portions, poured and on this face:"
                          : "Of the face before the last change; the new ones are on their way.");
    ui.note("measures", current ? "current" : "older");
    draw_shares(studio, *measured);
    draw_figures(studio, *measured);
}

void settle_measures(const Studio& studio) {
    const int drawn = studio.view.shelf.at<MeasuresDesk>().drawn_in_frame;
    studio.session.want_measures(drawn >= 0 && ImGui::GetFrameCount() - drawn < 3);
}

}  // namespace foreslice::studio
