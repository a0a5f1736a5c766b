#include "colour/shape_data.h"

#include <algorithm>

#include "colour/pigment_data.h"

namespace foreslice::testing {
namespace {

constexpr double least_absorption = 1e-4, least_scattering = 1e-3;  // logarithms are taken of them

MeasuredShape shape(std::string name, const RelativeOptics& optics) {
    MeasuredShape out{std::move(name), optics.k, optics.s};
    for (double& k : out.absorption) k = std::max(k, least_absorption);
    for (double& s : out.scattering) s = std::max(s, least_scattering);
    return out;
}

}  // namespace

const std::vector<std::string>& artist_pigments() {
    static const std::vector<std::string> names{"PBk9 bone black",
                                                "PB29 ultramarine blue",
                                                "PB28 cobalt blue",
                                                "PY184 bismuth vanadate yellow",
                                                "PY74 arylide yellow",
                                                "PY83 diarylide yellow",
                                                "PO20 cadmium orange",
                                                "PO73 pyrrole orange",
                                                "PR108 cadmium red",
                                                "PR254 pyrrole red",
                                                "PV19 quinacridone red",
                                                "PR122 quinacridone magenta",
                                                "PV23 dioxazine violet",
                                                "PB15:4 green shade phthalocyanine blue GS",
                                                "PG7 phthalocyanine green BS"};
    return names;
}

std::vector<MeasuredShape> measured_shapes(const std::filesystem::path& data) {
    std::vector<MeasuredShape> all;
    for (const std::string& name : artist_pigments())
        all.push_back(shape("artist paint " + name, artist_paint(data, name)));
    colour::Spectrum white{};
    for (const TwoSwatches& paint : masstone_and_tint(data, white))
        all.push_back(shape("set 2, " + paint.pigment, two_swatch_optics(paint, white)));
    return all;
}

}  // namespace foreslice::testing
