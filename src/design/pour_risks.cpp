// What is risky about how the batter goes in.
#include "design/internal/pour_risks.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "batter/pouring.h"
#include "design/internal/json.h"
#include "foundation/error.h"
#include "foundation/numbers.h"

namespace foreslice::design {
namespace {

constexpr double thick_line_mm = 0.5;       // common practice, no source: thicker ones part when cut
constexpr double holding_allowance = 1.15;  // of a shape that just holds

class PourWatcher {
  public:
    PourWatcher(const Design& design, const Warn& warn) : design_(design), warn_(warn) {}

    void all() {
        for (std::size_t i = 0; i < design_.pours.size(); ++i) {
            const Pour& pour = design_.pours[i];
            if (pour.sifted_over) line(i, *pour.sifted_over);
            if (pour.with_previous) continue;
            const bool last = end_of_group(design_, i) == design_.pours.size();
            if (pour.manner == PourManner::free_fall) fall(i);
            if (pour.manner == PourManner::tilted) last ? levelled(i, "tilted") : tilt(i);
            if (pour.manner == PourManner::hills) last ? levelled(i, "shaped into hills") : hills(i);
            if (pour.manner == PourManner::side_by_side && end_of_group(design_, i) == i + 1)
                warn_(at(i) + "/manner", "This pour stands between dividers with nothing beside it.",
                      "Let the next pour go in together with it, or lay it over a spatula.");
        }
    }

  private:
    static std::string at(std::size_t pour) { return path_to("/pours", pour); }
    std::string name(std::size_t pour) const {
        const Portion* portion = find_portion(design_, design_.pours[pour].portion);
        return portion ? portion->name : design_.pours[pour].portion;
    }
    double yield_mm(const Pour& pour) const {
        return batter::yield_length_mm(holding_yield_stress_pa(design_, pour),
                                       design_.batter.density_kg_per_m3);
    }

    void line(std::size_t i, const SiftedLine& line) {
        if (line.thickness_mm > thick_line_mm)
            warn_(at(i) + "/sifted_over/thickness_mm",
                  "A line of " + plain_number(line.thickness_mm) + " mm over " + name(i) +
                      " keeps the layers from bonding: bars part there when they are cut.",
                  "Sift half a millimetre or less.");
    }

    void fall(std::size_t i) {
        const Pour& pour = design_.pours[i];
        const double before = level_after_mm(design_, i);
        const auto stream = batter::plunge_of(rheology_of(pour, design_), design_.batter.density_kg_per_m3,
                                              pour.fall.height_mm, pour.fall.rate_ml_per_s);
        if (i == 0 || before <= 2 * stream.stream_radius_mm) return;
        if (stream.depth_mm >= before)
            warn_(at(i) + "/fall",
                  "The stream of " + name(i) + " goes through all " + rounded_number(before, 1) +
                      " mm of batter to the floor and spreads there.",
                  "Pour from lower down, slower, or at a thicker trace.");
        else if (stream.depth_mm == 0)
            warn_(at(i) + "/fall",
                  "Batter this thick does not take the stream of " + name(i) + " in: it heaps up on top.",
                  "Pour at a thinner trace, from higher up or faster, if it should plunge.");
    }

    void levelled(std::size_t i, const std::string& how) {
        warn_(at(i) + "/manner",
              "The last pour, " + name(i) + ", cannot be " + how + ": it fills the mould level.",
              "Give the shape to an earlier pour.");
    }

    // Half of what a tilt raises one side over the other, against what stays: a long slope of tau_y / (rho g
    // h), or a ripple of e tau_y / (rho g).
    void tilt(std::size_t i) {
        const Pour& pour = design_.pours[i];
        const double half = 0.5 * design_.mould.width_mm;
        const double asked = half * std::tan(std::abs(pour.tilt_deg) * std::numbers::pi / 180);
        held(i, "/tilt_deg", "The slope of " + name(i), asked,
             std::max(std::numbers::e,
                      half / std::max(1.0, level_after_mm(design_, end_of_group(design_, i)))));
    }
    void hills(std::size_t i) {
        const Hills& hills = design_.pours[i].hills;
        double asked = hills.amplitude_mm;
        if (!hills.heights_mm.empty()) {
            const auto [low, high] = std::minmax_element(hills.heights_mm.begin(), hills.heights_mm.end());
            asked = 0.5 * (*high - *low);
        }
        held(i, "/hills", "The hills of " + name(i), asked, std::numbers::e);
    }
    void held(std::size_t i, const std::string& field, const std::string& what, double asked_mm,
              double yields) {
        const double stays = yields * yield_mm(design_.pours[i]);
        if (asked_mm <= holding_allowance * stays) return;
        const double needed_pa = asked_mm / yields * 1e-3 * design_.batter.density_kg_per_m3 * 9.80665;
        warn_(at(i) + field,
              what + " (" + rounded_number(asked_mm, 1) + " mm from level) flows down to about " +
                  rounded_number(stays, 1) + " mm before it sets.",
              "Wait until it holds a yield stress of about " + plain_number(std::ceil(needed_pa)) +
                  " Pa and say so, or ask for less.");
    }

    const Design& design_;
    const Warn& warn_;
};

}  // namespace

void watch_manners(const Design& design, const Warn& warn) {
    PourWatcher(design, warn).all();
}

}  // namespace foreslice::design
