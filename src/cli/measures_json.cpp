#include "cli/measures_json.h"

#include <cmath>
#include <nlohmann/json.hpp>

namespace foreslice::cli {

using Json = nlohmann::ordered_json;

double rounded(double value) {
    return std::round(value * 1e4) / 1e4;
}

Json json_of_measures(const picture::FaceMeasures& measures, const design::Design& design) {
    Json out;
    const auto id = [&](int portion) { return design.portions[static_cast<std::size_t>(portion)].id; };
    out["portions"] = Json::array();
    for (std::size_t i = 0; i < measures.portions.size(); ++i) {
        const auto& of = measures.portions[i];
        out["portions"].push_back({{"id", design.portions[i].id},
                                   {"name", design.portions[i].name},
                                   {"poured_percent", rounded(of.poured_percent)},
                                   {"face_percent", rounded(of.face_percent)},
                                   {"feathers", of.feathers}});
    }
    out["band_thickness_mm"] = {{"median", rounded(measures.median_thickness_mm)},
                                {"tenth_percentile", rounded(measures.fine_thickness_mm)}};
    out["muddy_percent"] = rounded(measures.muddy_percent);
    out["muddy_below_mm"] = picture::resolved_mm;
    if (!design.inclusions.none()) out["inclusions_percent"] = rounded(measures.inclusions_percent);
    out["feathers"] = measures.feathers;
    out["symmetry"] = rounded(measures.symmetry);
    out["contrast_de00"] = {{"mean", rounded(measures.mean_contrast_de00)},
                            {"least", rounded(measures.least_contrast_de00)}};
    out["boundaries"] = Json::array();
    for (const auto& boundary : measures.boundaries)
        out["boundaries"].push_back({{"between", {id(boundary.one), id(boundary.other)}},
                                     {"length_mm", rounded(boundary.length_mm)},
                                     {"de00", rounded(boundary.de00)}});
    out["measured_every_mm"] = rounded(measures.lattice_mm);
    return out;
}

}  // namespace foreslice::cli
