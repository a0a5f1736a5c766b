// The work behind the dialog of test bars: reading the photo, fitting, keeping. All of it on threads of its
// own.
#include <algorithm>
#include <cmath>

#include "colour/learned.h"
#include "foundation/error.h"
#include "studio/session/own_colourants.h"
#include "studio/window/actions.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

constexpr int most_texture_px = 2048;
constexpr std::size_t palette_colours = 6;

picture::Image shown_picture(const colour::Photo& photo) {
    const int step =
        std::max(1, (std::max(photo.width_px, photo.height_px) + most_texture_px - 1) / most_texture_px);
    picture::Image image(std::max(1, photo.width_px / step), std::max(1, photo.height_px / step), {});
    for (int y = 0; y < image.height_px; ++y)
        for (int x = 0; x < image.width_px; ++x) {
            const auto c = photo.at(x * step, y * step);
            const auto at = 4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width_px) +
                                 static_cast<std::size_t>(x));
            image.rgba[at] = c.r;
            image.rgba[at + 1] = c.g;
            image.rgba[at + 2] = c.b;
        }
    return image;
}

colour::LinearSrgb seen(const SwatchDesk& desk, const colour::Patch& patch) {
    const colour::Photo& photo = desk.opened->photo;
    return colour::white_balanced(colour::read_patch(photo, patch).light,
                                  colour::read_patch(photo, *desk.card).light, desk.card_reflectance);
}

colour::PhotoSource source_of(const SwatchDesk& desk) {
    return {desk.opened->file_name, desk.card_reflectance};
}

std::string words_of(const LearnedFit& learned) {
    std::string words = "The model agrees with " + std::to_string(learned.bars.size()) + " bars to dE00 " +
                        format_number(learned.fit.mean_de00, 2) + " on average, " +
                        format_number(learned.fit.greatest_de00, 2) + " at most.";
    if (!learned.fit.scattering_known)
        words += " Add a bar with white: these do not tell how much it scatters.";
    return words;
}

void lay_out(SwatchDesk& desk) {
    desk.on_card_of_graphics = false;
    desk.card.reset();
    desk.plain.reset();
    desk.fit.reset();
    desk.fit_awaited = false;
    desk.words.clear();
    desk.bars.assign(2, {});
    desk.bars[1].white_g_per_kg_oils = 8;
    desk.pointing_at = 0;
    const colour::Photo& photo = desk.opened->photo;
    desk.radius_px = std::max(2.0, std::round(0.012 * std::max(photo.width_px, photo.height_px)));
}

colour::ColourantLibrary with_learned(const colour::ColourantLibrary& now, const LearnedFit& learned,
                                      const colour::PhotoSource& source, const std::string& name) {
    const std::string id = colour::id_from_name(name);
    const auto based =
        learned.base_is_new ? colour::with_base(now, learned.base, learned_base_provenance(source)) : now;
    return colour::with_colourant(
        based, colour::learned_colourant(learned.fit, learned.bars, source, id, name, "other", now.find(id)));
}

std::string words_of(const KeptColourant& kept, const SwatchDesk& desk) {
    const std::string where = desk.own_library.string() + ", and in use.";
    if (kept.name == desk.colourant_name) return "Kept in " + where;
    return "Kept as “" + kept.name + "”, since another window has kept a “" + desk.colourant_name +
           "” meanwhile, in " + where;
}

}  // namespace

bool open_swatches(const Studio& studio, const std::filesystem::path& file) {
    std::string ending = file.extension().string();
    for (char& c : ending) c = static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
    if (ending != ".jpg" && ending != ".jpeg" && ending != ".png") return false;
    SwatchDesk& desk = studio.view.swatches;
    desk.opened.reset();
    desk.is_of_bars = false;
    desk.opening.want(++desk.questions, studio.session.waker(), [file](Progress& progress) {
        OpenedPhoto opened{file.filename().string(), colour::load_photo(file, progress), {}, {}};
        progress.begin_stage("looking for its colours", 2);
        opened.shown = shown_picture(opened.photo);
        progress.advance();
        opened.palette = colour::palette_of(opened.photo, palette_colours);
        progress.advance();
        return opened;
    });
    open_dialog(studio.view, Dialog::swatches);
    return true;
}

void fit_swatches(const Studio& studio) {
    SwatchDesk& desk = studio.view.swatches;
    desk.fit.reset();
    if (!desk.card) {
        desk.words = "Click the card first: it says what white is in this light.";
        return;
    }
    LearnedFit ask;
    ask.base = studio.session.own_library()->base();
    try {
        for (const auto& bar : desk.bars)
            if (bar.patch)
                ask.bars.push_back({bar.g_per_kg_oils, bar.white_g_per_kg_oils, seen(desk, *bar.patch)});
        if (desk.plain) {
            ask.base = colour::fit_base(ask.base, seen(desk, *desk.plain));
            ask.base_is_new = true;
        }
    } catch (const InputError& error) {
        desk.words = error.what();
        return;
    }
    desk.fit_awaited = true;
    desk.fitting.want(++desk.questions, studio.session.waker(),
                      [ask, library = studio.session.own_library()](Progress& progress) {
                          progress.begin_stage("fitting the colourant", 1);
                          LearnedFit made = ask;
                          made.fit =
                              colour::fit_colourant(ask.base, library->find("titanium-dioxide"), ask.bars);
                          progress.advance();
                          return made;
                      });
}

void keep_swatches(const Studio& studio) {
    SwatchDesk& desk = studio.view.swatches;
    desk.kept_awaited = true;
    desk.keeping.want(++desk.questions, studio.session.waker(),
                      [library = studio.session.own_library(), learned = desk.fit, source = source_of(desk),
                       name = desk.colourant_name, file = desk.own_library](Progress&) {
                          KeptColourant kept{name, nullptr};
                          const auto add = [&](const colour::ColourantLibrary& now) {
                              kept.name = free_colourant_name(name, *library, now);
                              return with_learned(now, *learned, source, kept.name);
                          };
                          kept.colourants = std::make_shared<const colour::ColourantLibrary>(
                              change_own_colourants(file, *library, add));
                          return kept;
                      });
}

void settle_swatches(const Studio& studio) {
    SwatchDesk& desk = studio.view.swatches;
    if (!desk.opened && desk.opening.current()) {
        desk.opened = desk.opening.answer();
        lay_out(desk);
    }
    if (desk.fit_awaited && desk.fitting.current()) {
        desk.fit = desk.fitting.answer();
        desk.words = words_of(*desk.fit);
        desk.fit_awaited = false;
    } else if (desk.fit_awaited && !desk.fitting.problem().empty()) {
        desk.words = desk.fitting.problem();
        desk.fit_awaited = false;
    }
    if (desk.kept_awaited && desk.keeping.current()) {
        studio.session.use_library(desk.keeping.answer()->colourants);
        desk.words = words_of(*desk.keeping.answer(), desk);
        desk.kept_awaited = false;
    } else if (desk.kept_awaited && !desk.keeping.problem().empty()) {
        desk.words = desk.keeping.problem();
        desk.kept_awaited = false;
    }
}

}  // namespace foreslice::studio
