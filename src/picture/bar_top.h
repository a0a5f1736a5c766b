// The worked top of a bar, drawn behind its cut face: ridges in light and shade, glitter, seeds, and the
// lustre of effect pigments, which shows on tops only.
#pragma once

#include "design/design.h"
#include "foundation/progress.h"
#include "foundation/worker_pool.h"
#include "picture/face.h"
#include "picture/image.h"
#include "picture/top_view.h"

namespace foreslice::picture {

/// Draws the top into a transparent picture. (left_px, base_px): where the face's lower left corner is.
void draw_top(Image& image, const design::Design& design, const Face& face, double px_per_mm, double left_px,
              double base_px);

/// The same top from straight above, over the whole picture: depth goes to the right, the left wall is the
/// upper edge. `face.top` reaches over all of it.
void draw_top_from_above(Image& image, const design::Design& design, const Face& face, double px_per_mm,
                         WorkerPool& pool, Progress& progress);

/// Flakes and seeds where the cut meets them, along the edge of a bare face: the same that draw_top() shows
/// further back.
void draw_on_edge(Image& face_image, const Face& face, double px_per_mm);

}  // namespace foreslice::picture
