#include "colour/learned.h"

#include <algorithm>
#include <iomanip>
#include <sstream>
#include <utility>

namespace foreslice::colour {

Colourant learned_colourant(const SwatchFit& fit, const std::vector<TestBar>& bars, const PhotoSource& source,
                            const std::string& id, const std::string& name, const std::string& kind,
                            const Colourant* before) {
    Colourant c = before != nullptr ? *before : Colourant{};
    double most = before != nullptr ? c.usual_most_g_per_kg_oils : 0;
    std::ostringstream doses, words;
    for (const TestBar& bar : bars) {
        doses << (doses.tellp() > 0 ? ", " : "") << bar.g_per_kg_oils << "+" << bar.white_g_per_kg_oils;
        most = std::max(most, 1.5 * bar.g_per_kg_oils);  // a little beyond what was seen
    }
    words << "Fitted to " << bars.size() << " bars in the photo " << source.file_name
          << " (colourant+white, g per kg of oils: " << doses.str() << "), mean dE00 " << std::fixed
          << std::setprecision(2) << fit.mean_de00 << ", greatest " << fit.greatest_de00 << "; card taken as "
          << std::setprecision(0) << 100 * source.card_reflectance << " %.";
    if (!fit.scattering_known) words << " Its scattering is a guess.";
    c.id = id;
    c.name = name.empty() ? id : name;
    c.kind = kind;
    c.unit = fit.unit;
    c.usual_most_g_per_kg_oils = most;
    c.measured = false;
    c.provenance = words.str();
    return c;
}

std::string learned_base_provenance(const PhotoSource& source) {
    return "Fitted to the plain bar in the photo " + source.file_name +
           ": K from its colour through a least-slope reflectance (Burns 2017), S as before.";
}

ColourantLibrary with_colourant(const ColourantLibrary& library, Colourant colourant) {
    std::vector<Colourant> all = library.colourants();
    const auto same =
        std::find_if(all.begin(), all.end(), [&](const Colourant& c) { return c.id == colourant.id; });
    if (same != all.end())
        *same = std::move(colourant);
    else
        all.push_back(std::move(colourant));
    return ColourantLibrary(library.base(), library.base_provenance(), std::move(all));
}

ColourantLibrary with_base(const ColourantLibrary& library, const Optics& base,
                           const std::string& provenance) {
    return ColourantLibrary(base, provenance, library.colourants());
}

std::string id_from_name(const std::string& name) {
    std::string id;
    for (const char c : name) {
        const char lower = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        if ((lower >= 'a' && lower <= 'z') || (lower >= '0' && lower <= '9'))
            id += lower;
        else if (!id.empty() && id.back() != '-')
            id += '-';
    }
    while (!id.empty() && id.back() == '-') id.pop_back();
    return id.empty() ? "colourant" : id.substr(0, 60);
}

}  // namespace foreslice::colour
