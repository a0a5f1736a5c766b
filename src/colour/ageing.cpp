#include "colour/ageing.h"

#include <algorithm>
#include <cmath>

#include "colour/upsampling.h"

namespace foreslice::colour {
namespace {

double between(Likely likely, double lightest, double middle, double darkest) {
    return likely == Likely::middle ? middle : likely == Likely::lightest ? lightest : darkest;
}

constexpr double usual_superfat_percent = 5, usual_lye_percent = 33;
constexpr double naoh_kg_per_kg_oils = 0.14862;

double water_per_naoh(double lye_percent) {
    return (100 - lye_percent) / lye_percent;
}

// ---- the oils --------------------------------------------------------------------------------------------
constexpr double tint_scattering_per_mm = 0.6;  // of the bars that the table's colours describe

Spectrum absorption_of(std::string_view hex) {
    const Spectrum r = reflectance_from(decoded(encoded_from_hex(hex).value()));
    Spectrum k{};
    for (std::size_t i = 0; i < band_count; ++i)
        k[i] = tint_scattering_per_mm * k_over_s_of(saunderson_inverse(r[i], Surface{}));
    return k;
}

/// K of a bar that is wholly of this oil.
Spectrum absorption_of(const OilTint& oil) {
    const Spectrum bar = absorption_of(oil.hex);
    if (oil.of_percent >= 100) return bar;
    static const Spectrum rest = absorption_of("#f4f0e4");
    const double share = oil.of_percent / 100;
    Spectrum k{};
    for (std::size_t i = 0; i < band_count; ++i)
        k[i] = std::max(0.0, (bar[i] - (1 - share) * rest[i]) / share);
    return k;
}

const std::vector<Spectrum>& oil_absorptions() {
    static const std::vector<Spectrum> all = [] {
        std::vector<Spectrum> list;
        for (const OilTint& oil : oil_tints()) list.push_back(absorption_of(oil));
        return list;
    }();
    return all;
}

void tint_by_oils(Spectrum& absorption, const std::vector<OilShare>& oils, Likely likely) {
    if (oils.empty()) return;
    absorption.fill(0);
    // The same oil comes paler or deeper from another press: a third either way, estimate.
    const double lot = between(likely, 2.0 / 3, 1, 4.0 / 3);
    for (const OilShare& share : oils)
        if (const OilTint* oil = find_oil(share.oil)) {
            const Spectrum& k = oil_absorptions()[static_cast<std::size_t>(oil - oil_tints().data())];
            for (std::size_t i = 0; i < band_count; ++i) absorption[i] += lot * share.percent / 100 * k[i];
        }
}

// ---- time
// -------------------------------------------------------------------------------------------------- Drying:
// most of the water that leaves has left in about four weeks; weight falls fast, then slowly (common
// practice, no source). 1 in wet batter, 0 at the reference age, slightly below later.
double water_left(double age_days) {
    constexpr double tau_days = 12;
    const double at_reference = std::exp(-reference_age_days / tau_days);
    return (std::exp(-age_days / tau_days) - at_reference) / (1 - at_reference);
}

// Wet scatterers scatter less, because what fills the gaps is nearer to them in refractive index: A. Angstrom
// 1925 (Geogr. Ann. 7) and J. Lekner, M. C. Dorf: Why some things are darker when wet, Appl. Opt. 27, 1988
// (from memory). How much in soap: estimate, common practice has it "lighter as it dries".
double drying_factor(const BarState& state, Likely likely) {
    const double left = water_left(state.age_days);
    const double loss = between(likely, 0.2, 0.35, 0.5);
    const double water = water_per_naoh(state.lye_percent) / water_per_naoh(usual_lye_percent);
    return 1 - std::min(0.9, left * loss * water);
}

// Gelled soap is deeper and more translucent than ungelled of the same batch (makers' side-by-side pictures,
// common practice, no measurement): fewer, larger scatterers, the same absorption.
double gel_factor(bool gelled, Likely likely) {
    return gelled ? between(likely, 0.5, 0.36, 0.25) : 1;
}

// Free oil fills gaps between soap crystals: a little more translucent (common practice, no source).
double superfat_factor(double superfat_percent) {
    return std::clamp(1 - 0.015 * (superfat_percent - usual_superfat_percent), 0.5, 1.1);
}

// Unrefined oils bleach while the bar cures (common practice, no source): their tint is a quarter stronger in
// fresh batter.
double bleaching_factor(double age_days) {
    return 1 + 0.25 * water_left(age_days);
}

// A brown like that of melanoidins: absorption that falls steadily from blue to red.
double brown_shape(std::size_t band) {
    return std::exp(-(lambda_nm(band) - 450) / 80.0);
}

// Vanillin darkens in alkali and air over days to weeks; below 1 % of the fragrance it is slight, from 10 %
// on dark brown (makers' and suppliers' pages; no colour measurement found). More than in proportion, so that
// both hold at 30 g of fragrance per kg of oils; the span is a factor of two either way.
double browning_per_mm(const BarState& state, Likely likely) {
    if (state.vanillin_g_per_kg_oils <= 0) return 0;
    constexpr double tau_days = 10, per_mm_at_1_g_per_kg = 0.45;
    const double done = 1 - std::exp(-state.age_days / tau_days);
    return between(likely, 0.5, 1, 2) * per_mm_at_1_g_per_kg * std::pow(state.vanillin_g_per_kg_oils, 1.5) *
           done;
}

}  // namespace

const std::vector<OilTint>& oil_tints() {
    static const std::vector<OilTint> tints{
        {"coconut", "coconut", "#f4f0e4", 100},
        {"palm", "palm, refined", "#f4f0e4", 100},
        {"palm-kernel", "palm kernel", "#f4f0e4", 100},
        {"babassu", "babassu", "#f4f0e4", 100},
        {"lard", "lard", "#f4f0e4", 100},
        {"tallow", "tallow", "#f4f0e4", 100},
        {"castor", "castor", "#f4f0e4", 100},
        {"jojoba", "jojoba", "#f4f0e4", 100},
        {"sunflower", "sunflower", "#f1ead6", 100},
        {"safflower", "safflower", "#f1ead6", 100},
        {"canola", "canola", "#f1ead6", 100},
        {"almond", "sweet almond", "#f1ead6", 100},
        {"apricot", "apricot kernel", "#f1ead6", 100},
        {"avocado", "avocado, refined", "#f1ead6", 100},
        {"grapeseed", "grapeseed", "#f1ead6", 100},
        {"shea", "shea, refined", "#f4f0e4", 100},
        {"olive", "olive, refined", "#ece5c8", 100},
        {"olive-pomace", "olive pomace", "#dfdcb0", 100},
        {"olive-virgin", "olive, extra virgin", "#dfd9ae", 100},
        {"rice-bran", "rice bran", "#e9dec0", 100},
        {"shea-unrefined", "shea, unrefined", "#f0e6cb", 100},
        {"cocoa-butter", "cocoa butter, natural", "#f0e6cb", 100},
        {"mango-butter", "mango butter", "#f0e6cb", 100},
        {"avocado-unrefined", "avocado, unrefined", "#cbcb9a", 100},
        {"hemp", "hemp, unrefined", "#b9b886", 100},
        {"palm-red", "palm, red unrefined", "#edb065", 20},
    };
    return tints;
}

const OilTint* find_oil(std::string_view id) {
    const auto& all = oil_tints();
    const auto found = std::find_if(all.begin(), all.end(), [&](const OilTint& oil) { return oil.id == id; });
    return found == all.end() ? nullptr : &*found;
}

Optics plain_bar(const Optics& library_base, const BarState& state, Likely likely) {
    if (state == BarState{}) return library_base;
    Optics bar = library_base;
    tint_by_oils(bar.absorption_per_mm, state.oils, likely);
    const double bleach = bleaching_factor(state.age_days), brown = browning_per_mm(state, likely);
    const double scatter = drying_factor(state, likely) * gel_factor(state.gelled, likely) *
                           superfat_factor(state.superfat_percent);
    for (std::size_t i = 0; i < band_count; ++i) {
        bar.absorption_per_mm[i] = bleach * bar.absorption_per_mm[i] + brown * brown_shape(i);
        bar.scattering_per_mm[i] *= scatter;
    }
    return bar;
}

Optics aged_unit(const Colourant& colourant, double age_days, Likely likely) {
    Optics unit = colourant.unit;
    if (colourant.fade_half_life_days <= 0 && colourant.lost_in_alkali_share <= 0) return unit;
    constexpr double alkali_tau_days = 1;  // the batter's high pH falls within a day or two (common practice)
    const double alkali_lost = std::min(1.0, between(likely, 1.3, 1, 0.7) * colourant.lost_in_alkali_share) *
                               (1 - std::exp(-age_days / alkali_tau_days));
    const double half_life = between(likely, 0.5, 1, 2) * colourant.fade_half_life_days;
    const double kept = (1 - alkali_lost) * (half_life > 0 ? std::exp2(-age_days / half_life) : 1);
    const double peak = *std::max_element(unit.absorption_per_mm.begin(), unit.absorption_per_mm.end());
    const double brown = (1 - kept) * colourant.turns_brown_share * peak * between(likely, 0.7, 1, 1.3);
    for (std::size_t i = 0; i < band_count; ++i)
        unit.absorption_per_mm[i] = kept * unit.absorption_per_mm[i] + brown * std::min(1.0, brown_shape(i));
    return unit;
}

Optics aged_mix(const Optics& library_base, const BarState& state, const std::vector<Dose>& doses,
                Likely likely) {
    std::vector<Colourant> aged;
    aged.reserve(doses.size());
    std::vector<Dose> in_bar = doses;
    for (Dose& dose : in_bar) {
        if (dose.colourant == nullptr ||
            (dose.colourant->fade_half_life_days <= 0 && dose.colourant->lost_in_alkali_share <= 0))
            continue;
        aged.push_back(*dose.colourant);
        aged.back().unit = aged_unit(*dose.colourant, state.age_days, likely);
        dose.colourant = &aged.back();
    }
    return mixed(plain_bar(library_base, state, likely), in_bar);
}

ColourBand colour_band(const Optics& library_base, const BarState& state, const std::vector<Dose>& doses,
                       double thickness_mm) {
    const auto at = [&](Likely likely) {
        return colour_of(aged_mix(library_base, state, doses, likely), {}, thickness_mm);
    };
    ColourBand band{at(Likely::middle), at(Likely::lightest), at(Likely::darkest), 0};
    if (band.lightest.lab.l < band.darkest.lab.l) std::swap(band.lightest, band.darkest);
    if (band.lightest.lab.l < band.middle.lab.l) band.lightest = band.middle;
    if (band.darkest.lab.l > band.middle.lab.l) band.darkest = band.middle;
    band.spread_de00 = ciede2000(band.lightest.lab, band.darkest.lab);
    return band;
}

double ash_veil(const BarState& state, Likely likely) {
    // Cool, wet and exposed soap blooms; gel and strong lye keep it away (common practice, no source).
    const double grown = 1 - std::exp(-state.age_days / 4);
    const double wet = std::clamp((38 - state.lye_percent) / 10, 0.0, 1.0);
    return between(likely, 0.3, 0.1, 0) * grown * wet * (state.gelled ? 0.2 : 1);
}

Spectrum under_veil(const Spectrum& reflectance, double veil) {
    Spectrum out{};
    for (std::size_t i = 0; i < band_count; ++i) out[i] = reflectance_finite(0, veil, 1, reflectance[i]);
    return out;
}

double batter_kg_per_kg_oils(double superfat_percent, double lye_percent, double fragrance_g_per_kg_oils) {
    const double naoh = naoh_kg_per_kg_oils * (1 - superfat_percent / 100);
    return 1 + naoh * (1 + water_per_naoh(lye_percent)) + fragrance_g_per_kg_oils / 1000;
}

}  // namespace foreslice::colour
