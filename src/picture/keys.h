// The content keys under which the stages of a face are kept: what each depends on, and nothing else.
#pragma once

#include <cstdint>

#include "colour/pigment.h"
#include "design/design.h"
#include "flow/flow.h"

namespace foreslice::picture {

std::uint64_t joined(std::uint64_t a, std::uint64_t b);

/// The flow of a group of strokes.
std::uint64_t flow_key(const design::Design& design, const design::StrokeGroup& group,
                       const flow::Resolution& resolution);
/// The flow of the strokes that are drawn when everything is poured, as the hand made them at `z_mm`.
std::uint64_t flow_key(const design::Design& design, double z_mm, const flow::Resolution& resolution);
/// The same of strokes that follow which portion lies where, because portions are not equally thick.
std::uint64_t coupled_key(const design::Design& design, const design::StrokeGroup& group, double z_mm,
                          const flow::Resolution& resolution);
/// What lies where in a section before the last group of strokes: amounts and manners, not names or doses;
/// and the strokes drawn before the last pour.
std::uint64_t section_key(const design::Design& design, double z_mm, const flow::Resolution& resolution);
/// The finished top at `z_mm`; below it, what section_key() and flow_key() say.
std::uint64_t top_key(const design::Design& design, double z_mm);
/// What is scattered and laid in.
std::uint64_t inclusions_key(const design::Design& design);
std::uint64_t colours_key(const design::Design& design, const colour::ColourantLibrary& library);

}  // namespace foreslice::picture
