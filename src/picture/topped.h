// A face with a worked top: everything that moved the batter below it, what was spooned on, and the
// silhouette.
#pragma once

#include <memory>
#include <vector>

#include "flow/flow.h"
#include "foundation/worker_pool.h"
#include "picture/coverage.h"
#include "picture/origin_band.h"
#include "picture/top.h"

namespace foreslice::picture {

/// The flow map of everything that moved the batter, the work on the top included. `map`: of the strokes, or
/// null when there are none. Points above the surface get what lies below them.
std::shared_ptr<const flow::FlowMap> topped(std::shared_ptr<const flow::FlowMap> map,
                                            std::shared_ptr<const FinishedTop> top);

/// Pixels of the box as without a top, and rows above them up to `high_mm`.
PixelLattice lattice_with_top(const FinishedTop& top, double px_per_mm, double high_mm);

/// `below`: what lies below all heaps, covered on that lattice with the topped map. Puts in the heaps
/// (`material_of_heap`: an entry for each of Top::spooned) and the air, and adds the areas up as shares of
/// the soap that is seen.
Coverage with_top(Coverage below, const FinishedTop& top, const std::vector<int>& material_of_heap,
                  const PixelLattice& lattice, WorkerPool& pool);

}  // namespace foreslice::picture
