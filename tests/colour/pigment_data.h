// The open pigment measurements in tests/data/colour, brought to the room's wavelength grid.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "colour/pigment.h"

namespace foreslice::testing {

/// K and S relative to the titanium white of the same data set (its S = 1 at every wavelength).
struct RelativeOptics {
    colour::Spectrum k{}, s{};
};

/// One of the 19 paints of the artist-paint set, by the name in the column heads ("PB29 ultramarine blue").
RelativeOptics artist_paint(const std::filesystem::path& data, const std::string& paint);

/// A paint of the masstone-and-tint set: two measured reflectances (surface included) and the tint's share.
struct TwoSwatches {
    std::string pigment;
    colour::Spectrum masstone{}, tint{};
    double tint_share = 0;  ///< mass of this paint in the tint, the rest is white
};

/// All paints of the set that have both swatches; `white` receives the masstone of its white. Bands below
/// 420 nm (which the author calls unreliable) and the one beyond 720 nm repeat the nearest good band.
std::vector<TwoSwatches> masstone_and_tint(const std::filesystem::path& data, colour::Spectrum& white);

/// The surface taken for that set: read without the specular part, acrylic binder n = 1.5.
inline constexpr colour::Surface two_swatch_surface{0.04, 0.596, false};

/// The closed form: S_p = w (K_w - t S_w) / (c (t - m)), K_p = m S_p, with S_w = 1; m and t are K/S of
/// masstone and tint, c the tint's share, w = 1 - c.
RelativeOptics two_swatch_optics(const TwoSwatches& swatches, const colour::Spectrum& white);

}  // namespace foreslice::testing
