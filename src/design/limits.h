// What every number and list of a design may be. One table for the reader, the validation, the JSON Schema's
// test and the studio's fields, so that they cannot disagree.
#pragma once

#include <cstddef>

namespace foreslice::design {

/// Both ends are allowed.
struct Range {
    double least = 0;
    double most = 0;
    bool holds(double value) const { return value >= least && value <= most; }  // false for NaN
};

namespace limits {

inline constexpr Range mould_width_mm{20, 500};
inline constexpr Range mould_height_mm{10, 500};
inline constexpr Range mould_length_mm{30, 3000};
inline constexpr Range fill_mm{5, 500};  ///< and not above the mould's height

inline constexpr Range density_kg_per_m3{500, 1500};
inline constexpr Range consistency_pa_sn{0.001, 10000};
inline constexpr Range flow_index{0.1, 1.5};
inline constexpr Range yield_stress_pa{0, 10000};

inline constexpr Range share_percent{0, 100};
inline constexpr Range times_as_thick{0.05, 20};
inline constexpr Range dose_g_per_kg_oils{0, 200};
inline constexpr Range dose_g_per_kg_batter{0, 140};
inline constexpr Range dose_percent_of_batter{0, 14};
inline constexpr Range dose_teaspoons_per_pound_oils{0, 100};
inline constexpr Range dose_drops_per_kg_oils{0, 20000};
inline constexpr Range parts_of_carrier{0.2, 50};
inline constexpr Range drops_per_ml{5, 60};
inline constexpr Range part_percent{0.01, 100};
inline constexpr Range unevenness_mm{0, 20};
inline constexpr Range folds{1, 7};
inline constexpr Range fall_height_mm{5, 1000};
inline constexpr Range fall_rate_ml_per_s{1, 500};
inline constexpr Range fall_at_mm{0, 500};  ///< and inside the mould
inline constexpr Range foot_mm{2, 500};
inline constexpr Range tilt_deg{-60, 60};
inline constexpr Range hill_amplitude_mm{0, 60};
inline constexpr Range hill_wavelength_mm{5, 1000};
inline constexpr Range hill_crest_mm{0, 500};
inline constexpr Range hill_height_mm{-100, 100};
inline constexpr Range room_width_mm{2, 500};
inline constexpr Range divider_mm{0, 5};
inline constexpr Range firmed_yield_stress_pa{0, 10000};
inline constexpr Range tapped_percent{0, 100};
inline constexpr Range line_thickness_mm{0.05, 1};

inline constexpr Range wire_diameter_mm{1, 30};
inline constexpr Range speed_mm_per_s{1, 500};
inline constexpr Range after_pours{1, 500};  ///< and not more than there are
inline constexpr Range pass_count{1, 200};
inline constexpr Range pass_spacing_mm{0.5, 500};
inline constexpr Range pass_margin_mm{0.5, 500};
inline constexpr Range slant_deg{-60, 60};
inline constexpr Range zigzag_count{1, 100};
inline constexpr Range loop_count{1, 50};
inline constexpr Range loop_width_mm{2, 500};
inline constexpr Range comb_wires{1, 40};
inline constexpr Range comb_spacing_mm{1, 500};
inline constexpr Range strip_width_mm{1, 500};
inline constexpr Range strip_thickness_mm{0.5, 30};
inline constexpr Range strip_angle_deg{-90, 90};
inline constexpr Range floor_clearance_mm{0, 500};
inline constexpr Range top_clearance_mm{0, 500};
/// Either coordinate of a waypoint; the mould and the wire narrow it further.
inline constexpr Range waypoint_mm{0, 1000};

inline constexpr Range oil_percent{0, 100};
inline constexpr Range superfat_percent{0, 30};
inline constexpr Range lye_percent{20, 50};
inline constexpr Range fragrance_g_per_kg_oils{0, 100};
inline constexpr Range vanillin_percent{0, 100};
inline constexpr Range age_days{0, 3650};
inline constexpr Range wander_mm{0, 10};
inline constexpr Range sag_mm{0, 20};

inline constexpr Range oil_g{0.001, 1000000};
inline constexpr Range recipe_oil_percent{0.001, 100};
inline constexpr Range certificate_koh_mg_per_g{40, 400};
inline constexpr Range koh_percent{0, 100};
inline constexpr Range naoh_purity_percent{80, 100};
inline constexpr Range koh_purity_percent{70, 100};
inline constexpr Range water_parts_per_alkali{1, 4};
inline constexpr Range water_percent_of_oils{5, 60};
inline constexpr Range liquid_percent{0, 100};
inline constexpr Range fragrance_limit_percent{0.01, 100};
inline constexpr Range moulds{1, 50};
inline constexpr Range liner_mm{0, 20};
inline constexpr Range top_allowance_mm{0, 50};
inline constexpr Range jug_residue_g{0, 200};
inline constexpr Range spare_percent{0, 50};
/// A place from the left wall; the mould narrows it.
inline constexpr Range across_mm{0, 500};
inline constexpr Range spooned_width_mm{4, 500};
inline constexpr Range lump_mm{0, 200};
inline constexpr Range top_height_mm{0.2, 40};
inline constexpr Range top_spacing_mm{2, 200};
inline constexpr Range lean{-1, 1};
inline constexpr Range glitter_cover_percent{0.1, 60};
inline constexpr Range glitter_size_mm{0.1, 3};
inline constexpr Range bits_per_cm2{0.01, 400};
inline constexpr Range bits_percent{0.01, 30};
inline constexpr Range bit_mm{0.1, 20};
inline constexpr Range roundness{0.05, 1};
inline constexpr Range embed_width_mm{0.5, 300};
inline constexpr Range embed_height_mm{0.3, 300};
inline constexpr Range embed_angle_deg{-180, 180};
inline constexpr Range embed_point_mm{-500, 500};

inline constexpr Range bar_thickness_mm{5, 200};
inline constexpr Range trim_mm{0, 1500};
/// Whole numbers up to 2^53 - 1: as far as every JSON reader keeps them exactly.
inline constexpr Range seed{0, 9007199254740991.0};

/// The wire may be at most this share of the mould's width, and must keep this many of its radii from walls
/// and floor: closer, the force on it grows without bound and the flow cannot be solved.
inline constexpr double most_wire_per_width = 0.5;
inline constexpr double least_gap_per_radius = 0.25;
/// A path that never gets this far (mm) from where it starts is no movement.
inline constexpr double least_reach_mm = 1;

/// Ridges and heaps of the top may be at most this share of what is poured.
inline constexpr double most_top_per_fill = 0.4;
/// Bits may not be larger than this share of the mould's width.
inline constexpr double most_bit_per_width = 0.25;

/// How far the shares of all portions, or the parts of one, may add up to something other than 100 %.
inline constexpr double percent_slack = 0.5;

inline constexpr std::size_t portions = 64;
inline constexpr std::size_t doses = 32;  ///< in one portion
inline constexpr std::size_t oils = 40;
inline constexpr std::size_t liquids = 10;
inline constexpr std::size_t additives = 20;
inline constexpr std::size_t stock_file_length = 200;  ///< characters
inline constexpr std::size_t pours = 500;
inline constexpr std::size_t fall_places = 50;   ///< of one pour
inline constexpr std::size_t hill_heights = 40;  ///< of one pour
inline constexpr std::size_t strokes = 200;
inline constexpr std::size_t spooned = 20;
inline constexpr std::size_t top_strokes = 8;
inline constexpr std::size_t glitters = 8;
inline constexpr std::size_t scattered = 16;
inline constexpr std::size_t embeds = 100;
inline constexpr std::size_t embed_points = 60;  ///< of one curve
inline constexpr std::size_t waypoints = 10000;  ///< in one stroke
inline constexpr std::size_t id_length = 64;
inline constexpr std::size_t name_length = 200;     ///< characters
inline constexpr std::size_t notes_length = 20000;  ///< characters
inline constexpr std::size_t file_bytes = 4U << 20;
inline constexpr std::size_t json_depth = 32;          ///< lists and objects inside each other
inline constexpr std::size_t json_list_items = 20000;  ///< in any one list
inline constexpr std::size_t json_fields = 1000;       ///< in any one object

}  // namespace limits
}  // namespace foreslice::design
