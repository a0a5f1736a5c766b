#include "studio/window/ui.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include <imgui_internal.h>

namespace foreslice::studio {

bool WidgetPlace::on_screen() const {
    const ImVec2 at = middle();
    return at.x >= view_min.x && at.y >= view_min.y && at.x < view_max.x && at.y < view_max.y;
}

void Ui::begin_frame() {
    places_.clear();
    fields_before_.swap(fields_);
    fields_.clear();
    if (typing_.id != 0 && !typing_.seen) typing_ = {};  // its panel has gone; the value is in the document
    typing_.seen = false;
}

float Ui::px(float length) const {
    return std::round(length * scale);
}

void Ui::note(const std::string& name, const std::string& text) {
    note_rect(name, ImGui::GetItemRectMin(), ImGui::GetItemRectMax(), text);
}

void Ui::note_rect(const std::string& name, ImVec2 min, ImVec2 max, const std::string& text) {
    const bool enabled = (ImGui::GetCurrentContext()->CurrentItemFlags & ImGuiItemFlags_Disabled) == 0;
    const ImRect& view = ImGui::GetCurrentWindow()->ClipRect;
    places_[name] = {min, max, view.Min, view.Max, enabled, text};
}

bool Ui::button(const std::string& name, const std::string& label, ButtonKind kind, ImVec2 size) {
    struct Tints {
        ImU32 rest, over, down, text;
    };
    const Tints looks[] = {
        {dusk::slate, dusk::slate_lit, dusk::slate_deep, dusk::chalk},
        {dusk::lamp, dusk::lamp_lit, dusk::lamp_deep, dusk::on_lamp},
        {0, dusk::slate, dusk::slate_deep, dusk::chalk},
        {dusk::paper_shade, dusk::paper_rule, dusk::paper_rule, dusk::ink},
    };
    const Tints& look = looks[static_cast<int>(kind)];
    ImGui::PushStyleColor(ImGuiCol_Button, look.rest);
    ImGui::PushStyleColor(ImGuiCol_ButtonHovered, look.over);
    ImGui::PushStyleColor(ImGuiCol_ButtonActive, look.down);
    ImGui::PushStyleColor(ImGuiCol_Text, look.text);
    if (size.y == 0) size.y = px(32);
    const bool pressed = ImGui::Button((label + "###" + name).c_str(), size);
    ImGui::PopStyleColor(4);
    note(name, label);
    return pressed;
}

bool Ui::check(const std::string& name, const std::string& label, bool& value) {
    const bool changed = ImGui::Checkbox((label + "###" + name).c_str(), &value);
    note(name, value ? "yes" : "no");
    return changed;
}

int Ui::choice(const std::string& name, const std::vector<std::string>& words, int chosen) {
    int clicked = -1;
    const float gap = px(4);
    const float width = (ImGui::GetContentRegionAvail().x - gap * static_cast<float>(words.size() - 1)) /
                        static_cast<float>(words.size());
    for (int i = 0; i < static_cast<int>(words.size()); ++i) {
        if (i > 0) ImGui::SameLine(0, gap);
        const auto& word = words[static_cast<std::size_t>(i)];
        const auto kind = i == chosen ? ButtonKind::lit : ButtonKind::plain;
        const std::string own = std::string(name).append(":").append(word);
        if (button(own, word, kind, ImVec2(std::floor(width), 0))) clicked = i;
    }
    return clicked;
}

float Ui::field_width() const {
    return std::floor(ImGui::GetContentRegionAvail().x * 0.56F);
}

void Ui::label(const std::string& text, const std::string& under) {
    const float left = ImGui::GetCursorPosX();
    const float width = ImGui::GetContentRegionAvail().x, field = field_width();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float y = at.y + (under.empty() ? (px(32) - fonts.body->FontSize) / 2 : -px(2)),
                room = width - field - px(8);
    text_at(list, fonts.body, ImVec2(at.x, y), dusk::chalk, fitted(fonts.body, text, room));
    if (!under.empty())
        text_at(list, fonts.small, ImVec2(at.x, at.y + px(17)), dusk::fog, fitted(fonts.small, under, room));
    ImGui::SetCursorPosX(left + width - field);
}

void Ui::start_typing(const Quantity& quantity, ImGuiID id, double value) {
    const std::string text = shown(value, quantity.unit, quantity.decimals);
    typing_ = {id, text, text, value, true, true};
}

bool Ui::step_end(const char* id, const char* sign, float width, bool left) {
    ImGui::PushButtonRepeat(true);
    const bool pressed = ImGui::InvisibleButton(id, ImVec2(width, px(32)));
    ImGui::PopButtonRepeat();
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ImVec2 min = ImGui::GetItemRectMin(), max = ImGui::GetItemRectMax();
    const ImU32 fill = ImGui::IsItemActive()    ? dusk::slate_deep
                       : ImGui::IsItemHovered() ? dusk::slate_lit
                                                : dusk::slate;
    list->AddRectFilled(min, max, fill, ImGui::GetStyle().FrameRounding,
                        left ? ImDrawFlags_RoundCornersLeft : ImDrawFlags_RoundCornersRight);
    text_at(list, fonts.body, ImVec2((min.x + max.x) / 2, min.y + (px(32) - fonts.body->FontSize) / 2),
            dusk::chalk, sign, 0.5F);
    return pressed;
}

namespace {

bool takes(const Quantity& quantity, std::optional<double> number) {
    return number && *number >= quantity.least - 1e-9 && *number <= quantity.most + 1e-9;
}

int without_tabs(ImGuiInputTextCallbackData* data) {
    return data->EventChar == '\t' ? 1 : 0;
}

}  // namespace

// The text field of a number that is being typed; true when Enter was pressed in it.
bool Ui::number_field(const Quantity& quantity, ImVec2 size) {
    const bool fits = takes(quantity, parse_quantity(typing_.text, quantity.unit, units));
    if (typing_.focus_wanted) ImGui::SetKeyboardFocusHere();
    ImGui::SetNextItemWidth(size.x);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(px(10), (size.y - ImGui::GetFontSize()) / 2));
    if (!fits) ImGui::PushStyleColor(ImGuiCol_Text, dusk::buoy);
    char buffer[64] = {};
    typing_.text.copy(buffer, sizeof buffer - 1);
    // Tab is ours: ImGui would look for the next text field, and there is only this one.
    constexpr int flags = ImGuiInputTextFlags_AutoSelectAll | ImGuiInputTextFlags_EnterReturnsTrue |
                          ImGuiInputTextFlags_AllowTabInput | ImGuiInputTextFlags_CallbackCharFilter;
    const bool entered = ImGui::InputText("##typed", buffer, sizeof buffer, flags, without_tabs);
    typing_.text = buffer;
    if (!fits) ImGui::PopStyleColor();
    ImGui::PopStyleVar();
    note(quantity.name, typing_.text);
    if (!fits && ImGui::IsItemActive())
        ImGui::SetTooltip("Between %s and %s",
                          shown(quantity.least, quantity.unit, quantity.decimals).c_str(),
                          shown(quantity.most, quantity.unit, quantity.decimals).c_str());
    return entered;
}

void Ui::type_number(const Quantity& quantity, ImGuiID id, double& value, ImVec2 size, Edited& out) {
    typing_.seen = true;
    const bool entered = number_field(quantity, size);
    const bool tabbed = ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Tab), false);
    const bool escaped = ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape), false);
    const bool ended = !typing_.focus_wanted && (entered || tabbed || ImGui::IsItemDeactivated());
    typing_.focus_wanted = false;
    // Taken live, so that no click elsewhere can lose it; what cannot be taken at the end gives way to what
    // was.
    auto now = parse_quantity(typing_.text, quantity.unit, units);
    // Unchanged text keeps the value to the last digit, also where it is shown in another unit.
    const bool untouched = typing_.text == typing_.text_before;
    if (escaped || untouched || (ended && !takes(quantity, now))) now = typing_.before;
    if (takes(quantity, now) && *now != value) {
        value = std::clamp(*now, quantity.least, quantity.most);
        out.changed = true;
    }
    if (!ended) return;
    typing_ = {};
    out.closed = true;
    if (!tabbed) return;
    ImGui::ClearActiveID();
    const auto here = std::find(fields_before_.begin(), fields_before_.end(), id);
    if (here != fields_before_.end() && here + 1 != fields_before_.end()) type_next_ = *(here + 1);
}

// A drag over the whole width spans the usual range; Shift goes a tenth as fast and without steps.
void Ui::scrub(const Quantity& quantity, double& value, float width, Edited& out) const {
    const double fine = ImGui::GetIO().KeyShift ? 0.1 : 1;
    const double span = quantity.usual_most - quantity.usual_least;
    double moved = drag_start_ + fine * span * static_cast<double>(ImGui::GetMouseDragDelta(0, 0).x / width);
    if (fine == 1) moved = std::round(moved / quantity.step) * quantity.step;
    moved = std::clamp(moved, quantity.least, quantity.most);
    if (moved == value) return;
    value = moved;
    out.changed = true;
}

// The last item as a number in its well, with a line below it that says where in the usual range it lies.
void Ui::draw_quantity(const Quantity& quantity, double value, bool active, bool over) const {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ImVec2 min = ImGui::GetItemRectMin(), max = ImGui::GetItemRectMax();
    list->AddRectFilled(min, max, over || active ? dusk::slate_deep : dusk::well);
    const double span = quantity.usual_most - quantity.usual_least;
    const auto level =
        static_cast<float>(span > 0 ? std::clamp((value - quantity.usual_least) / span, 0.0, 1.0) : 0);
    list->AddRectFilled(ImVec2(min.x, max.y - px(3)), max, dusk::quay_edge);
    list->AddRectFilled(ImVec2(min.x, max.y - px(3)), ImVec2(min.x + (max.x - min.x) * level, max.y),
                        active ? dusk::lamp : dusk::lamp_deep);
    const ShownNumber as = shown_number(value, quantity.unit, quantity.decimals, units);
    const std::string number = format_number(as.value, as.decimals);
    const std::string unit(as.unit);
    const float number_width = text_width(fonts.bold, number), gap = unit.empty() ? 0 : px(5);
    const float whole = number_width + gap + text_width(fonts.small, unit);
    const float x = std::round((min.x + max.x - whole) / 2);
    text_at(list, fonts.bold, ImVec2(x, min.y + px(6)), dusk::chalk, number);
    text_at(list, fonts.small, ImVec2(x + number_width + gap, min.y + px(8)), dusk::fog, unit);
    if (ImGui::IsItemFocused() && GImGui->NavDisableHighlight == false)
        list->AddRect(min, max, dusk::lamp, 0, 0, px(2));
}

void Ui::quantity_body(const Quantity& quantity, double& value, float width, Edited& out) {
    const float height = px(32);
    const ImGuiID id = ImGui::GetID("body");
    fields_.push_back(id);
    if (type_next_ == id) {
        type_next_ = 0;
        start_typing(quantity, id, value);
    }
    if (typing_.id == id) {
        type_number(quantity, id, value, ImVec2(width, height), out);
        return;
    }
    const bool released = ImGui::InvisibleButton("body", ImVec2(width, height));
    note(quantity.name, shown(value, quantity.unit, quantity.decimals));
    help(quantity.help);
    const bool active = ImGui::IsItemActive(), over = ImGui::IsItemHovered();
    if (over || active) ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeEW);
    if (ImGui::IsItemActivated()) drag_start_ = value;
    const bool dragged = ImGui::GetIO().MouseDragMaxDistanceSqr[0] > px(4) * px(4);
    if (active && dragged) scrub(quantity, value, width, out);
    if (ImGui::IsItemDeactivated()) out.closed = true;
    if (released && !dragged) start_typing(quantity, id, value);
    draw_quantity(quantity, value, active, over);
}

Edited Ui::quantity(const Quantity& quantity, double& value) {
    Edited out;
    const float left = ImGui::GetCursorPosX();
    float width = ImGui::GetContentRegionAvail().x;
    if (!quantity.label.empty()) {
        width = field_width();
        label(quantity.label, quantity.under);
    }
    if (quantity.end != Quantity::End::none) width -= px(32);
    ImGui::PushID(quantity.name.c_str());
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(0, ImGui::GetStyle().ItemSpacing.y));
    const float end = px(30);
    const auto stepped = [&](double by) {
        // To the next multiple of the step in that direction.
        const double target = by > 0 ? std::floor(value / quantity.step + 1 + 1e-9) * quantity.step
                                     : std::ceil(value / quantity.step - 1 - 1e-9) * quantity.step;
        const double next = std::clamp(target, quantity.least, quantity.most);
        out.changed = out.changed || next != value;
        value = next;
    };
    const bool down = step_end("less", "−", end, true);
    note(quantity.name + ":less");
    out.closed = out.closed || ImGui::IsItemDeactivated();
    ImGui::SameLine(0, px(1));
    quantity_body(quantity, value, width - 2 * end - 2 * px(1), out);
    ImGui::SameLine(0, px(1));
    const bool up = step_end("more", "+", end, false);
    note(quantity.name + ":more");
    out.closed = out.closed || ImGui::IsItemDeactivated();
    if (down) stepped(-1);
    if (up) stepped(1);
    if (quantity.end == Quantity::End::remove) {
        ImGui::SameLine(0, px(4));
        out.removed = button(quantity.name + ":out", "×", ButtonKind::quiet, ImVec2(px(28), px(32)));
        help("Take it out");
    }
    ImGui::PopStyleVar();
    ImGui::PopID();
    ImGui::SetCursorPosX(left);
    return out;
}

Edited Ui::quantity(const Quantity& quantity, int& value) {
    double number = value;
    Quantity whole = quantity;
    whole.decimals = 0;
    whole.step = std::max(1.0, quantity.step);
    Edited out = this->quantity(whole, number);
    const int rounded = static_cast<int>(std::lround(number));
    out.changed = rounded != value;
    value = rounded;
    return out;
}

namespace {

int grow_text(ImGuiInputTextCallbackData* data) {
    if (data->EventFlag != ImGuiInputTextFlags_CallbackResize) return 0;
    auto& text = *static_cast<std::string*>(data->UserData);
    text.resize(static_cast<std::size_t>(data->BufTextLen));
    data->Buf = text.data();
    return 0;
}

}  // namespace

Edited Ui::text_field(const std::string& name, const std::string& label_text, std::string& text,
                      const char* hint) {
    Edited out;
    float width = ImGui::GetContentRegionAvail().x;
    if (!label_text.empty()) {
        width = field_width();
        label(label_text);
    }
    ImGui::SetNextItemWidth(width);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(px(10), (px(32) - ImGui::GetFontSize()) / 2));
    out.changed = ImGui::InputTextWithHint(("##" + name).c_str(), hint, text.data(), text.capacity() + 1,
                                           ImGuiInputTextFlags_CallbackResize, grow_text, &text);
    ImGui::PopStyleVar();
    out.closed = ImGui::IsItemDeactivatedAfterEdit();
    note(name, text);
    return out;
}

bool Ui::begin_list(const std::string& name, const std::string& label_text, const std::string& shown) {
    if (!label_text.empty()) {
        const float width = field_width();
        label(label_text);
        ImGui::SetNextItemWidth(width);
    } else {
        ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x);
    }
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(px(10), (px(32) - ImGui::GetFontSize()) / 2));
    const bool open = ImGui::BeginCombo(("##" + name).c_str(), shown.c_str(), ImGuiComboFlags_HeightLarge);
    ImGui::PopStyleVar();
    if (!open) note(name, shown);
    return open;
}

bool Ui::list_entry(const std::string& name, const std::string& label_text, bool chosen) {
    const bool clicked = ImGui::Selectable((label_text + "###" + name).c_str(), chosen, 0, ImVec2(0, px(28)));
    note(name, label_text);
    return clicked;
}

void Ui::end_list() {
    ImGui::EndCombo();
}

void Ui::section(const char* title) {
    ImGui::Dummy(ImVec2(0, px(6)));
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, text = text_width(fonts.bold, title);
    text_at(list, fonts.bold, at, dusk::lamp, title);
    const float y = at.y + fonts.bold->FontSize / 2 + px(1);
    list->AddLine(ImVec2(at.x + text + px(10), y), ImVec2(at.x + width, y), dusk::quay_edge, px(1));
    ImGui::Dummy(ImVec2(width, fonts.bold->FontSize + px(2)));
}

void Ui::quiet_text(const std::string& text) {
    ImGui::PushFont(fonts.small);
    ImGui::PushStyleColor(ImGuiCol_Text, dusk::fog);
    ImGui::PushTextWrapPos(0);
    ImGui::TextUnformatted(text.data(), text.data() + text.size());
    ImGui::PopTextWrapPos();
    ImGui::PopStyleColor();
    ImGui::PopFont();
}

void Ui::help(const std::string& sentence) {
    if (sentence.empty() || !ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled)) return;
    if (ImGui::IsItemActive() || GImGui->HoveredIdTimer < 0.45F) return;
    ImGui::BeginTooltip();
    ImGui::PushTextWrapPos(px(320));
    ImGui::TextUnformatted(sentence.data(), sentence.data() + sentence.size());
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
}

void Ui::swatch(colour::EncodedSrgb colour, ImVec2 size) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ImVec2 end(at.x + size.x, at.y + size.y);
    list->AddRectFilled(at, end, IM_COL32(colour.r, colour.g, colour.b, 255), px(4));
    list->AddRect(at, end, dusk::rgb(0xffffff, 50), px(4));
    ImGui::Dummy(size);
}

float Ui::text_width(ImFont* font, std::string_view text) const {
    return font->CalcTextSizeA(font->FontSize, 1e9F, 0, text.data(), text.data() + text.size()).x;
}

void Ui::text_at(ImDrawList* list, ImFont* font, ImVec2 at, ImU32 colour, std::string_view text,
                 float align) const {
    if (align != 0) at.x -= std::round(text_width(font, text) * align);
    list->AddText(font, font->FontSize, ImVec2(std::round(at.x), std::round(at.y)), colour, text.data(),
                  text.data() + text.size());
}

std::string Ui::fitted(ImFont* font, std::string_view text, float width) const {
    if (text_width(font, text) <= width) return std::string(text);
    std::string cut(text);
    while (!cut.empty() && text_width(font, cut + "…") > width) {
        // A whole character, however many bytes it has.
        bool inside = true;
        while (inside && !cut.empty()) {
            inside = (static_cast<unsigned char>(cut.back()) & 0xc0) == 0x80;
            cut.pop_back();
        }
    }
    return cut + "…";
}

}  // namespace foreslice::studio
