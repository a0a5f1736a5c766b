// A collection as one web page that needs no network: faces to be wiped between poured and drawn, other
// orders of the layers, colours, what goes on the bench, and a number or letter on everything, so that people
// can answer "7B, less white".
#pragma once

#include <string>
#include <vector>

#include "design/design.h"
#include "design/family.h"
#include "design/validation.h"
#include "foundation/progress.h"
#include "picture/face.h"
#include "picture/lineup.h"

namespace foreslice::picture {

struct GalleryRequest {
    double px_per_mm = 8;    ///< of the large faces, 2..20; the small ones have half of it
    std::size_t orders = 5;  ///< other orders shown of each soap, 0..24
    flow::Resolution resolution = {};
};

struct GalleryOrder {
    Image face;
    std::string words, stack;
};

struct GallerySoap {
    design::Design design;
    int loaves = 1, bar = 1;
    Image poured, drawn;
    std::vector<colour::PortionColour> colours;  ///< a portion
    std::vector<std::vector<DoseNote>> doses;    ///< a portion
    std::vector<GalleryOrder> orders;
    std::vector<design::Warning> warnings;
    FaceSignature signature{};
    flow::SolveReport solve;
};

/// Throws as FaceMaker::make() does.
GallerySoap gallery_soap(FaceMaker& maker, const design::Design& design, int loaves,
                         const GalleryRequest& request, Progress& progress);

struct GalleryText {
    std::string name, notes;
};
/// The page, UTF-8. Throws InputError when the program's own style files are missing.
std::string gallery_page(const GalleryText& text, const std::vector<GallerySoap>& soaps,
                         const design::FamilyReport& report, const std::vector<AlikePair>& alike);

}  // namespace foreslice::picture
