#include "studio/session/pour_edits.h"

#include <algorithm>
#include <utility>

#include "design/limits.h"

namespace foreslice::studio {

using design::Design;

std::size_t first_together(const Design& design, std::size_t pour) {
    while (pour > 0 && pour < design.pours.size() && design.pours[pour].with_previous) --pour;
    return pour;
}

Design with_manner(Design design, std::size_t pour, design::PourManner manner) {
    if (pour >= design.pours.size()) return design;
    const std::size_t first = first_together(design, pour), end = design::end_of_group(design, first);
    for (std::size_t i = first; i < end; ++i) design.pours[i].manner = manner;
    return design;
}

Design with_togetherness(Design design, std::size_t pour, bool together) {
    if (pour == 0 || pour >= design.pours.size()) return design;
    design.pours[pour].with_previous = together;
    const auto manner = design.pours[pour - 1].manner;
    if (together) design = with_manner(std::move(design), pour, manner);
    return with_pours_mended(std::move(design));
}

Design with_line(Design design, std::size_t pour, const std::string& colourant) {
    if (pour >= design.pours.size()) return design;
    auto& line = design.pours[pour].sifted_over;
    if (colourant.empty())
        line.reset();
    else if (line)
        line->colourant = colourant;
    else
        line = design::SiftedLine{colourant};
    return design;
}

Design with_fall_places(Design design, std::size_t pour, std::size_t places) {
    if (pour >= design.pours.size()) return design;
    auto& at_mm = design.pours[pour].fall.at_mm;
    at_mm.clear();
    places = std::min(places, design::limits::fall_places);
    if (places < 2) return design;
    for (std::size_t k = 0; k < places; ++k)
        at_mm.push_back(design.mould.width_mm * (static_cast<double>(k) + 0.5) / static_cast<double>(places));
    return design;
}

Design with_pours_mended(Design design) {
    for (std::size_t i = 0; i < design.pours.size(); ++i)
        if (design.pours[i].with_previous && (i == 0 || design.pours[i].manner != design.pours[i - 1].manner))
            design.pours[i].with_previous = false;
    for (auto& stroke : design.strokes) {
        std::size_t pours = design::pours_before(stroke, design);
        while (pours < design.pours.size() && design.pours[pours].with_previous) ++pours;
        if (stroke.after_pours) stroke.after_pours = static_cast<int>(std::max<std::size_t>(1, pours));
    }
    return design;
}

}  // namespace foreslice::studio
