// A fitted colourant and base as entries of a library, with where they come from.
#pragma once

#include <string>
#include <vector>

#include "colour/pigment.h"
#include "colour/swatch_fit.h"

namespace foreslice::colour {

/// What a library says about the photo behind a fit.
struct PhotoSource {
    std::string file_name;          ///< without folders
    double card_reflectance = 0.9;  ///< 0..1
};

/// A new entry, or a renewed one: what `before` (may be null) knows beside its optics is kept.
Colourant learned_colourant(const SwatchFit& fit, const std::vector<TestBar>& bars, const PhotoSource& source,
                            const std::string& id, const std::string& name, const std::string& kind,
                            const Colourant* before);
/// The words for a base that was fitted to the plain bar of a photo.
std::string learned_base_provenance(const PhotoSource& source);
/// The library with this entry in the place of the one of the same id, or added.
ColourantLibrary with_colourant(const ColourantLibrary& library, Colourant colourant);
ColourantLibrary with_base(const ColourantLibrary& library, const Optics& base,
                           const std::string& provenance);
/// "quay blue" -> "quay-blue": an id for a library file; "colourant" when nothing is left.
std::string id_from_name(const std::string& name);

}  // namespace foreslice::colour
