// A wanted colour, and the recipes that come nearest to it; a click takes one into the chosen portion.
#include <algorithm>
#include <cmath>

#include "design/tint.h"
#include "foundation/content_key.h"
#include "picture/caption.h"
#include "studio/session/colour_edits.h"
#include "studio/window/colour_desk.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

ImU32 code_of(colour::EncodedSrgb c) {
    return IM_COL32(c.r, c.g, c.b, 255);
}

std::uint64_t question_of(const Studio& studio, const ColourDesk& desk) {
    const auto state = design::bar_state_of(studio.session.design());
    ContentKey key;
    key.add(colour::hex_of(*desk.wanted)).add(desk.most_colourants).add(desk.most_powder_g_per_kg);
    key.add(studio.session.colour_library().key());
    for (const auto& oil : state.oils) key.add(oil.oil).add(oil.percent);
    key.add(state.superfat_percent).add(state.lye_percent).add(state.gelled);
    return key.add(state.vanillin_g_per_kg_oils).add(state.age_days).value();
}

void ask(const Studio& studio, ColourDesk& desk) {
    if (!desk.wanted) return;
    colour::MatchLimits limits;
    limits.most_colourants = static_cast<std::size_t>(desk.most_colourants);
    limits.most_total_g_per_kg_oils = desk.most_powder_g_per_kg;
    limits.recipes = 6;
    desk.matching.want(
        question_of(studio, desk), studio.session.waker(),
        [limits, target = *desk.wanted, library = studio.session.shared_library(),
         state = design::bar_state_of(studio.session.design())](Progress&) {
            return FoundRecipes{library, target, colour::match(*library, state, target, limits)};
        });
}

void draw_limits(const Studio& studio, ColourDesk& desk) {
    Ui& ui = studio.ui;
    ui.label("Colourants at most");
    if (const int chosen = ui.choice("match-most", {"1", "2", "3", "4"}, desk.most_colourants - 1);
        chosen >= 0)
        desk.most_colourants = chosen + 1;
    const Quantity powder{"match-powder",
                          "Powder at most",
                          Unit::g_per_kg,
                          0.5,
                          100,
                          0.5,
                          40,
                          1,
                          1,
                          "All powders together, white included, for each kilogram of oils."};
    ui.quantity(powder, desk.most_powder_g_per_kg);
}

std::string amounts_of(const colour::Recipe& recipe) {
    std::string text;
    for (const colour::Dose& dose : recipe.doses)
        text += (text.empty() ? "" : ", ") + dose.colourant->name + " " +
                picture::short_number(dose.g_per_kg_oils, 3);
    return text.empty() ? "nothing but the base" : text;
}

std::string help_for(const colour::Recipe& recipe) {
    std::string text =
        "Takes this recipe into the chosen portion. Metamerism is how far it parts under a lamp, "
        "an LED or in the shop from a bar of the wanted colour.";
    for (const colour::Dose& dose : recipe.doses)
        text += "\n" + dose.colourant->name + ": " + picture::short_number(dose.g_per_kg_oils, 3) +
                " g per kg of oils, " +
                picture::short_number(colour::teaspoons_per_pound(*dose.colourant, dose.g_per_kg_oils), 2) +
                " level tsp per lb";
    return text;
}

// A row: wanted and reached colour edge to edge, its figures, its doses.
bool draw_recipe(const Studio& studio, const FoundRecipes& found, std::size_t index) {
    Ui& ui = studio.ui;
    const colour::Recipe& recipe = found.match.recipes[index];
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(50);
    const std::string name = "recipe:" + std::to_string(index);
    const bool clicked = ImGui::InvisibleButton(name.c_str(), ImVec2(width, height));
    const std::string figures = "dE00 " + format_number(recipe.de00, 1) + ", metamerism " +
                                format_number(recipe.metamerism, 1) + ", " +
                                format_number(recipe.total_g_per_kg_oils, 1) + " g/kg";
    ui.note(name, figures);
    ui.help(help_for(recipe));
    const bool over = ImGui::IsItemHovered();
    if (over) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ImVec2 end(at.x + width, at.y + height);
    list->AddRectFilled(at, end, over ? dusk::slate_deep : dusk::well, ui.px(6));
    const float top = at.y + ui.px(8), foot = end.y - ui.px(8), left = at.x + ui.px(8), half = ui.px(26);
    list->AddRectFilled(ImVec2(left, top), ImVec2(left + half, foot), code_of(found.target));
    list->AddRectFilled(ImVec2(left + half, top), ImVec2(left + 2 * half, foot), code_of(recipe.colour.srgb));
    const float x = left + 2 * half + ui.px(10), room = end.x - x - ui.px(6);
    ui.text_at(list, ui.fonts.small_bold, ImVec2(x, at.y + ui.px(8)), dusk::chalk,
               ui.fitted(ui.fonts.small_bold, figures, room));
    ui.text_at(list, ui.fonts.small, ImVec2(x, at.y + ui.px(27)), dusk::fog,
               ui.fitted(ui.fonts.small, amounts_of(recipe), room));
    return clicked;
}

void draw_recipes(const Studio& studio, ColourDesk& desk, std::size_t portion) {
    Ui& ui = studio.ui;
    if (!desk.matching.problem().empty()) {
        ui.quiet_text(desk.matching.problem());
        return;
    }
    const auto found = desk.matching.answer();
    if (!found || !desk.matching.current()) {
        ui.quiet_text("Looking for recipes…");
        return;
    }
    if (!found->match.reachable)
        ui.quiet_text("Out of reach of these powders in this base. The nearest that can be had come first.");
    for (std::size_t i = 0; i < found->match.recipes.size(); ++i)
        if (draw_recipe(studio, *found, i)) {
            const auto& name = portion_name(studio.session.design().portions[portion]);
            studio.session.edit(with_recipe(studio.session.design(), portion, found->match.recipes[i].doses),
                                "recipe for " + colour::hex_of(found->target) + " in " + name);
        }
}

}  // namespace

void want_colour(const Studio& studio, colour::EncodedSrgb colour) {
    ColourDesk& desk = studio.view.shelf.at<ColourDesk>();
    desk.wanted = colour;
    desk.wanted_text = colour::hex_of(colour);
}

void draw_match(const Studio& studio, std::size_t portion) {
    Ui& ui = studio.ui;
    ui.section("Match a colour");
    ColourDesk& desk = studio.view.shelf.at<ColourDesk>();
    if (desk.wanted) {
        ui.swatch(*desk.wanted, ImVec2(ui.px(40), ui.px(32)));
        ImGui::SameLine(0, ui.px(8));
    }
    if (ui.text_field("match-colour", "", desk.wanted_text, "Wanted colour, like #3f6f7c").changed)
        desk.wanted = colour::encoded_from_hex(desk.wanted_text);
    if (!desk.wanted) {
        ui.quiet_text("Type a colour, or pick one from a picture above.");
        return;
    }
    draw_limits(studio, desk);
    ask(studio, desk);
    draw_recipes(studio, desk, portion);
}

}  // namespace foreslice::studio
