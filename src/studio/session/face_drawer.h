// The work behind one face on the screen, as the job threads see it. The real one asks the picture room;
// tests put a stand-in that they can hold and let go.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "colour/pigment.h"
#include "design/design.h"
#include "foundation/progress.h"
#include "picture/face.h"
#include "picture/measures.h"
#include "studio/session/seeing.h"

namespace foreslice::studio {

struct FaceOrder {
    design::Design design;
    int bar = 1;
    double px_per_mm = 5;
    std::optional<double> z_mm = std::nullopt;  ///< where the loaf is cut, instead of at the bar's front face
    std::shared_ptr<const colour::ColourantLibrary>
        colour_library{};  ///< null: the one the drawer was made with
    Seeing seeing{};       ///< on the screen only
};
/// Where along the loaf that is.
double z_mm_of(const FaceOrder& order);

/// Poured and drawn face of one order, at one quality. Immutable once published.
struct DrawnFace {
    std::uint64_t number = 0;  ///< of the order it answers
    bool sketch = false;       ///< coarse, with a finer one on its way
    FaceOrder order;
    picture::Face drawn, poured;
    /// The same as bars with outline and shadow, on a transparent ground; `margin_px` of it on each side.
    picture::Image drawn_bar, poured_bar;
    int margin_px = 0;
    /// Where the soap at a point (mm) of the drawn and of the poured face comes from; may be empty.
    std::function<picture::Whence(Vec2)> drawn_whence, poured_whence;
};

class FaceDrawer {
  public:
    virtual ~FaceDrawer() = default;
    /// The long part that depends only on flow_key(order): afterwards draw() is quick.
    virtual void prepare(const FaceOrder& order, Progress& progress) = 0;
    /// Fills drawn and poured. Throws InputError for a design that cannot be made, Stopped when asked to.
    virtual DrawnFace draw(const FaceOrder& order, Progress& progress) = 0;
    /// Measures of the drawn face; quick after prepare(). Throws as draw() does.
    virtual picture::FaceMeasures measure(const FaceOrder& order, Progress& progress) = 0;
    /// The face with title and legend at the order's scale, written as a PNG.
    virtual void write_presented(const FaceOrder& order, const std::string& path, Progress& progress) = 0;
};

/// What the flow depends on: two designs with equal keys share one flow map, of two orders as well.
std::uint64_t flow_key(const design::Design& design);
std::uint64_t flow_key(const FaceOrder& order);

/// Draws with picture::FaceMaker. A sketch uses a coarse flow grid and at most 3 px/mm.
std::unique_ptr<FaceDrawer> make_face_drawer(std::shared_ptr<const colour::ColourantLibrary> colour_library,
                                             bool sketch, unsigned threads);

}  // namespace foreslice::studio
