// Prints what colour costs here: a design's colours, repainting a face after a dose changed, finding doses;
// and beside it, in the same run, Little CMS carrying the same pixels from one RGB profile to another. CPU
// time of one thread, medians.
#include <lcms2.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <functional>
#include <memory>
#include <random>
#include <vector>

#include "colour/match.h"
#include "foundation/worker_pool.h"
#include "picture/face.h"

using namespace foreslice;

namespace {

double median_ms(int runs, const std::function<void(int)>& work) {
    std::vector<double> times;
    for (int run = 0; run < runs; ++run) {
        const std::clock_t before = std::clock();
        work(run);
        times.push_back(1e3 * static_cast<double>(std::clock() - before) / CLOCKS_PER_SEC);
    }
    std::nth_element(times.begin(), times.begin() + runs / 2, times.end());
    return times[static_cast<std::size_t>(runs) / 2];
}

void row(const char* what, double ms, double bound_ms) {
    std::printf("%-66s %8.3f ms", what, ms);
    if (bound_ms > 0) std::printf("   (goal %g)", bound_ms);
    std::printf("\n");
    std::fflush(stdout);
}

design::Design five_portions() {
    design::Design design;
    design.mould = {65, 90, 280, 78.8};
    const char* const doses[] = {"activated-charcoal", "iron-oxide-yellow", "ultramarine-blue", "turmeric",
                                 ""};
    for (int k = 0; k < 5; ++k) {
        design::Portion portion;
        portion.id = std::string("p").append(std::to_string(k));
        portion.share_percent = 20;
        if (*doses[k]) portion.doses.push_back({doses[k], 3.0 + k});
        portion.white = {"titanium-dioxide", 2.0 * k};
        design.portions.push_back(portion);
        for (int times = 0; times < 3; ++times)
            design.pours.push_back({portion.id, {}, design::PourManner::laid, 0.8});
    }
    design.base.oils = {{"olive", 45}, {"coconut", 30}, {"palm", 25}};
    design.age_days = 60;
    return design;
}

/// The same pixels through Little CMS's own fast path for matrix profiles.
double little_cms_ms(std::vector<std::uint8_t> rgba) {
    cmsToneCurve* gamma = cmsBuildGamma(nullptr, 2.2);
    cmsToneCurve* curves[3] = {gamma, gamma, gamma};
    const cmsCIExyY white{0.3127, 0.3290, 1};
    const cmsCIExyYTRIPLE wide{{0.68, 0.32, 1}, {0.265, 0.69, 1}, {0.15, 0.06, 1}};
    cmsHPROFILE from = cmsCreate_sRGBProfile(), to = cmsCreateRGBProfile(&white, &wide, curves);
    cmsHTRANSFORM transform =
        cmsCreateTransform(from, TYPE_RGBA_8, to, TYPE_RGBA_8, INTENT_RELATIVE_COLORIMETRIC, 0);
    const double ms = median_ms(15, [&](int) {
        cmsDoTransform(transform, rgba.data(), rgba.data(), static_cast<cmsUInt32Number>(rgba.size() / 4));
    });
    cmsDeleteTransform(transform);
    cmsCloseProfile(from);
    cmsCloseProfile(to);
    cmsFreeToneCurve(gamma);
    return ms;
}

/// Colours that some recipe of up to three lasting colourants and white gives.
std::vector<colour::EncodedSrgb> reachable_targets(const colour::ColourantLibrary& library,
                                                   std::size_t count) {
    std::mt19937 random(9);
    std::uniform_real_distribution<double> share(0, 1);
    std::vector<const colour::Colourant*> lasting;
    for (const auto& c : library.colourants())
        if (colour::keeps_colour(c) && c.kind != "white") lasting.push_back(&c);
    std::vector<colour::EncodedSrgb> targets;
    while (targets.size() < count) {
        std::vector<colour::Dose> doses{
            {library.find("titanium-dioxide"), 12 * share(random) * share(random)}};
        double total = doses[0].g_per_kg_oils;
        for (std::size_t n = 1 + random() % 3; n > 0; --n) {
            const auto* c = lasting[random() % lasting.size()];
            doses.push_back({c, c->usual_most_g_per_kg_oils * std::pow(share(random), 2)});
            total += doses.back().g_per_kg_oils;
        }
        const auto made = colour::colour_of(colour::mixed(library.base(), doses));
        if (made.in_gamut && total < 29) targets.push_back(made.srgb);
    }
    return targets;
}

void matches(const colour::ColourantLibrary& library) {
    std::vector<double> times, errors;
    for (const auto target : reachable_targets(library, 1000)) {
        colour::Match found;
        times.push_back(median_ms(1, [&](int) { found = colour::match(library, {}, target, {}); }));
        errors.push_back(found.recipes.front().de00);
    }
    std::sort(times.begin(), times.end());
    std::sort(errors.begin(), errors.end());
    row("doses for each of 1,000 reachable colours, median", times[500], 20);
    row("the same, 99 in 100 within", times[990], 20);
    std::printf("  they miss by dE00 %.3f in the median (goal 0.5), 99 in 100 by less than %.3f (goal 1)\n",
                errors[500], errors[990]);
}

}  // namespace

int main() {
    const auto library = std::make_shared<const colour::ColourantLibrary>(
        colour::ColourantLibrary::load(FORESLICE_SOURCE "/palettes/colourants.json"));
    design::Design design = five_portions();
    WorkerPool pool(1);
    picture::FaceMaker maker(pool, library);
    picture::FaceRequest request;
    request.px_per_mm = 1024 / 65.0;
    Progress progress;
    const picture::Face face = maker.make(design, request, progress);
    std::printf("face of %d x %d px, five portions\n", face.image.width_px, face.image.height_px);
    row("colours of five portions, own oils, 60 days old",
        median_ms(101, [&](int) { picture::portion_colours(design, *library); }), 1);
    row("the face painted from kept coverage",
        median_ms(15, [&](int) { picture::painted(*face.coverage, face.colours, pool); }), 8);
    row("a dose changed: check, colours, paint",
        median_ms(15,
                  [&](int run) {
                      design.portions[0].doses[0].g_per_kg_oils = 3 + 0.01 * run;
                      maker.make(design, request, progress);
                  }),
        20);
    row("Little CMS, sRGB to a wide RGB, the same pixels", little_cms_ms(face.image.rgba), 0);
    matches(*library);
    return 0;
}
