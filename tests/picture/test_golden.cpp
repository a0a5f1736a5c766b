#include <doctest/doctest.h>

#include "design/design_file.h"
#include "picture/face.h"
#include "picture/golden.h"
#include "picture/sample.h"

using namespace foreslice;
using namespace foreslice::testing;

namespace {

picture::Face face_of(const design::Design& design, const picture::FaceRequest& request) {
    WorkerPool pool(2);
    Progress progress;
    return picture::FaceMaker(pool, library()).make(design, request, progress);
}

design::Design demo(const std::string& name) {
    return design::load(FORESLICE_SOURCE "/palettes/" + name + ".foreslice.json");
}

}  // namespace

TEST_CASE("golden: poured face of Slipway") {
    picture::FaceRequest request;
    request.px_per_mm = 3;
    request.stage = picture::Stage::poured;
    check_golden(face_of(demo("slipway"), request).image, "slipway-poured", 0.1, 2);
}

TEST_CASE("golden: plate of Ropewalk, which no wire has touched") {
    picture::FaceRequest request;
    request.px_per_mm = 4;
    const auto design = demo("ropewalk");
    check_golden(picture::presented(design, face_of(design, request), request), "ropewalk-plate", 0.1, 3);
}

// Wakes end in films that no grid settles, so single blocks may differ much; the face as a whole may not.
TEST_CASE("golden: drawn face of Slipway") {
    picture::FaceRequest request;
    request.px_per_mm = 3;
    request.bar = 6;
    request.resolution.cells_across = 48;
    check_golden(face_of(demo("slipway"), request).image, "slipway-drawn", 1, 60);
}
