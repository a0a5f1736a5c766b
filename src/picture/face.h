// The picture of a cut face: poured layers carried along the flow map, coloured, drawn. Keeps each stage
// under a key of what it depends on, so a new dose only repaints and a new layer order never touches the
// flow.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "colour/pigment.h"
#include "design/design.h"
#include "flow/flow.h"
#include "picture/image.h"
#include "picture/layers.h"

namespace foreslice::picture {

enum class Stage { poured, drawn };

struct FaceRequest {
    int bar = 1;  ///< 1-based
    double px_per_mm = 8;
    Stage stage = Stage::drawn;
    flow::Resolution resolution;
};

/// Share of every portion in every pixel, 8 bits each, and what else the drawing needs.
struct Coverage {
    int width_px = 0, height_px = 0, portions = 0;
    double px_per_mm = 0;
    std::vector<std::uint8_t> share;   ///< [pixel * portions + portion], each pixel's shares add up to 255
    std::vector<double> area_percent;  ///< a portion: share of the face
};

/// The bare face (no outline, no legend) with what is known about it.
struct Face {
    Image image;
    std::shared_ptr<const Coverage> coverage;
    std::vector<colour::PortionColour> colours;  ///< a portion
    flow::SolveReport solve;
};

class FaceMaker {
  public:
    FaceMaker(WorkerPool& pool, std::shared_ptr<const colour::ColourantLibrary> library);
    ~FaceMaker();

    /// Throws InputError for a design that validate() refuses or a bar that is not there; Stopped when asked
    /// to. One call at a time; the caches inside make repeated calls cheap.
    Face make(const design::Design& design, const FaceRequest& request, Progress& progress);
    std::shared_ptr<const flow::FlowMap> flow_map(const design::Design& design,
                                                  const flow::Resolution& resolution, Progress& progress);
    const colour::ColourantLibrary& library() const;

  private:
    struct Store;
    std::unique_ptr<Store> store_;
};

std::vector<colour::PortionColour> portion_colours(const design::Design& design,
                                                   const colour::ColourantLibrary& library);
/// Coverage painted in linear light.
Image painted(const Coverage& coverage, const std::vector<colour::PortionColour>& colours, WorkerPool& pool);

/// The face as it is shown to people: bar outline, slightly uneven top edge, soft cut-surface look, title,
/// legend of portions with doses and shares, scale bar. Averages over any 2 mm keep the face's colour (dE00 <
/// 1).
Image presented(const design::Design& design, const Face& face, const FaceRequest& request);
/// Outline and cut-surface look only.
Image bar_picture(const design::Design& design, const Face& face, const FaceRequest& request);

}  // namespace foreslice::picture
