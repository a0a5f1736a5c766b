// Draws the cut face of a design with the installed library: draw_a_face DESIGN COLOURANTS PICTURE
#include <cstdio>
#include <exception>
#include <memory>

#include "design/design_file.h"
#include "foundation/progress.h"
#include "foundation/worker_pool.h"
#include "picture/face.h"

int main(int argc, char** argv) {
    using namespace foreslice;
    if (argc != 4) {
        std::fprintf(stderr, "use: draw_a_face DESIGN COLOURANTS PICTURE\n");
        return 2;
    }
    try {
        const auto design = design::load(argv[1]);
        WorkerPool pool(0);  // as many threads as the machine has
        picture::FaceMaker maker(
            pool, std::make_shared<const colour::ColourantLibrary>(colour::ColourantLibrary::load(argv[2])));
        Progress progress;
        picture::FaceRequest request;
        request.px_per_mm = 3;
        picture::write_png(maker.make(design, request, progress).image, argv[3]);
    } catch (const std::exception& error) {  // InputError says which file, where and what is allowed
        std::fprintf(stderr, "%s\n", error.what());
        return 1;
    }
}
