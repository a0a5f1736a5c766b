// The sheet of paper in the middle: the layers as poured with their names, and the cut face, large.
#include <algorithm>
#include <cmath>

#include "studio/session/edits.h"
#include "studio/window/actions.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

void refresh_textures(const Studio& studio) {
    const auto face = studio.session.face();
    if (!face) return;
    const std::uint64_t stamp = face->number * 2 + (face->sketch ? 0 : 1);
    if (stamp == studio.view.textures_of) return;
    studio.view.textures_of = stamp;
    studio.view.drawn.upload(face->drawn_bar);
    studio.view.poured.upload(face->poured_bar);
}

// The bar's picture reaches beyond the bar by its shadow.
void draw_bar_image(ImDrawList* list, const Texture& texture, int margin_px, const Area& figure) {
    if (texture.empty()) return;
    const float inner_width = static_cast<float>(texture.width_px() - 2 * margin_px);
    const float inner_height = static_cast<float>(texture.height_px() - 2 * margin_px);
    if (inner_width <= 0 || inner_height <= 0) return;
    const float side = figure.width * static_cast<float>(margin_px) / inner_width;
    const float top = figure.height * static_cast<float>(margin_px) / inner_height;
    list->AddImage(texture.id(), ImVec2(figure.x - side, figure.y - top),
                   ImVec2(figure.right() + side, figure.bottom() + top));
}

// The line under a figure: what it is, how large, and for the face which bar of the loaf it is.
float draw_caption(const Studio& studio, const Area& figure, const char* title) {
    const Ui& ui = studio.ui;
    const float y = figure.bottom() + ui.px(23) - ui.fonts.bold->FontSize / 2;
    ui.text_at(ImGui::GetWindowDrawList(), ui.fonts.bold, ImVec2(figure.x, y), dusk::ink, title);
    return figure.x + ui.text_width(ui.fonts.bold, title);
}

void draw_scale_bar(const Studio& studio, float x, float right, float y, double px_per_mm) {
    const Ui& ui = studio.ui;
    const double room = static_cast<double>(
        std::min(ui.px(130), right - x - ui.px(8) - ui.text_width(ui.fonts.small, "100 mm")));
    double length = 0;
    for (const double candidate : {1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0})
        if (candidate * px_per_mm <= room) length = candidate;
    if (length == 0) return;
    const auto width = static_cast<float>(std::round(length * px_per_mm));
    const std::string words = format_quantity(length, Unit::mm, 0);
    const float tick = ui.px(4), thick = ui.px(1.5F);
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(ImVec2(x, y), ImVec2(x + width, y + thick), dusk::ink);
    list->AddRectFilled(ImVec2(x, y - tick), ImVec2(x + thick, y + tick + thick), dusk::ink);
    list->AddRectFilled(ImVec2(x + width - thick, y - tick), ImVec2(x + width, y + tick + thick), dusk::ink);
    ui.text_at(list, ui.fonts.small, ImVec2(x + width + ui.px(8), y - ui.fonts.small->FontSize / 2),
               dusk::ink, words);
}

// Returns where it begins.
float draw_bar_choice(const Studio& studio, const Area& figure) {
    Ui& ui = studio.ui;
    const int bars = std::max(1, design::bar_count(studio.session.design())), bar = shown_bar(studio);
    const std::string words = "bar " + std::to_string(bar) + " of " + std::to_string(bars);
    const float end = ui.px(32), middle = ui.px(96), y = figure.bottom() + ui.px(9);
    const float x = figure.right() - 2 * end - middle;
    ImGui::SetCursorScreenPos(ImVec2(x, y));
    ImGui::BeginDisabled(bar <= 1);
    if (ui.button("bar:less", "‹", ButtonKind::paper, ImVec2(end, ui.px(28))))
        run(Action::earlier_bar, studio);
    ImGui::EndDisabled();
    ui.text_at(ImGui::GetWindowDrawList(), ui.fonts.small_bold,
               ImVec2(x + end + middle / 2, y + ui.px(14) - ui.fonts.small->FontSize / 2), dusk::ink, words,
               0.5F);
    ui.note_rect("bar", ImVec2(x + end, y), ImVec2(x + end + middle, y + ui.px(28)), words);
    ImGui::SetCursorScreenPos(ImVec2(x + end + middle, y));
    ImGui::BeginDisabled(bar >= bars);
    if (ui.button("bar:more", "›", ButtonKind::paper, ImVec2(end, ui.px(28)))) run(Action::later_bar, studio);
    ImGui::EndDisabled();
    return x;
}

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

// Says in words that the picture is not the last one yet.
void draw_sketch_note(const Studio& studio, const Area& figure) {
    const Ui& ui = studio.ui;
    const std::string words = "sketch · a finer one is coming";
    const float width = ui.text_width(ui.fonts.small_bold, words) + ui.px(20), height = ui.px(24);
    const ImVec2 at(figure.x + (figure.width - width) / 2, figure.y + ui.px(12));
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(at, ImVec2(at.x + width, at.y + height), dusk::rgb(0x141d28, 205), height / 2);
    ui.text_at(list, ui.fonts.small_bold,
               ImVec2(at.x + width / 2, at.y + (height - ui.fonts.small->FontSize) / 2), dusk::chalk, words,
               0.5F);
}

// What the batter under the mouse is, in words.
void draw_face_hover(const DrawnFace& face, const Area& figure) {
    const ImVec2 mouse = ImGui::GetMousePos();
    if (!ImGui::IsWindowHovered() ||
        !ImGui::IsMouseHoveringRect(ImVec2(figure.x, figure.y), ImVec2(figure.right(), figure.bottom())))
        return;
    const auto& coverage = face.drawn.coverage;
    if (!coverage || coverage->width_px == 0) return;
    const auto column =
        static_cast<int>((mouse.x - figure.x) / figure.width * static_cast<float>(coverage->width_px));
    const auto row =
        static_cast<int>((mouse.y - figure.y) / figure.height * static_cast<float>(coverage->height_px));
    if (column < 0 || row < 0 || column >= coverage->width_px || row >= coverage->height_px) return;
    const auto first = (static_cast<std::size_t>(row) * static_cast<std::size_t>(coverage->width_px) +
                        static_cast<std::size_t>(column)) *
                       static_cast<std::size_t>(coverage->portions);
    std::string words;
    for (int wanted = 255; wanted > 25; --wanted)
        for (std::size_t p = 0; p < static_cast<std::size_t>(coverage->portions); ++p)
            if (coverage->share[first + p] == wanted && p < face.order.design.portions.size()) {
                if (!words.empty()) words += "\n";
                words += portion_name(face.order.design.portions[p]);
                if (wanted < 250) words += "  " + format_quantity(wanted / 2.55, Unit::percent, 0);
            }
    if (!words.empty()) ImGui::SetTooltip("%s", words.c_str());
}

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
    if (ImGui::IsItemActivated()) studio.view.portion = portion;
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
                               format_quantity(label.depth_mm, Unit::mm, 1);
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

void draw_layer_labels(const Studio& studio, const Figures& figures) {
    if (!studio.session.fault().empty()) return;
    const auto labels = layer_labels(studio, figures);
    const float room = figures.labels.height / static_cast<float>(std::max<std::size_t>(1, labels.size()));
    const float height = std::min(studio.ui.px(38), room);
    const std::uint64_t before = studio.session.revision();
    for (std::size_t i = 0; i < labels.size() && studio.session.revision() == before; ++i)
        draw_layer_label(studio, figures, labels, i, height);
}

void draw_problem(const Studio& studio, const Area& inside, const std::string& sentence) {
    const Ui& ui = studio.ui;
    const float width = std::min(inside.width * 0.7F, ui.px(460));
    const float x = inside.x + (inside.width - width) / 2, y = inside.y + inside.height * 0.36F;
    ImGui::SetCursorScreenPos(ImVec2(x, y));
    ImGui::BeginGroup();
    ImGui::PushStyleColor(ImGuiCol_Text, dusk::ink);
    ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + width);
    ImGui::PushFont(ui.fonts.bold);
    ImGui::TextUnformatted("This cannot be made as it stands");
    ImGui::PopFont();
    ImGui::TextUnformatted(sentence.c_str());
    ImGui::PopTextWrapPos();
    ImGui::PopStyleColor();
    ImGui::EndGroup();
}

void draw_paper(const Ui& ui, const Area& area) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    // Only its rim: filling the whole sheet several times over would cost more than everything else on it.
    for (int i = 1; i <= 5; ++i) {
        const float reach = ui.px(1.5F) * static_cast<float>(i);
        list->AddRect(ImVec2(area.x - reach, area.y - reach + ui.px(3)),
                      ImVec2(area.right() + reach, area.bottom() + reach + ui.px(3)),
                      dusk::rgb(0x000000, static_cast<unsigned>(75 - 14 * i)), ui.px(6) + reach, 0, ui.px(2));
    }
    list->AddRectFilled(ImVec2(area.x, area.y), ImVec2(area.right(), area.bottom()), dusk::paper, ui.px(6));
}

// Everything on the paper that is not a picture.
void draw_around(const Studio& studio, const Area& inside, const Figures& figures) {
    Ui& ui = studio.ui;
    ui.note_rect("face", ImVec2(figures.face.x, figures.face.y),
                 ImVec2(figures.face.right(), figures.face.bottom()));
    ui.note_rect("poured", ImVec2(figures.poured.x, figures.poured.y),
                 ImVec2(figures.poured.right(), figures.poured.bottom()));
    draw_layer_labels(studio, figures);
    if (studio.view.step == Step::wire) draw_wire_path(studio, figures.poured, figures.poured_px_per_mm);
    draw_caption(studio, figures.poured, "As poured");
    const float after = draw_caption(studio, figures.face, "Cut face");
    const float choice = draw_bar_choice(studio, figures.face);
    draw_scale_bar(studio, after + ui.px(24), choice - ui.px(12), figures.face.bottom() + ui.px(22),
                   figures.px_per_mm);
    draw_maker_notes(studio, inside, figures);
    if (studio.session.face_status().sketch) draw_sketch_note(studio, figures.face);
}

}  // namespace

void draw_sheet(const Studio& studio, const Area& area) {
    Ui& ui = studio.ui;
    draw_paper(ui, area);
    refresh_textures(studio);

    const auto& design = studio.session.design();
    const bool makeable = studio.session.fault().empty();
    const auto face = studio.session.face();
    const double width_mm = makeable ? design.mould.width_mm : face ? face->order.design.mould.width_mm : 65;
    const double fill_mm = makeable ? design.mould.fill_mm : face ? face->order.design.mould.fill_mm : 80;
    const Area inside{area.x + ui.px(22), area.y + ui.px(14), area.width - ui.px(44),
                      area.height - ui.px(62)};
    const Figures figures = sheet_figures(inside, width_mm, fill_mm, ui.scale);
    studio.session.show(shown_bar(studio), std::min(figures.px_per_mm, 12.0));
    if (!face) {
        if (!makeable) draw_problem(studio, inside, studio.session.fault());
        return;
    }
    ImDrawList* list = ImGui::GetWindowDrawList();
    draw_bar_image(list, studio.view.poured, face->margin_px, figures.poured);
    draw_bar_image(list, studio.view.drawn, face->margin_px, figures.face);
    if (!makeable) {
        // The old picture stays, but nobody should take it for the design as it stands.
        list->AddRectFilled(ImVec2(area.x, area.y), ImVec2(area.right(), area.bottom()),
                            dusk::rgb(0xf1ebde, 225), ui.px(6));
        draw_problem(studio, inside, studio.session.fault());
        return;
    }
    draw_around(studio, inside, figures);
    draw_face_hover(*face, figures.face);
}

}  // namespace foreslice::studio
