// What a maker can do to a design, each as a pure function from one document to the next. Indices are
// checked: an index that is not there returns the design unchanged.
#pragma once

#include <cstddef>
#include <string>

#include "design/design.h"

namespace foreslice::studio {

using design::Design;

/// A small whole design to begin from: four portions of the harbour palette, seven pours, one stroke.
Design starter_design();

/// Sets one portion's share of the batter and lets the others give or take in proportion, so that all still
/// add up to 100 percent. The value is brought into what the other portions can spare (0.5 percent each).
Design with_share(Design design, std::size_t portion, double share_percent);
Design with_white(Design design, std::size_t portion, double g_per_kg_oils);
/// Adds a colourant at a dose; nothing happens when the portion has it already.
Design with_colourant(Design design, std::size_t portion, const std::string& colourant, double g_per_kg_oils);
Design without_dose(Design design, std::size_t portion, std::size_t dose);
/// A new portion with a fresh id and a tenth of the batter, poured last.
Design with_new_portion(Design design);
/// Takes a portion and its pours away; the others share what it had. The last portion stays.
Design without_portion(Design design, std::size_t portion);

/// Moves a pour to another place in the order (0 is poured first).
Design with_pour_moved(Design design, std::size_t from, std::size_t to);
Design with_new_pour(Design design, const std::string& portion);
/// Takes a pour away; the only pour of a portion stays, since its batter has to go somewhere.
Design without_pour(Design design, std::size_t pour);
bool pour_can_go(const Design& design, std::size_t pour);

/// A stroke like the last one; passes go between the last one's.
Design with_new_stroke(Design design);
Design without_stroke(Design design, std::size_t stroke);
/// Replaces generated passes, zigzags or loops by the points they stand for, so that single points can be
/// changed.
Design with_passes_written_out(Design design, std::size_t stroke);

}  // namespace foreslice::studio
