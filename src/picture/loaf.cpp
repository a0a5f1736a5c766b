#include "picture/loaf.h"

#include <algorithm>
#include <cmath>

#include "foundation/error.h"
#include "picture/caption.h"
#include "picture/draw.h"
#include "picture/lengthwise.h"
#include "picture/loaf_page.h"
#include "picture/memory_need.h"
#include "picture/palette.h"

namespace foreslice::picture {
namespace {

constexpr double least_end_mm = 0.05;
constexpr double most_page_pixels = 120e6;

void check_request(const design::Design& design, const LoafRequest& request, std::size_t slices) {
    if (!(request.px_per_mm >= least_loaf_px_per_mm && request.px_per_mm <= most_loaf_px_per_mm))
        throw InputError("", "px-per-mm",
                         "a scale of " + plain_number(request.px_per_mm) + " px per mm cannot be drawn",
                         plain_number(least_loaf_px_per_mm) + " to " + plain_number(most_loaf_px_per_mm));
    if (design::bar_count(design) < 1)
        throw InputError("", "/cut", "the loaf gives no whole bar after trimming",
                         "thinner bars or less trimming");
    const auto box = design::box_of(design);
    const double pixels = static_cast<double>(slices) * (box.width_mm + 20) * (box.height_mm + 35) *
                          request.px_per_mm * request.px_per_mm;
    if (pixels > most_page_pixels)
        throw InputError("", "px-per-mm",
                         "a picture of " + std::to_string(slices) + " slices at " +
                             plain_number(request.px_per_mm) + " px per mm is too large",
                         "up to " +
                             short_number(request.px_per_mm * std::sqrt(most_page_pixels / pixels), 2) +
                             " px per mm here");
    check_memory(slice_bytes_per_px * pixels, request.px_per_mm,
                 "a picture of " + std::to_string(slices) + " slices at " + plain_number(request.px_per_mm) +
                     " px per mm");
}

std::vector<std::string> words_of(const Slice& slice) {
    if (slice.kind != Slice::Kind::bar) return {"end", short_number(slice.thickness_mm(), 3) + " mm"};
    return {std::to_string(slice.bar), "face at " + short_number(slice.face_z_mm(), 4) + " mm"};
}

// What shows on the top of a veiled bar, as pale as the veil makes its face.
void fade_top(Face& face) {
    const auto pale = [paper = ink_of(paper_rgb)](colour::LinearSrgb& light) {
        const double kept = 1 - veil_strength;
        light = {kept * light.r + veil_strength * paper.r, kept * light.g + veil_strength * paper.g,
                 kept * light.b + veil_strength * paper.b};
    };
    for (auto& colour : face.colours) pale(colour.linear);
    for (auto& light : face.glitter) pale(light);
    for (auto& light : face.bits) pale(light);
}

class Maker {
  public:
    Maker(FaceMaker& maker, const design::Design& design, const LoafRequest& request, Progress& progress)
        : maker_(maker), design_(design), request_(request), progress_(progress) {}

    LoafCell cell(const Slice& slice) {
        FaceRequest request;
        request.bar = std::max(1, slice.bar);
        request.z_mm = slice.face_z_mm();
        request.px_per_mm = request_.px_per_mm;
        request.resolution = request_.resolution;
        Face face = maker_.make(design_, request, progress_);
        if (slice.kind != Slice::Kind::bar) {
            veil(face.image,
                 {0, 0, static_cast<double>(face.image.width_px), static_cast<double>(face.image.height_px)},
                 std::max(1.0, request.px_per_mm / 4));
            fade_top(face);
        }
        note(face.solve);
        LoafCell cell;
        cell.picture = bar_picture(design_, face, request);
        const auto words = words_of(slice);
        cell.name = words[0];
        cell.note = words[1];
        cell.uncertain = slice.kind != Slice::Kind::bar;
        cell.near_arms = slice.near_arms;
        return cell;
    }

    LoafStrip strip(const std::vector<Slice>& slices, double width_px) {
        LoafStrip strip;
        const auto box = design::box_of(design_);
        strip.px_per_mm = width_px / design_.mould.length_mm;
        const Coverage coverage = lengthwise_coverage(maker_, design_, box.width_mm / 2, strip.px_per_mm,
                                                      request_.resolution, progress_);
        strip.picture = painted(coverage, portion_colours(design_, maker_.colour_library()), maker_.pool());
        for (const Slice& slice : slices)
            strip.marks.push_back({slice.from_mm, slice.to_mm,
                                   slice.kind == Slice::Kind::bar ? std::to_string(slice.bar) : "",
                                   slice.kind != Slice::Kind::bar});
        return strip;
    }

    const flow::SolveReport& report() const { return report_; }

  private:
    void note(const flow::SolveReport& part) {
        report_.positions = std::max(report_.positions, part.positions);
        report_.most_iterations = std::max(report_.most_iterations, part.most_iterations);
        report_.worst_residual = std::max(report_.worst_residual, part.worst_residual);
        report_.converged = report_.converged && part.converged;
    }

    FaceMaker& maker_;
    const design::Design& design_;
    const LoafRequest& request_;
    Progress& progress_;
    flow::SolveReport report_;
};

std::string heading_note(const design::Design& design) {
    const int bars = design::bar_count(design);
    std::string words = std::to_string(bars) + (bars == 1 ? " bar of " : " bars of ") +
                        short_number(design.cut.bar_thickness_mm, 3) + " mm · " + batter_words(design) +
                        " · " + wire_words(design);
    if (design.hand.wander_mm > 0)
        words += " · the hand wanders " + short_number(design.hand.wander_mm, 2) + " mm";
    if (design.hand.sag_mm > 0) words += " · the wire sags " + short_number(design.hand.sag_mm, 2) + " mm";
    return words;
}

}  // namespace

std::vector<Slice> slices_of(const design::Design& design) {
    std::vector<Slice> slices;
    const double length_mm = design.mould.length_mm, thick_mm = design.cut.bar_thickness_mm;
    const int bars = design::bar_count(design);
    const auto add = [&](Slice::Kind kind, int bar, double from_mm, double to_mm) {
        Slice slice{kind, bar, from_mm, to_mm, false};
        const double z_mm = slice.face_z_mm();
        slice.near_arms = z_mm < arms_reach_mm || z_mm > length_mm - arms_reach_mm;
        slices.push_back(slice);
    };
    if (design.cut.trim_mm >= least_end_mm) add(Slice::Kind::first_end, 0, 0, design.cut.trim_mm);
    for (int bar = 1; bar <= bars; ++bar) {
        const double z_mm = design::bar_face_z_mm(design, bar);
        add(Slice::Kind::bar, bar, z_mm, z_mm + thick_mm);
    }
    const double last_mm = design.cut.trim_mm + bars * thick_mm;
    if (length_mm - last_mm >= least_end_mm) add(Slice::Kind::last_end, 0, last_mm, length_mm);
    return slices;
}

Loaf loaf_picture(FaceMaker& maker, const design::Design& design, const LoafRequest& request,
                  Progress& progress) {
    const auto slices = slices_of(design);
    check_request(design, request, slices.size());
    Maker parts(maker, design, request, progress);
    std::vector<LoafCell> cells;
    cells.reserve(slices.size());
    for (const Slice& slice : slices) cells.push_back(parts.cell(slice));
    LoafPage page(design.name, heading_note(design), std::move(cells), request.px_per_mm);
    page.add_strip(parts.strip(slices, page.strip_width_px(design.mould.length_mm)));
    return {page.drawn(), parts.report()};
}

}  // namespace foreslice::picture
