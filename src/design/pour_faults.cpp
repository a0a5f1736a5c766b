// How the numbers of the pours fit together and into the mould.
#include "design/internal/pour_faults.h"

#include "design/internal/json.h"
#include "design/internal/pour_tree.h"
#include "foundation/error.h"

namespace foreslice::design {
namespace {

constexpr double slack_mm = 1;  // that the widths of rooms may miss the mould's by

std::string at_pour(std::size_t pour, const std::string& field) {
    return path_to("/pours", pour) + "/" + field;
}

void check_together(const Design& design, std::size_t pour, const Fail& fail) {
    if (!design.pours[pour].with_previous) return;
    if (pour == 0)
        fail(at_pour(pour, "with_previous"), "there is no pour before the first one to go in with",
             "false, or the field left out");
    if (design.pours[pour].manner != design.pours[pour - 1].manner)
        fail(at_pour(pour, "manner"),
             "this pour goes in together with the one before it, which is " +
                 foreslice::quoted(manner_names()[static_cast<std::size_t>(design.pours[pour - 1].manner)]),
             "the same manner for both");
}

void check_rooms(const Design& design, std::size_t first, const Fail& fail) {
    const std::size_t end = end_of_group(design, first);
    const double width = design.mould.width_mm;
    double given = 0;
    int open = 0;
    for (std::size_t i = first; i < end; ++i) {
        if (design.pours[i].beside.width_mm)
            given += *design.pours[i].beside.width_mm;
        else
            ++open;
    }
    const double room = width - open * limits::room_width_mm.least;
    if (open > 0 && given > room)
        fail(at_pour(first, "beside/width_mm"),
             "rooms of " + plain_number(given) + " mm together leave no place for those without a width",
             "at most " + plain_number(room) + " mm together");
    if (open == 0 && (given > width + slack_mm || given < width - slack_mm))
        fail(at_pour(first, "beside/width_mm"),
             "the rooms are " + plain_number(given) + " mm wide together, the mould " + plain_number(width) +
                 " mm",
             "widths that add up to the mould's, or one room without a width");
}

void check_falls(const Design& design, std::size_t pour, const Fail& fail) {
    const auto& places = design.pours[pour].fall.at_mm;
    for (std::size_t k = 0; k < places.size(); ++k)
        if (places[k] > design.mould.width_mm)
            fail(path_to(at_pour(pour, "fall/at_mm"), k),
                 "the stream would miss the mould at " + plain_number(places[k]) + " mm",
                 "0 to " + plain_number(design.mould.width_mm) + " (the mould's width)");
}

}  // namespace

void check_manners(const Design& design, const Fail& fail) {
    double lines_mm = 0;
    for (std::size_t pour = 0; pour < design.pours.size(); ++pour) {
        check_together(design, pour, fail);
        const PourManner manner = design.pours[pour].manner;
        if (manner == PourManner::side_by_side && !design.pours[pour].with_previous)
            check_rooms(design, pour, fail);
        if (manner == PourManner::free_fall) check_falls(design, pour, fail);
        if (const auto& line = design.pours[pour].sifted_over) lines_mm += line->thickness_mm;
    }
    if (lines_mm > 0.1 * design.mould.fill_mm)
        fail("/pours", "the sifted lines are " + plain_number(lines_mm) + " mm thick together",
             "at most a tenth of the fill height, " + plain_number(0.1 * design.mould.fill_mm) + " mm");
    for (std::size_t i = 0; i < design.strokes.size(); ++i) {
        const std::size_t pours = pours_before(design.strokes[i], design);
        if (pours < design.pours.size() && design.pours[pours].with_previous)
            fail(path_to("/strokes", i) + "/after_pours",
                 "after " + std::to_string(pours) + " pours the next one goes in together with the last",
                 "a number of pours after which the mould stands still");
    }
}

}  // namespace foreslice::design
