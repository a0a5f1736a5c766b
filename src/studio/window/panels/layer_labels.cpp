// The names of the layers beside the poured figure; dragging one changes the order of the pours.
#include <algorithm>
#include <cmath>

#include "studio/session/edits.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

struct LayerLabel {
    std::size_t pour = 0;
    float wanted_y = 0, y = 0;
    double share_percent = 0, depth_mm = 0;
};

// Labels from the lowest layer up, at the heights of a level pour.
std::vector<LayerLabel> layer_labels(const Studio& studio, const Figures& figures) {
    const auto& design = studio.session.design();
    const auto areas = design::pour_areas_mm2(design);
    const double whole = design.mould.width_mm * design.mould.fill_mm;
    std::vector<LayerLabel> labels;
    std::vector<float> wanted;
    double below = 0;
    for (std::size_t i = 0; i < areas.size(); ++i) {
        const double middle = (below + areas[i] / 2) / whole;
        below += areas[i];
        LayerLabel label;
        label.pour = i;
        label.wanted_y = figures.poured.bottom() - static_cast<float>(middle) * figures.poured.height;
        label.share_percent = 100 * areas[i] / whole;
        label.depth_mm = areas[i] / design.mould.width_mm;
        labels.push_back(label);
        wanted.push_back(label.wanted_y);
    }
    const auto placed = spread_labels(wanted, studio.ui.px(38), figures.labels.y, figures.labels.bottom());
    for (std::size_t i = 0; i < labels.size(); ++i) labels[i].y = placed[i];
    return labels;
}

void drag_layer(const Studio& studio, const std::vector<LayerLabel>& labels, std::size_t index) {
    auto& dragged = studio.view.dragged_pour;
    if (ImGui::IsItemActive() && !dragged) dragged = labels[index].pour;
    if (!ImGui::IsMouseDown(0) && dragged) {
        dragged.reset();
        studio.session.close_step();
    }
    if (!dragged || *dragged != labels[index].pour || !ImGui::IsMouseDragging(0)) return;
    const float mouse = ImGui::GetMousePos().y;
    std::size_t target = index;
    while (target + 1 < labels.size() && mouse < labels[target + 1].y) ++target;
    while (target > 0 && mouse > labels[target - 1].y) --target;
    if (target == index) return;
    studio.session.edit(with_pour_moved(studio.session.design(), labels[index].pour, labels[target].pour),
                        "change the order of the layers", "layer-order");
    dragged = labels[target].pour;
}

// The item that is held changes its place under the hand, so all labels share one invisible button each by
// place; which pour is being dragged is remembered in the view.
void draw_layer_label(const Studio& studio, const Figures& figures, const std::vector<LayerLabel>& labels,
                      std::size_t index, float height) {
    Ui& ui = studio.ui;
    const LayerLabel& label = labels[index];
    const auto& design = studio.session.design();
    const std::size_t portion = portion_index(design, design.pours[label.pour].portion);
    if (portion >= design.portions.size()) return;
    const Area area{figures.labels.x, label.y - height / 2, figures.labels.width - ui.px(14), height};
    ImGui::SetCursorScreenPos(ImVec2(area.x, area.y));
    const std::string name = "layer:" + std::to_string(label.pour);
    ImGui::InvisibleButton(name.c_str(), ImVec2(area.width, height));
    const bool over = ImGui::IsItemHovered(), held = studio.view.dragged_pour == label.pour;
    if (ImGui::IsItemActivated()) {
        studio.view.portion = portion;
        studio.view.pour = label.pour;
    }
    ui.note(name, portion_name(design.portions[portion]));
    ui.help("Drag up or down to change the order of the layers.");
    if (over || held) ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeNS);
    ImDrawList* list = ImGui::GetWindowDrawList();
    if (over || held)
        list->AddRectFilled(ImVec2(area.x, area.y + ui.px(1)), ImVec2(area.right(), area.bottom() - ui.px(1)),
                            held ? dusk::rgb(0xe6a94f, 120) : dusk::paper_shade, ui.px(5));
    const float right = area.right() - ui.px(6);
    const bool two_lines = height >= ui.px(34);
    const float name_y = two_lines ? label.y - ui.px(17) : label.y - ui.fonts.small->FontSize / 2;
    const std::string amount = format_quantity(label.share_percent, Unit::percent, 1) + " · " +
                               ui.shown(label.depth_mm, Unit::mm, 1);
    ui.text_at(list, ui.fonts.small_bold, ImVec2(right, name_y), dusk::ink,
               ui.fitted(ui.fonts.small_bold, portion_name(design.portions[portion]), area.width - ui.px(10)),
               1);
    if (two_lines) ui.text_at(list, ui.fonts.small, ImVec2(right, label.y), dusk::ink_soft, amount, 1);
    const ImVec2 from(area.right() - ui.px(1), label.y), to(figures.poured.x - ui.px(3), label.wanted_y);
    list->AddLine(from, ImVec2(from.x + ui.px(5), from.y), dusk::ink_soft, ui.px(1));
    list->AddLine(ImVec2(from.x + ui.px(5), from.y), to, dusk::ink_soft, ui.px(1));
    list->AddCircleFilled(ImVec2(figures.poured.x, label.wanted_y), ui.px(2.5F), dusk::ink, 12);
    drag_layer(studio, labels, index);
}

}  // namespace

void draw_layer_labels(const Studio& studio, const Figures& figures) {
    if (!studio.session.fault().empty()) return;
    const auto labels = layer_labels(studio, figures);
    const float room = figures.labels.height / static_cast<float>(std::max<std::size_t>(1, labels.size()));
    const float height = std::min(studio.ui.px(38), room);
    const std::uint64_t before = studio.session.revision();
    for (std::size_t i = 0; i < labels.size() && studio.session.revision() == before; ++i)
        draw_layer_label(studio, figures, labels, i, height);
}

}  // namespace foreslice::studio
