// The picture of a cut face: poured layers carried along the flow map, coloured, drawn. Keeps each stage
// under a key of what it depends on, so a new dose only repaints and a new layer order never touches the
// flow.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "colour/pigment.h"
#include "design/design.h"
#include "flow/flow.h"
#include "picture/coverage.h"
#include "picture/image.h"
#include "picture/measures.h"
#include "picture/section.h"
#include "picture/top_view.h"

namespace foreslice::picture {

/// `poured`: before the strokes that are drawn when everything is poured; earlier ones are part of the
/// pouring.
enum class Stage { poured, drawn };

inline constexpr double least_px_per_mm = 0.5, most_px_per_mm = 60;
inline constexpr double measuring_px_per_mm = 8;
inline constexpr double most_pixels = 200e6;  ///< of one face

struct FaceRequest {
    int bar = 1;                                ///< 1-based
    std::optional<double> z_mm = std::nullopt;  ///< along the loaf, instead of the bar's front face
    double px_per_mm = 8;                       ///< least_px_per_mm..most_px_per_mm
    Stage stage = Stage::drawn;
    flow::Resolution resolution = {};
    double path_share = 1;  ///< 0..1: how much of their way the last strokes have done; below 1 the tool is
                            ///< still in the batter, and what is seen inside it means nothing
};

/// Where the soap seen at a point of a face comes from.
struct Whence {
    int material = 0;  ///< index into materials_of()
    int pour = 0;      ///< that it went in with, or that its line was sifted over
    Vec2 before_mm;    ///< where it lay when that was done
};

/// A dose as the legend shows it.
struct DoseNote {
    std::string colourant;  ///< name for people
    double g_per_kg_oils = 0;
    double teaspoons_per_pound = 0;  ///< level US teaspoons per pound of oils
};

/// A sifted line as the legend shows it.
struct LineNote {
    std::string colourant;  ///< name for people
    double least_mm = 0, most_mm = 0;
};

/// The bare face (no outline, no legend) with what is known about it. Above a worked top it is transparent.
struct Face {
    Image image;
    std::shared_ptr<const Coverage> coverage;
    std::vector<colour::PortionColour> colours;  ///< a material: the portions first
    std::vector<std::vector<DoseNote>> doses;    ///< a portion: colourants, then the white; no zero doses
    std::vector<LineNote> lines;                 ///< a sifted material, in the order of materials_of()
    std::shared_ptr<const TopView> top;          ///< null when nothing shows on the top
    std::vector<double> sparkle;                 ///< a portion: 0..1, lustre where it lies on the top
    std::vector<colour::LinearSrgb> glitter;     ///< colours of Top::glitter
    std::vector<std::string> glitter_names;      ///< of their colourants, for people
    std::vector<colour::LinearSrgb> bits;        ///< colours of Inclusions::scattered, then of the embeds
    double inclusions_percent = 0;               ///< of the face's soap that inclusions cover
    flow::SolveReport solve;                     ///< the worst over all strokes
};

/// The portions at points of the cross-section, which are used up: quickest for points along a line.
using PortionsAt = std::function<std::vector<int>(std::vector<Vec2> points_mm)>;

class FaceMaker {
  public:
    FaceMaker(WorkerPool& pool, std::shared_ptr<const colour::ColourantLibrary> colour_library);
    ~FaceMaker();

    /// Throws InputError for a design that validate() refuses, a bar that is not there, a scale or a size
    /// beyond the limits above; Stopped when asked to. One call at a time; the caches inside make repeated
    /// calls cheap.
    Face make(const design::Design& design, const FaceRequest& request, Progress& progress);
    /// Measures of the face that make() draws, taken at `measuring_px_per_mm` whatever the request's scale
    /// (less for moulds so large that this would need more than 3 million pixels). Throws as make() does.
    FaceMeasures measure(const design::Design& design, const FaceRequest& request, Progress& progress);
    /// The flow of the strokes that are drawn when everything is poured, as the hands draw them: at the
    /// loaf's start, where the wire does not sag.
    std::shared_ptr<const flow::FlowMap> flow_map(const design::Design& design,
                                                  const flow::Resolution& resolution, Progress& progress);
    /// The same as make() uses it for a request.
    std::shared_ptr<const flow::FlowMap> flow_map(const design::Design& design, const FaceRequest& request,
                                                  Progress& progress);
    /// Where the batter seen in each pixel of a request's face lay before the strokes that are drawn when
    /// everything is poured; nothing when there are none. Throws as make() does.
    std::shared_ptr<const flow::OriginRaster> origins(const design::Design& design,
                                                      const FaceRequest& request, Progress& progress);
    /// Which portions are seen at points of the finished section at `z_mm` along the loaf, -1 in the air
    /// above a worked top; the answer may be asked by many threads. Does not check the design.
    PortionsAt seen(const design::Design& design, double z_mm, const flow::Resolution& resolution,
                    Progress& progress);
    /// Where the soap at any point of the requested face comes from; may be asked by many threads.
    std::function<Whence(Vec2)> whence(const design::Design& design, const FaceRequest& request,
                                       Progress& progress);
    WorkerPool& pool() const;
    /// The flows of all groups of strokes, in the order of design::stroke_groups().
    std::vector<std::shared_ptr<const flow::FlowMap>> flow_maps(const design::Design& design,
                                                                const flow::Resolution& resolution,
                                                                Progress& progress);
    /// What lies where at the front face of a bar (1-based, not checked) before those strokes.
    std::shared_ptr<const Section> section(const design::Design& design, int bar,
                                           const flow::Resolution& resolution, Progress& progress);
    const colour::ColourantLibrary& colour_library() const;
    /// Another library from the next call on; what does not depend on colours stays in the caches.
    void use_library(std::shared_ptr<const colour::ColourantLibrary> library);

  private:
    void add_extras(Face& face, const design::Design& design, const FaceRequest& request, double z_mm,
                    Progress& progress);
    struct Store;
    std::unique_ptr<Store> store_;
};

std::vector<colour::PortionColour> portion_colours(const design::Design& design,
                                                   const colour::ColourantLibrary& library);
/// The same, followed by the sifted lines: colours of materials_of().
std::vector<colour::PortionColour> material_colours(const design::Design& design,
                                                    const colour::ColourantLibrary& library);
/// What the legend says about each portion's doses.
std::vector<std::vector<DoseNote>> dose_notes(const design::Design& design,
                                              const colour::ColourantLibrary& library);
std::vector<LineNote> line_notes(const design::Design& design, const colour::ColourantLibrary& library);
/// Colours of Top::glitter, and of Inclusions::scattered and the embeds after them.
std::vector<colour::LinearSrgb> glitter_colours(const design::Design& design,
                                                const colour::ColourantLibrary& library);
std::vector<colour::LinearSrgb> inclusion_colours(const design::Design& design,
                                                  const std::vector<colour::PortionColour>& portions);
/// The worst of two reports.
flow::SolveReport worst_of(const flow::SolveReport& a, const flow::SolveReport& b);
/// Coverage painted in linear light.
Image painted(const Coverage& coverage, const std::vector<colour::PortionColour>& colours, WorkerPool& pool);

/// The face as it is shown to people: bar_picture() on a neutral ground with title, legend of portions with
/// doses and shares, scale bar and the bar's number.
Image presented(const design::Design& design, const Face& face, const FaceRequest& request);
/// The bar as an object on a transparent picture: outline, slightly uneven top edge, soft cut-surface look,
/// shadow. Averages over any 2 mm keep the face's colour (dE00 < 1).
Image bar_picture(const design::Design& design, const Face& face, const FaceRequest& request);

}  // namespace foreslice::picture
