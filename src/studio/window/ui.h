// The few widgets the studio is made of, drawn in its own manner on top of Dear ImGui. Each notes its name
// and place, so that scripts and tests find it by name and never by pixel.
#pragma once

#include <imgui.h>

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "colour/colorimetry.h"
#include "studio/session/quantity.h"
#include "studio/window/theme.h"

namespace foreslice::studio {

struct WidgetPlace {
    ImVec2 min, max;
    ImVec2 view_min, view_max;  ///< the part of its panel that is on the screen
    bool enabled = true;
    std::string text;  ///< what it shows, where that is a value

    ImVec2 middle() const { return ImVec2((min.x + max.x) / 2, (min.y + max.y) / 2); }
    bool on_screen() const;  ///< its middle can be clicked; else its panel is scrolled away from it
};

/// A number with a unit that can be dragged, stepped or typed.
struct Quantity {
    std::string name;   ///< for scripts; unique on the screen
    std::string label;  ///< to the left of it; may be empty
    Unit unit = Unit::none;
    double least = 0, most = 100;              ///< what is allowed
    double usual_least = 0, usual_most = 100;  ///< what dragging and the level line span
    double step = 1;                           ///< of the - and + ends; dragging snaps to it
    int decimals = 1;
    std::string help = {};   ///< one sentence, shown under the mouse
    std::string under = {};  ///< small, under the label
    enum class End { none, empty, remove };
    End end = End::none;  ///< a cross behind it, or room as if there were one
};

struct Edited {
    bool changed = false;  ///< the value is another one now
    bool closed = false;   ///< the hand let go: the undo step is complete
    bool removed = false;  ///< the cross behind it was pressed
};

enum class ButtonKind { plain, lit, quiet, paper };

class Ui {
  public:
    Fonts fonts;
    float scale = 1;
    ShownUnits units;  ///< of the document that is shown

    void begin_frame();
    /// A value with its unit, in the document's units.
    std::string shown(double value, Unit unit, int decimals) const {
        return format_quantity(value, unit, decimals, units);
    }
    /// Length at the present scale, in whole pixels.
    float px(float length) const;

    /// Remembers the last item under a name.
    void note(const std::string& name, const std::string& text = {});
    void note_rect(const std::string& name, ImVec2 min, ImVec2 max, const std::string& text = {});
    const std::map<std::string, WidgetPlace>& places() const { return places_; }

    bool button(const std::string& name, const std::string& label, ButtonKind kind = ButtonKind::plain,
                ImVec2 size = {0, 0});
    bool check(const std::string& name, const std::string& label, bool& value);
    /// Two or more words side by side of which one counts; returns the index clicked or -1.
    int choice(const std::string& name, const std::vector<std::string>& words, int chosen);
    Edited quantity(const Quantity& quantity, double& value);
    Edited quantity(const Quantity& quantity, int& value);
    /// One line of text; live.
    Edited text_field(const std::string& name, const std::string& label, std::string& text,
                      const char* hint = "");
    bool begin_list(const std::string& name, const std::string& label, const std::string& shown);
    bool list_entry(const std::string& name, const std::string& label, bool chosen);
    void end_list();

    void section(const char* title);
    void quiet_text(const std::string& text);  ///< wrapped, small, fog
    void help(const std::string& sentence);    ///< tooltip of the last item
    /// Left part of a row; the field follows on the same line.
    void label(const std::string& text, const std::string& under = {});
    void swatch(colour::EncodedSrgb colour, ImVec2 size);
    /// Text at a place in a draw list; `align` 0 left, 0.5 middle, 1 right of x.
    void text_at(ImDrawList* list, ImFont* font, ImVec2 at, ImU32 colour, std::string_view text,
                 float align = 0) const;
    float text_width(ImFont* font, std::string_view text) const;
    /// The text cut to a width with an ellipsis.
    std::string fitted(ImFont* font, std::string_view text, float width) const;

    /// The row of a quantity or list: where its field begins and how wide it is.
    float field_width() const;
    bool typing() const { return typing_.id != 0; }

  private:
    struct Typing {
        ImGuiID id = 0;
        std::string text, text_before;
        double before = 0;
        bool focus_wanted = false, seen = false;
    };

    void quantity_body(const Quantity& quantity, double& value, float width, Edited& out);
    void scrub(const Quantity& quantity, double& value, float width, Edited& out) const;
    void draw_quantity(const Quantity& quantity, double value, bool active, bool over) const;
    bool number_field(const Quantity& quantity, ImVec2 size);
    void type_number(const Quantity& quantity, ImGuiID id, double& value, ImVec2 size, Edited& out);
    void start_typing(const Quantity& quantity, ImGuiID id, double value);
    bool step_end(const char* id, const char* sign, float width, bool left);

    std::map<std::string, WidgetPlace> places_;
    Typing typing_;
    std::vector<ImGuiID> fields_, fields_before_;
    ImGuiID type_next_ = 0;
    double drag_start_ = 0;
};

}  // namespace foreslice::studio
