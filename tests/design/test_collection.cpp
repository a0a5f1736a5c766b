// The demo collection: every design in palettes/ can be made, and stands there as the program writes it.
#include <doctest/doctest.h>

#include <set>

#include "design/design_file.h"
#include "design/samples.h"
#include "design/validation.h"
#include "foundation/text_file.h"

using namespace foreslice;
using namespace foreslice::design;

namespace {

std::set<std::filesystem::path> collection() {
    std::set<std::filesystem::path> files;
    for (const auto& entry :
         std::filesystem::directory_iterator(std::filesystem::path(FORESLICE_SOURCE) / "palettes"))
        if (entry.path().filename().string().find(".foreslice.json") != std::string::npos)
            files.insert(entry.path());
    return files;
}

}  // namespace

TEST_CASE("collection: twelve designs, each valid, with bars, and canonical on disk") {
    CHECK(collection().size() == 12);
    for (const auto& path : collection()) {
        CAPTURE(path.string());
        const Design design = load(path);
        CHECK_NOTHROW(validate(design, samples::library(), path.string()));
        CHECK(bar_count(design) >= 10);
        CHECK(read_file(path) == to_json(design));
        CHECK_FALSE(design.unknown);
    }
}

TEST_CASE("collection: they differ in what they show") {
    std::set<std::size_t> layer_counts;
    std::set<double> yield_stresses_pa;
    int without_wire = 0, by_passes = 0, by_waypoints = 0;
    for (const auto& path : collection()) {
        const Design design = load(path);
        layer_counts.insert(design.pours.size());
        yield_stresses_pa.insert(design.batter.rheology().yield_stress_pa);
        without_wire += design.strokes.empty() ? 1 : 0;
        if (design.strokes.empty()) continue;
        (std::holds_alternative<Passes>(design.strokes[0].path) ? by_passes : by_waypoints) += 1;
    }
    CHECK(layer_counts.size() >= 3);
    CHECK(yield_stresses_pa.size() >= 4);
    CHECK(without_wire >= 4);
    CHECK(by_passes >= 1);
    CHECK(by_waypoints >= 3);
}

TEST_CASE("collection: the shared stripe of lamp amber starts near 58 to 60 per cent of the height") {
    for (const auto& path : collection()) {
        const Design design = load(path);
        const auto areas = pour_areas_mm2(design);
        double below = 0;
        for (std::size_t i = 0; i < areas.size() && design.pours[i].portion != "amber"; ++i)
            below += areas[i];
        const double share = below / (design.mould.width_mm * design.mould.fill_mm);
        CAPTURE(path.string());
        CHECK(share > 0.575);
        CHECK(share < 0.605);
    }
}

TEST_CASE("collection: the planned warning of the white-heavy design is given") {
    const auto path = std::filesystem::path(FORESLICE_SOURCE) / "palettes" / "fog-signal.foreslice.json";
    bool rivers = false;
    for (const Warning& warning : warnings(load(path), samples::library()))
        rivers |= warning.sentence.find("glycerine rivers") != std::string::npos;
    CHECK(rivers);
}
