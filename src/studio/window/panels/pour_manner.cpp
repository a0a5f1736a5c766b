// How the chosen pour goes in: its manner and the few numbers of it.
#include <algorithm>
#include <array>

#include "design/limits.h"
#include "studio/session/edits.h"
#include "studio/session/pour_edits.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

namespace limits = design::limits;
using design::PourManner;

struct MannerWords {
    PourManner manner;
    const char *id, *words, *help;
};
constexpr std::array manner_words{
    MannerWords{PourManner::laid, "laid", "laid over a spatula",
                "Comes to rest on top and moves nothing of what is there."},
    MannerWords{
        PourManner::free_fall, "free-fall", "falling in a stream",
        "Plunges in when the batter is thin enough for its fall, and heaps up on top when it is not."},
    MannerWords{PourManner::down_the_wall, "down-the-wall", "down one wall",
                "A wedge at the wall that pushes what is there aside."},
    MannerWords{
        PourManner::tilted, "tilted", "with the mould tilted",
        "Level while the mould stands tilted; a wedge once it is set level, as far as the batter holds."},
    MannerWords{PourManner::hills, "hills", "shaped into hills",
                "Laid, and its top shaped with a spoon or spatula, as far as the batter holds."},
    MannerWords{
        PourManner::side_by_side, "side-by-side", "between dividers",
        "Stands beside the pours that go in together with it; the dividers are pulled when all are in."}};

const MannerWords& words_of(PourManner manner) {
    return manner_words[static_cast<std::size_t>(manner)];
}

std::string pour_title(const design::Design& design, std::size_t pour) {
    const std::size_t portion = portion_index(design, design.pours[pour].portion);
    const std::string name = portion < design.portions.size() ? portion_name(design.portions[portion])
                                                              : design.pours[pour].portion;
    return std::to_string(pour + 1) + "  " + name;
}

/// One number of the chosen pour. `value` finds it in a document.
template <class Find>
void draw_number(const Studio& studio, std::size_t pour, const Quantity& quantity, const std::string& words,
                 Find&& value) {
    auto next = studio.session.design();
    const Edited edited = studio.ui.quantity(quantity, value(next.pours[pour]));
    apply(studio, edited, std::move(next), words, quantity.name + std::to_string(pour));
}

void draw_pour_choice(const Studio& studio) {
    Ui& ui = studio.ui;
    const auto& design = studio.session.design();
    if (!ui.begin_list("manner-of", "Pour", pour_title(design, studio.view.pour))) return;
    for (std::size_t i = design.pours.size(); i-- > 0;)
        if (ui.list_entry("manner-of/" + std::to_string(i), pour_title(design, i), i == studio.view.pour))
            studio.view.pour = i;
    ui.end_list();
}

void draw_manner_choice(const Studio& studio, std::size_t pour) {
    Ui& ui = studio.ui;
    const PourManner now = studio.session.design().pours[pour].manner;
    PourManner chosen = now;
    if (ui.begin_list("manner", "Goes in", words_of(now).words)) {
        for (const auto& entry : manner_words) {
            if (ui.list_entry(std::string("manner/") + entry.id, entry.words, entry.manner == now))
                chosen = entry.manner;
            ui.help(entry.help);
        }
        ui.end_list();
    }
    ui.help(words_of(now).help);
    if (chosen != now)
        studio.session.edit(with_manner(studio.session.design(), pour, chosen), "pour it another way");
}

void draw_fall(const Studio& studio, std::size_t pour) {
    draw_number(
        studio, pour,
        {"fall:height", "Falls", Unit::mm, limits::fall_height_mm.least, limits::fall_height_mm.most, 20, 400,
         10, 0, "From the jug to the surface: higher goes deeper, as the root of the height."},
        "height of the fall", [](auto& p) -> double& { return p.fall.height_mm; });
    draw_number(studio, pour,
                {"fall:rate", "Rate", Unit::ml_per_s, limits::fall_rate_ml_per_s.least,
                 limits::fall_rate_ml_per_s.most, 5, 100, 5, 0,
                 "How fast it is poured: twice as fast goes twice as deep."},
                "rate of the stream", [](auto& p) -> double& { return p.fall.rate_ml_per_s; });
    const auto& at_mm = studio.session.design().pours[pour].fall.at_mm;
    int places = static_cast<int>(std::max<std::size_t>(1, at_mm.size()));
    const Quantity count{"fall:places",
                         "Places",
                         Unit::none,
                         1,
                         limits::fall_places,
                         1,
                         9,
                         1,
                         0,
                         "At how many places, spread evenly; one is the middle."};
    const Edited edited = studio.ui.quantity(count, places);
    apply(studio, edited,
          edited.changed ? with_fall_places(studio.session.design(), pour, static_cast<std::size_t>(places))
                         : studio.session.design(),
          "places of the stream", count.name + std::to_string(pour));
    for (std::size_t k = 0; k < studio.session.design().pours[pour].fall.at_mm.size(); ++k)
        draw_number(studio, pour,
                    {"fall:at:" + std::to_string(k), "Place " + std::to_string(k + 1), Unit::mm, 0,
                     studio.session.design().mould.width_mm, 0, studio.session.design().mould.width_mm, 1, 1,
                     "From the left wall."},
                    "place of the stream", [k](auto& p) -> double& { return p.fall.at_mm[k]; });
}

void draw_wall(const Studio& studio, std::size_t pour) {
    const auto side = studio.session.design().pours[pour].wall.side;
    studio.ui.label("Wall");
    const int clicked = studio.ui.choice("wall:side", {"left", "right"}, side == design::Side::left ? 0 : 1);
    if (clicked >= 0) {
        auto next = studio.session.design();
        next.pours[pour].wall.side = clicked == 0 ? design::Side::left : design::Side::right;
        studio.session.edit(std::move(next), "the other wall");
    }
    draw_number(studio, pour,
                {"wall:foot", "Lands within", Unit::mm, limits::foot_mm.least, limits::foot_mm.most, 5, 65, 1,
                 0, "How far from the wall the batter lands: narrow pushes deep, wide lies as a wedge."},
                "foot of the pour", [](auto& p) -> double& { return p.wall.foot_mm; });
}

void draw_hills(const Studio& studio, std::size_t pour) {
    if (!studio.session.design().pours[pour].hills.heights_mm.empty()) {
        studio.ui.quiet_text("Heights from wall to wall.");
        for (std::size_t k = 0; k < studio.session.design().pours[pour].hills.heights_mm.size(); ++k)
            draw_number(studio, pour,
                        {"hills:height:" + std::to_string(k), "Height " + std::to_string(k + 1), Unit::mm,
                         limits::hill_height_mm.least, limits::hill_height_mm.most, -15, 15, 0.5, 1, ""},
                        "height of a hill", [k](auto& p) -> double& { return p.hills.heights_mm[k]; });
        return;
    }
    draw_number(studio, pour,
                {"hills:amplitude", "Height", Unit::mm, limits::hill_amplitude_mm.least,
                 limits::hill_amplitude_mm.most, 0, 20, 0.5, 1, "Half the way from trough to crest."},
                "height of the hills", [](auto& p) -> double& { return p.hills.amplitude_mm; });
    draw_number(studio, pour,
                {"hills:wavelength", "Apart", Unit::mm, limits::hill_wavelength_mm.least,
                 limits::hill_wavelength_mm.most, 10, 130, 1, 0, "From crest to crest."},
                "distance of the hills", [](auto& p) -> double& { return p.hills.wavelength_mm; });
    draw_number(
        studio, pour,
        {"hills:crest", "A crest at", Unit::mm, limits::hill_crest_mm.least, limits::hill_crest_mm.most, 0,
         studio.session.design().mould.width_mm, 1, 0, "From the left wall."},
        "place of the hills", [](auto& p) -> double& { return p.hills.crest_mm; });
}

void draw_room(const Studio& studio, std::size_t pour) {
    const auto& now = studio.session.design().pours[pour].beside.width_mm;
    bool set = now.has_value();
    if (studio.ui.check("room:set", "a room of a set width", set)) {
        auto next = studio.session.design();
        next.pours[pour].beside.width_mm =
            set ? std::optional<double>(std::max(2.0, 0.25 * next.mould.width_mm)) : std::nullopt;
        studio.session.edit(std::move(next), set ? "set the width of a room" : "let the room fit its batter");
        return;
    }
    if (set)
        draw_number(studio, pour,
                    {"room:width", "Room", Unit::mm, limits::room_width_mm.least, limits::room_width_mm.most,
                     4, studio.session.design().mould.width_mm, 1, 1, "Between the dividers."},
                    "width of a room", [](auto& p) -> double& { return *p.beside.width_mm; });
    draw_number(studio, pour,
                {"room:divider", "Divider", Unit::mm, limits::divider_mm.least, limits::divider_mm.most, 0, 3,
                 0.25, 2, "Thickness of the sheet to its right; pulled out, it drags a fringe up."},
                "thickness of the divider", [](auto& p) -> double& { return p.beside.divider_mm; });
}

void draw_together(const Studio& studio, std::size_t pour) {
    Ui& ui = studio.ui;
    const auto& design = studio.session.design();
    const bool rooms = design.pours[pour].manner == PourManner::side_by_side;
    if (pour > 0) {
        bool together = design.pours[pour].with_previous;
        if (ui.check("together", rooms ? "beside the pour before it" : "from one jug with the pour before it",
                     together)) {
            studio.session.edit(with_togetherness(design, pour, together),
                                together ? "pour two together" : "pour it on its own");
            return;
        }
    }
    const std::size_t first = first_together(design, pour);
    if (rooms || design::end_of_group(design, first) == first + 1) return;
    auto next = design;
    const Quantity folds{
        "folds",
        "Folds",
        Unit::none,
        limits::folds.least,
        limits::folds.most,
        1,
        7,
        1,
        0,
        "How often the portions were folded into each other in the jug; more makes finer bands."};
    const Edited edited = ui.quantity(folds, next.pours[first].folds);
    apply(studio, edited, std::move(next), "folds in the jug", folds.name + std::to_string(first));
}

void draw_line(const Studio& studio, std::size_t pour) {
    Ui& ui = studio.ui;
    const auto& line = studio.session.design().pours[pour].sifted_over;
    const auto& library = studio.session.colour_library();
    const auto* colourant = line ? library.find(line->colourant) : nullptr;
    const std::string shown = line ? (colourant ? colourant->name : line->colourant) : "nothing";
    std::optional<std::string> chosen;
    if (ui.begin_list("line", "Sifted over it", shown)) {
        if (ui.list_entry("line/none", "nothing", !line)) chosen = "";
        for (const auto& one : library.colourants())
            if (ui.list_entry("line/" + one.id, one.name, line && line->colourant == one.id)) chosen = one.id;
        ui.end_list();
    }
    if (chosen) {
        studio.session.edit(with_line(studio.session.design(), pour, *chosen), "sift a line");
        return;
    }
    if (line)
        draw_number(studio, pour,
                    {"line:thickness", "Thickness", Unit::mm, limits::line_thickness_mm.least,
                     limits::line_thickness_mm.most, 0.05, 0.6, 0.05, 2,
                     "Drawn as thin as it is. Half a millimetre or more keeps the layers from bonding."},
                    "thickness of the line", [](auto& p) -> double& { return p.sifted_over->thickness_mm; });
}

void draw_holding(const Studio& studio, std::size_t pour) {
    Ui& ui = studio.ui;
    const auto& now = studio.session.design().pours[pour].firmed_yield_stress_pa;
    bool firmed = now.has_value();
    if (ui.check("firmed", "wait until the batter has firmed", firmed)) {
        auto next = studio.session.design();
        next.pours[pour].firmed_yield_stress_pa = firmed ? std::optional<double>(40) : std::nullopt;
        studio.session.edit(std::move(next), firmed ? "let it firm" : "do not wait");
        return;
    }
    if (firmed)
        draw_number(studio, pour,
                    {"firmed:yield", "Yield stress", Unit::pa, limits::firmed_yield_stress_pa.least,
                     limits::firmed_yield_stress_pa.most, 1, 100, 1, 0,
                     "What holds the shape then: a slope or a hill A mm high needs about 3.6 Pa times A."},
                    "firmness", [](auto& p) -> double& { return *p.firmed_yield_stress_pa; });
}

}  // namespace

void draw_pour_manner(const Studio& studio) {
    Ui& ui = studio.ui;
    const std::size_t count = studio.session.design().pours.size();
    if (count == 0) return;
    studio.view.pour = std::min(studio.view.pour, count - 1);
    ui.section("How it goes in");
    draw_pour_choice(studio);
    const std::size_t pour = studio.view.pour;
    draw_manner_choice(studio, pour);
    const PourManner manner = studio.session.design().pours[pour].manner;
    if (manner == PourManner::free_fall) draw_fall(studio, pour);
    if (manner == PourManner::down_the_wall) draw_wall(studio, pour);
    if (manner == PourManner::tilted)
        draw_number(studio, pour,
                    {"tilt", "Tilt", Unit::degree, limits::tilt_deg.least, limits::tilt_deg.most, -30, 30, 1,
                     0, "Above zero the right side is raised, and the batter runs to the left."},
                    "tilt of the mould", [](auto& p) -> double& { return p.tilt_deg; });
    if (manner == PourManner::hills) draw_hills(studio, pour);
    if (manner == PourManner::side_by_side) draw_room(studio, pour);
    draw_together(studio, pour);
    if (manner != PourManner::laid) draw_holding(studio, pour);
    draw_number(
        studio, pour,
        {"tapped", "Tapped out", Unit::percent, limits::tapped_percent.least, limits::tapped_percent.most, 0,
         100, 5, 0, "Share of the unevenness that tapping the mould on the table takes out."},
        "tapping", [](auto& p) -> double& { return p.tapped_percent; });
    draw_line(studio, pour);
}

}  // namespace foreslice::studio
