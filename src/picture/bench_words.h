// Words and figures that the parts of a bench sheet, and the studio's bench, share.
#pragma once

#include <string>
#include <vector>

#include "batter/rounding.h"
#include "batter/units.h"
#include "picture/bench_sheet.h"

namespace foreslice::picture {

/// With so many decimals, no trailing zeros.
std::string shown(double value, int decimals = 1);
/// "287 g", "10.10 oz".
std::string words_of(const batter::Weighing& weight);
/// A mass that is only spoken of: "1458 g", "3.21 lb".
std::string mass_words(double g, batter::UnitSystem units);
/// "283 ml", "9.6 fl oz".
std::string volume_words(double ml, batter::UnitSystem units);
/// "65 mm", "2.56 in".
std::string length_words(double mm, batter::UnitSystem units);
/// "35 °C", "95 °F".
std::string temperature_words(double celsius, batter::UnitSystem units);
/// The scales that a sheet uses.
struct Scales {
    batter::Scale coarse, fine, powder;
};
Scales scales_of(batter::UnitSystem units, const BenchOptions& options);

/// Short cautions for everybody at the bench.
const std::vector<std::string>& lye_cautions();
extern const char* const not_an_assessment;

/// A row for a weight, with its exact value where rounding hides more than a fiftieth of a step.
BenchRow row_of(std::string id, std::string name, std::string note, const batter::Weighing& weight);

std::vector<BenchStep> bench_steps(const BenchInput& input, const BenchSheet& sheet,
                                   const BenchOptions& options);
std::vector<BenchFact> bench_dates(const BenchInput& input, const BenchOptions& options);
std::vector<BenchPour> bench_pours(const BenchInput& input, const BenchSheet& sheet);
std::vector<BenchWire> bench_wires(const design::Design& design);
std::vector<BenchJug> bench_jugs(const BenchInput& input, const BenchOptions& options, const Scales& scales,
                                 double pot_g, batter::UnitSystem units);
/// What stands under a powder's name: its spoon and liquid, or the paste it comes from.
std::string words_under(const BenchPowder& powder);

}  // namespace foreslice::picture
