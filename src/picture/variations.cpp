#include "picture/variations.h"

#include "design/validation.h"
#include "foundation/csv.h"
#include "foundation/error.h"
#include "picture/caption.h"
#include "picture/cards.h"

namespace foreslice::picture {
namespace {

// A variation of a design must be one itself; says which value made it something else.
design::Design checked(const design::Design& design, const std::vector<design::FieldAxis>& axes,
                       const std::vector<std::string>& values, const colour::ColourantLibrary& library) {
    std::string at;
    design::Design varied = design;
    try {
        for (std::size_t i = 0; i < axes.size(); ++i) {
            at += (i == 0 ? "" : ", ") + axes[i].field + "=" + values[i];
            varied = design::with_field(varied, axes[i].field, values[i]);
        }
        design::validate(varied);
        design::validate(varied, library);
    } catch (const InputError& error) {
        throw InputError("", "with " + at, error.place() + ": " + error.problem(), error.allowed());
    }
    return varied;
}

std::string measure_words(const FaceMeasures& measures) {
    return "contrast " + short_number(measures.mean_contrast_de00, 3) + " · bands " +
           short_number(measures.median_thickness_mm, 2) + " mm · muddy " +
           short_number(measures.muddy_percent, 2) + " %";
}

}  // namespace

std::vector<Variation> variations_of(const design::Design& design, const std::vector<design::FieldAxis>& axes,
                                     const colour::ColourantLibrary& library) {
    if (axes.empty() || axes.size() > 2)
        throw InputError("", "over", std::to_string(axes.size()) + " fields cannot be laid out on a sheet",
                         "one or two");
    const std::size_t across = axes[0].values.size(), down = axes.size() > 1 ? axes[1].values.size() : 1;
    if (across * down > most_variations)
        throw InputError("", "over", std::to_string(across * down) + " faces are too many for a sheet",
                         "up to " + std::to_string(most_variations));
    std::vector<Variation> variations;
    for (std::size_t row = 0; row < down; ++row)
        for (std::size_t column = 0; column < across; ++column) {
            Variation one;
            one.values.push_back(axes[0].values[column]);
            if (axes.size() > 1) one.values.push_back(axes[1].values[row]);
            one.design = checked(design, axes, one.values, library);
            variations.push_back(std::move(one));
        }
    return variations;
}

void measure_all(FaceMaker& maker, std::vector<Variation>& variations, const FaceRequest& request,
                 Progress& progress) {
    for (auto& one : variations) {
        one.measures = maker.measure(one.design, request, progress);
        if (!design::flow_strokes_of(one.design).empty())
            one.solve = maker.flow_map(one.design, request, progress)->report();
    }
}

Image variations_sheet(FaceMaker& maker, const design::Design& design,
                       const std::vector<design::FieldAxis>& axes, const std::vector<Variation>& variations,
                       const FaceRequest& request, Progress& progress) {
    std::vector<Card> cards;
    std::vector<std::string> names;
    names.reserve(axes.size());
    for (const auto& axis : axes) names.push_back(design::axis_words(design, axis.field));
    for (const auto& one : variations) {
        Card card;
        card.bar = bar_picture(one.design, maker.make(one.design, request, progress), request);
        card.lines = {measure_words(one.measures)};
        if (axes.size() == 1) {
            card.label = label_of(cards.size());
            card.title = names[0] + " " + one.values[0];
        }
        cards.push_back(std::move(card));
    }
    const std::string note =
        "contrast where neighbours meet in dE00; bands: half of the face has thinner ones; "
        "muddy: finer than an eye tells apart at arm's length";
    if (axes.size() == 1) return card_sheet(design.name + ": " + names[0], note, cards);
    return card_grid(design.name + ": " + names[0] + " and " + names[1], note, {names[0], axes[0].values},
                     {names[1], axes[1].values}, cards);
}

std::string variations_csv(const design::Design& design, const std::vector<design::FieldAxis>& axes,
                           const std::vector<Variation>& variations) {
    std::vector<std::string> cells;
    cells.reserve(axes.size());
    for (const auto& axis : axes) cells.push_back(axis.field);
    for (const char* measure : {"contrast_de00", "least_contrast_de00", "median_band_mm",
                                "tenth_percentile_band_mm", "muddy_percent", "feathers", "symmetry"})
        cells.emplace_back(measure);
    for (const auto& portion : design.portions) cells.push_back(portion.id + "_face_percent");
    std::string csv = csv_line(cells);
    for (const auto& one : variations) {
        const auto& m = one.measures;
        cells = one.values;
        for (const double value :
             {m.mean_contrast_de00, m.least_contrast_de00, m.median_thickness_mm, m.fine_thickness_mm,
              m.muddy_percent, static_cast<double>(m.feathers), m.symmetry})
            cells.push_back(plain_number(value));
        for (const auto& portion : m.portions) cells.push_back(plain_number(portion.face_percent));
        csv += csv_line(cells);
    }
    return csv;
}

}  // namespace foreslice::picture
