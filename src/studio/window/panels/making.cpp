#include "studio/window/panels/making.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <memory>
#include <string>
#include <vector>

#include "foundation/content_key.h"
#include "picture/caption.h"
#include "picture/so_far.h"
#include "studio/session/making.h"
#include "studio/window/actions.h"
#include "studio/window/panels.h"
#include "studio/window/panels/figure.h"

namespace foreslice::studio {
namespace {

// How long each step plays, seconds.
constexpr std::array<float, 7> step_seconds{1.0F, 1.4F, 3.6F, 4.5F, 0.8F, 1.4F, 1.8F};
constexpr float whole = static_cast<float>(all_steps.size());

struct Reel {
    std::uint64_t colour_library = 0;  ///< key of the one it is made with
    std::unique_ptr<Making> making;
    bool shown = false, playing = false;
    float at = 0;
    std::vector<std::unique_ptr<Texture>> poured, drawn, cured;
    std::uint64_t key = 0;
    Step step_before = Step::tint;  ///< whose controls come back at the end
};

void upload(std::vector<std::unique_ptr<Texture>>& textures, const Making::Frames& frames) {
    if (textures.size() > frames.size()) textures.clear();
    while (textures.size() < frames.size()) {
        auto texture = std::make_unique<Texture>();
        texture->upload(frames[textures.size()]->image);
        textures.push_back(std::move(texture));
    }
}

void keep_making(const Studio& studio, Reel& reel) {
    const auto& session = studio.session;
    if (!session.fault().empty()) return;
    if (!reel.making || reel.colour_library != session.colour_library().key()) {
        reel.colour_library = session.colour_library().key();
        reel.making = std::make_unique<Making>(session.shared_library(), session.threads(), session.waker());
    }
    const auto key =
        ContentKey().add(static_cast<double>(session.revision())).add(shown_z_mm(studio)).value();
    reel.making->want(key, session.design(), shown_z_mm(studio));
    if (reel.key != key) {
        reel.key = key;
        reel.poured.clear();
        reel.drawn.clear();
        reel.cured.clear();
    }
    upload(reel.poured, reel.making->poured());
    upload(reel.drawn, reel.making->drawn());
    upload(reel.cured, reel.making->cured());
}

void advance(const Studio& studio, Reel& reel) {
    if (!reel.playing) return;
    studio.view.step = all_steps[std::min(static_cast<std::size_t>(reel.at), all_steps.size() - 1)];
    const auto step = std::min(static_cast<std::size_t>(reel.at), all_steps.size() - 1);
    // Waits at the edge of what is drawn so far.
    if (reel.making && step == 2 && reel.poured.empty()) return;
    reel.at += ImGui::GetIO().DeltaTime / step_seconds[step];
    if (reel.at < whole) return;
    reel.at = whole;
    reel.playing = reel.shown = false;
    studio.view.step = reel.step_before;
    studio.view.first_start = false;
}

struct Stage {
    const Studio& studio;
    Figure figure;
    ImDrawList* list;
    Reel& reel;
};

void draw_mould(const Stage& stage) {
    const Ui& ui = stage.studio.ui;
    const auto& design = stage.studio.session.design();
    const float wall = ui.px(5), top = stage.figure.screen_from_mould({0, design.mould.height_mm}).y;
    const ImVec2 min(stage.figure.area.x - wall / 2, std::max(top, stage.figure.area.y - ui.px(30)));
    const ImVec2 max(stage.figure.area.right() + wall / 2, stage.figure.area.bottom() + wall / 2);
    const ImVec2 points[] = {min, ImVec2(min.x, max.y), max, ImVec2(max.x, min.y)};
    stage.list->AddPolyline(points, 4, dusk::rgb(0x8a7a5e), 0, wall);
}

// As high as the picture is: before a top is spooned on, and once it is worked, that is not the mould's
// level.
void draw_frame(const Stage& stage, const Texture& texture, float share_shown = 1, float alpha = 1) {
    if (texture.empty()) return;
    const Area& area = stage.figure.area;
    const float height =
        area.width * static_cast<float>(texture.height_px()) / static_cast<float>(texture.width_px());
    const float shown = height * share_shown;
    stage.list->AddImage(texture.id(), ImVec2(area.x, area.bottom() - shown),
                         ImVec2(area.right(), area.bottom()), ImVec2(0, 1 - share_shown), ImVec2(1, 1),
                         IM_COL32(255, 255, 255, static_cast<int>(255 * alpha)));
}

std::string portion_of_pour(const design::Design& design, std::size_t pour) {
    const std::size_t portion = portion_index(design, design.pours[pour].portion);
    return portion < design.portions.size() ? portion_name(design.portions[portion]) : "";
}

std::string show_batter(const Stage& stage, float share) {
    const auto& design = stage.studio.session.design();
    const Ui& ui = stage.studio.ui;
    draw_mould(stage);
    const float y = stage.figure.screen_from_mould({0, design.mould.fill_mm}).y;
    const Area& area = stage.figure.area;
    const float to = area.x + area.width * std::min(1.0F, 2 * share);
    for (float x = area.x; x < to; x += ui.px(10))
        stage.list->AddLine(ImVec2(x, y), ImVec2(std::min(x + ui.px(5), to), y), dusk::ink_soft, ui.px(1.5F));
    return "The mould, " + ui.shown(design.mould.width_mm, Unit::mm, 1) + " wide, filled to " +
           ui.shown(design.mould.fill_mm, Unit::mm, 1);
}

void draw_jug(const Stage& stage, ImVec2 foot, float width, float height, colour::EncodedSrgb colour,
              float full) {
    const Ui& ui = stage.studio.ui;
    const ImVec2 min(foot.x - width / 2, foot.y - height), max(foot.x + width / 2, foot.y);
    const float level = max.y - (height - ui.px(6)) * full;
    stage.list->AddRectFilled(ImVec2(min.x, level), max, IM_COL32(colour.r, colour.g, colour.b, 255),
                              ui.px(5), ImDrawFlags_RoundCornersBottom);
    const ImVec2 outline[] = {ImVec2(min.x - width * 0.1F, min.y - ui.px(3)), min, ImVec2(min.x, max.y), max,
                              ImVec2(max.x, min.y)};
    stage.list->AddPolyline(outline, 5, dusk::ink_soft, 0, ui.px(width < ui.px(24) ? 1 : 2));
}

std::string show_jugs(const Stage& stage, float share, bool small) {
    const auto& design = stage.studio.session.design();
    const Area& area = stage.figure.area;
    const std::size_t count = design.portions.size();
    const std::size_t columns = std::min<std::size_t>(count, 4), rows = (count + columns - 1) / columns;
    double most = 1;
    for (const auto& portion : design.portions) most = std::max(most, portion.share_percent);
    for (std::size_t i = 0; i < count; ++i) {
        const ImVec2 cell = cell_of(i, columns);
        const float cell_w = area.width / static_cast<float>(columns);
        const float cell_h = area.height / static_cast<float>(rows);
        const ImVec2 foot(area.x + cell_w * (cell.x + 0.5F),
                          area.y + cell_h * (cell.y + 1) - (small ? 1 : stage.studio.ui.px(34)));
        const float arrival =
            std::clamp(share * static_cast<float>(count + 1) - static_cast<float>(i), 0.0F, 1.0F);
        const auto full =
            small ? 1.0F : static_cast<float>(design.portions[i].share_percent / most) * arrival;
        draw_jug(stage, foot, cell_w * 0.62F, cell_h * 0.72F, colour_of_portion(stage.studio.session, i),
                 full);
        if (small) continue;
        const Ui& ui = stage.studio.ui;
        ui.text_at(stage.list, ui.fonts.small, ImVec2(foot.x, foot.y + stage.studio.ui.px(6)), dusk::ink,
                   ui.fitted(ui.fonts.small, portion_name(design.portions[i]), cell_w - ui.px(6)), 0.5F);
    }
    return "The batter, split into " + std::to_string(count) + (count == 1 ? " jug" : " jugs") +
           " and tinted";
}

void draw_stream(const Stage& stage, std::size_t pour, double level_mm) {
    const auto& design = stage.studio.session.design();
    const Ui& ui = stage.studio.ui;
    const auto& one = design.pours[pour];
    auto places = one.fall.at_mm;
    if (places.empty()) places.push_back(design.mould.width_mm / 2);
    if (one.manner == design::PourManner::down_the_wall)
        places = {one.wall.side == design::Side::left ? 2.0 : design.mould.width_mm - 2};
    const auto colour = colour_of_portion(stage.studio.session, portion_index(design, one.portion));
    for (const double x : places) {
        const ImVec2 foot = stage.figure.screen_from_mould({x, level_mm});
        stage.list->AddLine(ImVec2(foot.x, stage.figure.area.y - ui.px(40)), foot,
                            IM_COL32(colour.r, colour.g, colour.b, 255), ui.px(6));
    }
}

std::string show_pours(const Stage& stage, float share) {
    const auto& design = stage.studio.session.design();
    const auto frames = stage.reel.making ? stage.reel.making->poured() : Making::Frames{};
    draw_mould(stage);
    std::size_t groups = 0;
    for (std::size_t i = 0; i < design.pours.size(); i = design::end_of_group(design, i)) ++groups;
    if (groups == 0) return "Nothing is poured";
    const float at = share * static_cast<float>(groups);
    const auto done = std::min(static_cast<std::size_t>(at), groups - 1);
    const float part = std::clamp((at - static_cast<float>(done)) * 1.25F, 0.0F, 1.0F);
    const auto there = std::min({frames.size(), stage.reel.poured.size(), done + 1});
    if (there == 0) return "Pouring…";
    double below = 0;
    if (done > 0) {  // on what was poured before; frames of an edit just made may be far behind
        const auto last = std::min(there, done) - 1;
        below = frames[last]->fill_mm;
        draw_frame(stage, *stage.reel.poured[last]);
    }
    if (there == done + 1) {
        const auto& now = *frames[done];
        const double level = below + (now.fill_mm - below) * static_cast<double>(part);
        const std::size_t pour = now.pours - 1;
        if (part < 1) draw_stream(stage, pour, level);
        draw_frame(stage, *stage.reel.poured[done], static_cast<float>(level / now.fill_mm));
        return "Pour " + std::to_string(now.pours) + " of " + std::to_string(design.pours.size()) + ": " +
               portion_of_pour(design, pour);
    }
    return "Pouring…";
}

std::string show_wire(const Stage& stage, float share) {
    const auto& design = stage.studio.session.design();
    draw_mould(stage);
    const auto strokes = design::flow_strokes_of(design);
    const auto poured = stage.reel.poured.size();
    if (strokes.empty()) {
        if (poured > 0) draw_frame(stage, *stage.reel.poured.back());
        return "No wire is drawn";
    }
    const auto frame = static_cast<std::size_t>(share * static_cast<float>(Making::wire_frames));
    const auto there = std::min(frame, stage.reel.drawn.size());
    if (there > 0)
        draw_frame(stage, *stage.reel.drawn[there - 1]);
    else if (poured > 0)
        draw_frame(stage, *stage.reel.poured.back());
    const double way = static_cast<double>(there) / Making::wire_frames;
    const auto begun = picture::strokes_so_far(strokes, way);
    const flow::Stroke& now = begun.empty() ? strokes.front() : begun.back();
    draw_tool(stage.studio.ui, stage.list, stage.figure, flow::ToolShape(now),
              stage.figure.screen_from_mould(tool_place_mm(strokes, way)), true);
    static constexpr const char* names[] = {"wire", "comb", "strip"};
    const std::string words =
        std::string("The ") + names[static_cast<std::size_t>(now.tool.kind)] + " goes through the layers";
    return there < frame ? words + "…" : words;
}

// First as the wire leaves it, then, where it is worked, as it is finished.
std::string show_top(const Stage& stage, float share) {
    const auto& studio = stage.studio;
    const auto& design = studio.session.design();
    const auto face = studio.session.face();
    draw_mould(stage);
    const auto& drawn = stage.reel.drawn.empty() ? stage.reel.poured : stage.reel.drawn;
    const bool worked = face && !design.top.plain();
    const float done = worked ? std::clamp(2.5F * share - 0.5F, 0.0F, 1.0F) : 0;
    if (!drawn.empty() && done < 1) draw_frame(stage, *drawn.back());
    if (done > 0) draw_bar_image(stage.list, studio.view.drawn, face->margin_px, stage.figure.area, done);
    if (!worked) return "The wire is out, and the top settles";
    std::string words = picture::top_words(design);
    if (words.empty()) return "Glitter is strewn over the top";
    words.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(words.front())));
    return words;
}

std::string show_cut(const Stage& stage, float share) {
    const auto face = stage.studio.session.face();
    const Area& area = stage.figure.area;
    const Ui& ui = stage.studio.ui;
    if (face) draw_bar_image(stage.list, stage.studio.view.drawn, face->margin_px, area);
    const float y = area.y + area.height * std::min(1.0F, 1.3F * share);
    if (share < 0.77F) {
        stage.list->AddRectFilled(ImVec2(area.x, y), ImVec2(area.right(), area.bottom()),
                                  (dusk::paper & 0x00ffffffU) | (200U << 24U));
        stage.list->AddLine(ImVec2(area.x - ui.px(24), y), ImVec2(area.right() + ui.px(24), y), dusk::ink,
                            ui.px(3));
    }
    return "Cut, " + ui.shown(shown_z_mm(stage.studio), Unit::mm, 0) + " along the loaf";
}

std::string show_cure(const Stage& stage, float share) {
    const auto face = stage.studio.session.face();
    if (face) draw_bar_image(stage.list, stage.studio.view.drawn, face->margin_px, stage.figure.area);
    const auto frames = stage.reel.making ? stage.reel.making->cured() : Making::Frames{};
    const auto count = std::min(frames.size(), stage.reel.cured.size());
    if (count < 2) return "The bars cure";
    const float at = std::min(share * 1.2F, 0.9999F) * static_cast<float>(count - 1);
    const auto before = static_cast<std::size_t>(at);
    const float part = at - static_cast<float>(before);
    draw_frame(stage, *stage.reel.cured[before]);
    draw_frame(stage, *stage.reel.cured[before + 1], 1, part);
    const double age = frames[before]->age_days +
                       (frames[before + 1]->age_days - frames[before]->age_days) * static_cast<double>(part);
    return age < 0.5 ? "Wet batter" : "The bars cure: day " + format_number(age, 0);
}

std::string show(const Stage& stage, float at, bool small) {
    const auto step = std::min(static_cast<std::size_t>(std::max(0.0F, at)), all_steps.size() - 1);
    const float share = std::clamp(at - static_cast<float>(step), 0.0F, 1.0F);
    switch (all_steps[step]) {
        case Step::batter:
            return show_batter(stage, share);
        case Step::tint:
            return show_jugs(stage, share, small);
        case Step::pour:
            return show_pours(stage, share);
        case Step::wire:
            return show_wire(stage, share);
        case Step::top:
            return show_top(stage, share);
        case Step::cut:
            return show_cut(stage, share);
        case Step::cure:
            break;
    }
    return show_cure(stage, share);
}

void draw_first_words(const Studio& studio, const Area& page, const Figure& figure) {
    if (!studio.view.first_start) return;
    const Ui& ui = studio.ui;
    static constexpr const char* made =
        "This is a soap being made: batter is poured in layers, a wire is drawn through them, and the loaf "
        "is "
        "cut.";
    static constexpr const char* change =
        "Change anything in the column at the right, or take hold of a layer or the wire with the mouse, and "
        "the face follows.";
    static constexpr const char* safe =
        "Nothing here can go wrong: everything undoes with Ctrl+Z, and F1 lists the keys.";
    const float width = figure.area.x - page.x - ui.px(60);
    if (width < ui.px(140)) return;
    float y = figure.area.y + figure.area.height * 0.18F;
    ImDrawList* list = ImGui::GetWindowDrawList();
    for (const char* sentence : {made, change, safe}) {
        list->AddText(ui.fonts.body, ui.fonts.body->FontSize, ImVec2(page.x + ui.px(28), y), dusk::ink,
                      sentence, nullptr, width);
        y += ui.fonts.body->CalcTextSizeA(ui.fonts.body->FontSize, 1e9F, width, sentence).y + ui.px(14);
    }
    studio.ui.note_rect("first-words", ImVec2(page.x, page.y), ImVec2(page.x + width, y), made);
}

}  // namespace

void play_making(const Studio& studio, float from) {
    Reel& reel = studio.view.shelf.at<Reel>();
    if (!reel.shown) reel.step_before = studio.view.step;
    reel.shown = reel.playing = true;
    reel.at = from >= whole ? 0 : from;
}

void stop_making(const Studio& studio) {
    Reel& reel = studio.view.shelf.at<Reel>();
    if (reel.making && reel.shown) reel.making->stop();
    reel.shown = reel.playing = false;
    studio.view.first_start = false;
}

bool making_shown(const Studio& studio) {
    return studio.view.shelf.at<Reel>().shown;
}

bool making_runs(const Studio& studio) {
    return studio.view.shelf.at<Reel>().playing;
}

void draw_making(const Studio& studio, const Area& page) {
    Reel& reel = studio.view.shelf.at<Reel>();
    const Ui& ui = studio.ui;
    const Figure figure = largest_figure(studio, inside_page(ui, page), true);
    want_face(studio, figure.px_per_mm);
    if (draw_fault(studio, page)) return;
    keep_making(studio, reel);
    advance(studio, reel);
    const Stage stage{studio, figure, ImGui::GetWindowDrawList(), reel};
    const std::string words = show(stage, std::min(reel.at, whole - 0.001F), false);
    ui.text_at(stage.list, ui.fonts.bold, ImVec2(figure.area.x, figure.area.bottom() + ui.px(14)), dusk::ink,
               words);
    studio.ui.note_rect("making", figure.min(), figure.max(), words);
    draw_first_words(studio, page, figure);
    const char* back = "Back to the design";
    const float width = ui.text_width(ui.fonts.body, back) + ui.px(24);
    ImGui::SetCursorScreenPos(ImVec2(page.right() - width - ui.px(14), page.y + ui.px(10)));
    if (studio.ui.button("making:leave", back, ButtonKind::paper, ImVec2(width, ui.px(32))))
        stop_making(studio);
}

void draw_making_groove(const Studio& studio, const Area& ribbon) {
    Ui& ui = studio.ui;
    Reel& reel = studio.view.shelf.at<Reel>();
    const float height = ui.px(24), y = ribbon.bottom() - height;
    ImGui::SetCursorScreenPos(ImVec2(ribbon.x + ui.px(6), y));
    if (ui.button("making:play", "", ButtonKind::quiet, ImVec2(ui.px(30), height))) {
        if (reel.playing)
            reel.playing = false;
        else
            play_making(studio, reel.shown ? reel.at : 0);
    }
    ui.help(reel.playing ? "Hold the making still." : "Play the making from the batter to the cured bar.");
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ImVec2 mark(ribbon.x + ui.px(21), y + height / 2);
    if (reel.playing) {
        for (const float side : {-1.0F, 1.0F})
            list->AddRectFilled(ImVec2(mark.x + side * ui.px(4) - ui.px(1.5F), mark.y - ui.px(5)),
                                ImVec2(mark.x + side * ui.px(4) + ui.px(1.5F), mark.y + ui.px(5)),
                                dusk::lamp);
    } else {
        list->AddTriangleFilled(ImVec2(mark.x - ui.px(4), mark.y - ui.px(6)),
                                ImVec2(mark.x - ui.px(4), mark.y + ui.px(6)),
                                ImVec2(mark.x + ui.px(6), mark.y), dusk::lamp);
    }
    const float left = ribbon.x + ui.px(46), right = ribbon.right() - ui.px(16), width = right - left;
    ImGui::SetCursorScreenPos(ImVec2(left, y));
    ImGui::InvisibleButton("making:groove", ImVec2(width, height));
    ui.note("making:groove", reel.shown ? format_number(static_cast<double>(reel.at), 2) : "at rest");
    ui.help("Run along it: the loaf at every moment of its making.");
    const bool held = ImGui::IsItemActive(), over = ImGui::IsItemHovered();
    if (held) {
        reel.shown = true;
        reel.playing = false;
        reel.at = std::clamp((ImGui::GetMousePos().x - left) / width, 0.0F, 0.9999F) * whole;
        studio.view.step = all_steps[static_cast<std::size_t>(reel.at)];
    }
    if (held || over) ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeEW);
    const float middle = y + height / 2, thick = ui.px(over || held ? 4 : 3);
    list->AddRectFilled(ImVec2(left, middle - thick / 2), ImVec2(right, middle + thick / 2), dusk::quay_edge,
                        thick / 2);
    for (std::size_t i = 1; i < all_steps.size(); ++i) {
        const float x = left + width * static_cast<float>(i) / whole;
        list->AddLine(ImVec2(x, middle - ui.px(4)), ImVec2(x, middle + ui.px(4)), dusk::mist, ui.px(1));
    }
    if (!reel.shown) return;
    const float bead = left + width * std::min(reel.at, whole) / whole;
    list->AddRectFilled(ImVec2(left, middle - thick / 2), ImVec2(bead, middle + thick / 2), dusk::lamp,
                        thick / 2);
    list->AddCircleFilled(ImVec2(bead, middle), ui.px(7), dusk::lamp, 24);
    list->AddCircle(ImVec2(bead, middle), ui.px(7), dusk::quay, 24, ui.px(2));
}

void draw_step_picture(const Studio& studio, Step step, const Area& area) {
    const auto face = studio.session.face();
    const auto& design = studio.session.design();
    Reel& reel = studio.view.shelf.at<Reel>();
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(ImVec2(area.x, area.y), ImVec2(area.right(), area.bottom()), dusk::paper,
                        studio.ui.px(5));
    list->PushClipRect(ImVec2(area.x, area.y), ImVec2(area.right(), area.bottom()), true);
    const float inner = std::min(area.width, area.height) - studio.ui.px(8);
    const double rise = rise_mm(studio);
    const double larger = std::max(design.mould.width_mm, design.mould.fill_mm + rise);
    Figure figure;
    figure.px_per_mm = static_cast<double>(inner) / larger;
    const auto width = static_cast<float>(design.mould.width_mm * figure.px_per_mm);
    const auto height = static_cast<float>(design.mould.fill_mm * figure.px_per_mm);
    figure.area = {area.x + (area.width - width) / 2,
                   area.y + (area.height - height + static_cast<float>(rise * figure.px_per_mm)) / 2, width,
                   height};
    const Stage stage{studio, figure, list, reel};
    switch (step) {
        case Step::batter:
            show_batter(stage, 1);
            break;
        case Step::tint: {
            Stage wide = stage;
            wide.figure.area = {area.x + 3, area.y + 3, area.width - 6, area.height - 6};
            show_jugs(wide, 1.2F, true);
            break;
        }
        case Step::pour:
            if (face) draw_bar_image(list, studio.view.poured, face->margin_px, figure.area);
            break;
        case Step::wire:
            if (face) draw_bar_image(list, studio.view.poured, face->margin_px, figure.area);
            if (!design.strokes.empty() && studio.session.fault().empty()) {
                std::vector<ImVec2> points;
                for (const Vec2 p : design::path_of(design.strokes.back(), design))
                    points.push_back(figure.screen_from_mould(p));
                list->AddPolyline(points.data(), static_cast<int>(points.size()), dusk::rgb(0xffffff, 210), 0,
                                  studio.ui.px(3));
                list->AddPolyline(points.data(), static_cast<int>(points.size()), dusk::ink, 0,
                                  studio.ui.px(1));
            }
            break;
        case Step::top:
        case Step::cut:
        case Step::cure:
            if (face) draw_bar_image(list, studio.view.drawn, face->margin_px, figure.area);
            break;
    }
    if (step == Step::top) {
        draw_mould(stage);
    } else if (step == Step::cut) {
        const float x = figure.area.x + figure.area.width * 0.5F;
        list->AddRectFilled(ImVec2(x, area.y), ImVec2(area.right(), area.bottom()),
                            (dusk::paper & 0x00ffffffU) | (170U << 24U));
        list->AddLine(ImVec2(x, area.y), ImVec2(x, area.bottom()), dusk::ink, studio.ui.px(2));
    }
    list->PopClipRect();
}

}  // namespace foreslice::studio
