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
    std::string aside;
    if (studio.session.pictures_being_written() > 0) aside = "writing the picture…";
    if (studio.view.notice) aside = studio.view.notice->sentence;
    const bool trouble = studio.view.notice && studio.view.notice->trouble;
    ui.text_at(list, ui.fonts.small, ImVec2(area.right() - ui.px(18), y), trouble ? dusk::buoy : dusk::chalk,
               ui.fitted(ui.fonts.small, aside, area.width * 0.6F), 1);
    ui.note_rect("notice", ImVec2(area.right() - area.width * 0.6F, area.y),
                 ImVec2(area.right(), area.bottom()), aside);
}

}  // namespace foreslice::studio
