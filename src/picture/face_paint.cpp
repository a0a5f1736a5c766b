// What a face is painted with: colours of all that it can show, what the legend says, and the painting.
#include <algorithm>
#include <array>

#include "design/tint.h"
#include "foundation/error.h"
#include "picture/draw.h"
#include "picture/face.h"
#include "picture/light.h"

namespace foreslice::picture {
namespace {

// A line of powder that batter soaked into counts as this dose, and so do flakes: a choice, no source.
constexpr double powder_g_per_kg_oils = 250;

void require_colourants(const design::Design& design, const colour::ColourantLibrary& library) {
    const auto require = [&](const design::Portion& portion, const design::ColourantDose& dose) {
        const bool counts = dose.g_per_kg_oils != 0 || dose.stated;
        if (counts && library.find(dose.colourant) == nullptr)
            throw InputError("", "portion " + foreslice::quoted(portion.id),
                             "the colourant " + foreslice::quoted(dose.colourant) + " is not in the library",
                             "");
    };
    for (const auto& portion : design.portions) {
        for (const auto& dose : portion.doses) require(portion, dose);
        require(portion, portion.white);
    }
}

colour::PortionColour powder_colour(const std::string& colourant, const char* place,
                                    const design::Design& design, const colour::ColourantLibrary& library) {
    if (library.find(colourant) == nullptr)
        throw InputError("", place,
                         "the colourant " + foreslice::quoted(colourant) + " is not in the library", "");
    design::Portion powder;
    powder.doses.emplace_back();
    powder.doses.back().colourant = colourant;
    powder.doses.back().g_per_kg_oils = powder_g_per_kg_oils;
    return design::colour_of(powder, design, library);
}

unsigned rgb_of(const std::string& hex) {
    unsigned rgb = 0;
    for (const char c : hex.substr(1))
        rgb = 16 * rgb + static_cast<unsigned>(c <= '9' ? c - '0' : (c | 0x20) - 'a' + 10);
    return rgb;
}

}  // namespace

std::vector<colour::LinearSrgb> glitter_colours(const design::Design& design,
                                                const colour::ColourantLibrary& library) {
    std::vector<colour::LinearSrgb> colours;
    for (const auto& glitter : design.top.glitter)
        colours.push_back(powder_colour(glitter.colourant, "glitter", design, library).linear);
    return colours;
}

std::vector<colour::LinearSrgb> inclusion_colours(const design::Design& design,
                                                  const std::vector<colour::PortionColour>& portions) {
    std::vector<colour::LinearSrgb> colours;
    const auto add = [&](const std::string& colour) {
        for (std::size_t i = 0; i < design.portions.size(); ++i)
            if (design.portions[i].id == colour) return colours.push_back(portions[i].linear);
        colours.push_back(ink_of(rgb_of(colour)));
    };
    for (const auto& bits : design.inclusions.scattered) add(bits.colour);
    for (const auto& embed : design.inclusions.embeds) add(embed.colour);
    return colours;
}

std::vector<colour::PortionColour> portion_colours(const design::Design& design,
                                                   const colour::ColourantLibrary& library) {
    require_colourants(design, library);
    std::vector<colour::PortionColour> colours;
    for (const auto& portion : design.portions)
        colours.push_back(design::colour_of(portion, design, library));
    return colours;
}

std::vector<colour::PortionColour> material_colours(const design::Design& design,
                                                    const colour::ColourantLibrary& library) {
    auto colours = portion_colours(design, library);
    for (const Material& material : materials_of(design)) {
        if (material.kind != Material::Kind::line) continue;
        colours.push_back(powder_colour(material.name, "sifted line", design, library));
    }
    return colours;
}

std::vector<LineNote> line_notes(const design::Design& design, const colour::ColourantLibrary& library) {
    std::vector<LineNote> notes;
    for (const Material& material : materials_of(design)) {
        if (material.kind != Material::Kind::line) continue;
        const colour::Colourant* colourant = library.find(material.name);
        LineNote note{colourant ? colourant->name : material.name, 1e9, 0};
        for (const auto& pour : design.pours)
            if (pour.sifted_over && pour.sifted_over->colourant == material.name) {
                note.least_mm = std::min(note.least_mm, pour.sifted_over->thickness_mm);
                note.most_mm = std::max(note.most_mm, pour.sifted_over->thickness_mm);
            }
        notes.push_back(note);
    }
    return notes;
}

flow::SolveReport worst_of(const flow::SolveReport& a, const flow::SolveReport& b) {
    return {a.positions + b.positions, std::max(a.most_iterations, b.most_iterations),
            std::max(a.worst_residual, b.worst_residual), a.converged && b.converged};
}

std::vector<std::vector<DoseNote>> dose_notes(const design::Design& design,
                                              const colour::ColourantLibrary& library) {
    require_colourants(design, library);
    std::vector<std::vector<DoseNote>> notes;
    for (const auto& portion : design.portions) {
        notes.emplace_back();
        for (const auto& dose : design::doses_of(portion, design, library))
            notes.back().push_back({dose.colourant->name, dose.g_per_kg_oils,
                                    colour::teaspoons_per_pound(*dose.colourant, dose.g_per_kg_oils)});
    }
    return notes;
}

namespace {

struct Paint {
    std::array<float, 3> light;  ///< linear, per code of share: already divided by 255
    colour::EncodedSrgb alone;   ///< of a pixel that shows nothing else
};

void paint_pixel(const std::uint8_t* share, const std::vector<Paint>& paints, std::uint8_t* rgba) {
    std::array<float, 3> light{};
    for (std::size_t portion = 0; portion < paints.size(); ++portion) {
        if (share[portion] == 0) continue;
        if (share[portion] == 255) {
            rgba[0] = paints[portion].alone.r;
            rgba[1] = paints[portion].alone.g;
            rgba[2] = paints[portion].alone.b;
            return;
        }
        for (std::size_t c = 0; c < 3; ++c)
            light[c] += static_cast<float>(share[portion]) * paints[portion].light[c];
    }
    for (std::size_t c = 0; c < 3; ++c) rgba[c] = code_of(light[c]);
}

}  // namespace

Image painted(const Coverage& coverage, const std::vector<colour::PortionColour>& colours, WorkerPool& pool) {
    std::vector<Paint> paints;
    for (const auto& colour : colours) {
        const auto& l = colour.linear;
        paints.push_back(
            {{static_cast<float>(l.r / 255), static_cast<float>(l.g / 255), static_cast<float>(l.b / 255)},
             colour::encoded(l)});
    }
    Image image(coverage.width_px, coverage.height_px, {});
    const auto width = static_cast<std::size_t>(coverage.width_px);
    const auto portions = static_cast<std::size_t>(coverage.portions);
    pool.parallel_for(static_cast<std::size_t>(coverage.height_px), [&](std::size_t row) {
        for (std::size_t at = row * width; at < (row + 1) * width; ++at)
            paint_pixel(&coverage.share[at * portions], paints, &image.rgba[4 * at]);
        if (coverage.solid.empty()) return;
        for (std::size_t at = row * width; at < (row + 1) * width; ++at)
            image.rgba[4 * at + 3] = coverage.solid[at];
    });
    return image;
}

}  // namespace foreslice::picture
