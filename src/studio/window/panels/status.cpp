// The bottom line: whether the face is up to date and what is being done, and the last message.
#include <algorithm>
#include <chrono>
#include <cmath>

#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

struct Words {
    std::string text;
    ImU32 colour = dusk::fog;
};

Words words_for(const FaceStatus& status) {
    switch (status.kind) {
        case FaceStatus::Kind::nothing:
            return {"nothing drawn yet", dusk::fog};
        case FaceStatus::Kind::failed:
            return {"cannot be drawn", dusk::buoy};
        case FaceStatus::Kind::drawing: {
            std::string text = "drawing…";
            if (!status.stage.empty()) {
                text += " " + status.stage;
                if (status.fraction > 0)
                    text += ", " + std::to_string(std::lround(status.fraction * 100)) + " %";
            }
            return {text, dusk::chalk};
        }
        case FaceStatus::Kind::stopped:
            return {"stopped as it is", dusk::lamp};
        case FaceStatus::Kind::up_to_date:
            break;
    }
    if (!status.converged)
        return {"up to date, but the flow did not reach its tolerance everywhere", dusk::lamp};
    return {"✓ up to date", dusk::weed};
}

// Work that takes longer than a moment can be stopped; what was stopped can go on.
void draw_stop(const Studio& studio, const Area& area, float x, const FaceStatus& status) {
    const bool writing = studio.session.pictures_being_written() > 0;
    const bool busy = status.kind == FaceStatus::Kind::drawing || writing;
    const auto now = std::chrono::steady_clock::now();
    if (!busy) studio.view.busy_since = now;
    const bool stopped = status.kind == FaceStatus::Kind::stopped;
    if (!stopped && now - studio.view.busy_since < std::chrono::seconds(1)) return;
    Ui& ui = studio.ui;
    ImGui::SetCursorScreenPos(ImVec2(x, area.y + (area.height - ui.px(24)) / 2));
    ImGui::PushFont(ui.fonts.small);
    const ImVec2 size(ui.text_width(ui.fonts.small, "Stop it now") + ui.px(16), ui.px(24));
    if (stopped) {
        if (ui.button("status:go-on", "Go on", ButtonKind::plain, size)) studio.session.go_on();
    } else if (ui.button("status:stop", "Stop", ButtonKind::plain, size)) {
        studio.session.stop_drawing();
    }
    ImGui::PopFont();
}

// On a slip of its own, over whatever is there.
void draw_long_notice(const Ui& ui, const Area& area, const std::string& words, ImU32 colour) {
    ImFont* font = ui.fonts.small;
    const float wrap = std::min(area.width * 0.6F, ui.px(640)), pad = ui.px(14), gap = ui.px(10);
    const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e9F, wrap, words.c_str());
    const ImVec2 max(area.right() - gap, area.bottom() - gap);
    const ImVec2 min(max.x - size.x - 2 * pad, max.y - size.y - 2 * pad);
    ImDrawList* list = ImGui::GetForegroundDrawList();
    list->AddRectFilled(min, max, dusk::slate, ui.px(6));
    list->AddRect(min, max, colour, ui.px(6), 0, ui.px(1));
    list->AddText(font, font->FontSize, ImVec2(min.x + pad, min.y + pad), colour, words.c_str(), nullptr,
                  wrap);
}

void draw_notice(const Studio& studio, const Area& area) {
    Ui& ui = studio.ui;
    const auto& notice = studio.view.notice;
    std::string words = notice ? notice->sentence : "";
    if (!notice && studio.session.pictures_being_written() > 0) words = "writing the picture…";
    const ImU32 colour = notice && notice->trouble ? dusk::buoy : dusk::chalk;
    const float room = area.width * 0.6F;
    if (ui.text_width(ui.fonts.small, words) > room)
        draw_long_notice(ui, area, words, colour);
    else
        ui.text_at(ImGui::GetWindowDrawList(), ui.fonts.small,
                   ImVec2(area.right() - ui.px(18), area.y + (area.height - ui.fonts.small->FontSize) / 2),
                   colour, words, 1);
    ui.note_rect("notice", ImVec2(area.right() - room, area.y), ImVec2(area.right(), area.bottom()), words);
}

}  // namespace

void draw_status(const Studio& studio, const Area& area) {
    Ui& ui = studio.ui;
    const FaceStatus status = studio.session.face_status();
    Words words = words_for(status);
    if (const std::string seen = words_of(studio.session.seeing()); !seen.empty())
        words.text += "; seen " + seen;
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float y = area.y + (area.height - ui.fonts.small->FontSize) / 2;
    float x = area.x + ui.px(18);
    if (status.kind == FaceStatus::Kind::drawing) {
        const float width = ui.px(120), bar_y = area.y + area.height / 2 - ui.px(3);
        list->AddRectFilled(ImVec2(x, bar_y), ImVec2(x + width, bar_y + ui.px(6)), dusk::slate, ui.px(3));
        list->AddRectFilled(
            ImVec2(x, bar_y),
            ImVec2(x + std::max(ui.px(6), width * static_cast<float>(status.fraction)), bar_y + ui.px(6)),
            dusk::lamp, ui.px(3));
        x += width + ui.px(12);
    }
    ui.text_at(list, ui.fonts.small, ImVec2(x, y), words.colour, words.text);
    ui.note_rect("status", ImVec2(area.x, area.y),
                 ImVec2(x + ui.text_width(ui.fonts.small, words.text), area.bottom()), words.text);
    draw_stop(studio, area, x + ui.text_width(ui.fonts.small, words.text) + ui.px(14), status);
    draw_notice(studio, area);
}

}  // namespace foreslice::studio
