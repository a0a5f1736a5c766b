// In which light and by whose eyes everything in the window is shown.
#include <algorithm>
#include <array>

#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

struct Lamp {
    colour::Illuminant lamp;
    const char *word, *sentence;
};
constexpr std::array lamps{
    Lamp{colour::Illuminant::d65, "Window", "daylight, CIE D65"},
    Lamp{colour::Illuminant::fl11, "Shop", "a shop's three-band fluorescent tube, CIE FL11"},
    Lamp{colour::Illuminant::a, "Lamp", "an incandescent lamp, CIE A"},
    Lamp{colour::Illuminant::led_b3, "LED", "a white LED, CIE LED-B3"}};

struct Eye {
    colour::Vision eye;
    const char *word, *sentence;
};
constexpr std::array eyes{
    Eye{colour::Vision::usual, "Usual", "usual eyes"},
    Eye{colour::Vision::protanopia, "Protan", "eyes without long-wave cones (protanopia)"},
    Eye{colour::Vision::deuteranopia, "Deutan", "eyes without middle-wave cones (deuteranopia)"},
    Eye{colour::Vision::tritanopia, "Tritan", "eyes without short-wave cones (tritanopia)"}};

template <class List>
std::vector<std::string> words_of(const List& list) {
    std::vector<std::string> words;
    words.reserve(list.size());
    for (const auto& one : list) words.emplace_back(one.word);
    return words;
}

const Lamp& lamp_of(const Seeing& seeing) {
    return *std::find_if(lamps.begin(), lamps.end(), [&](const Lamp& l) { return l.lamp == seeing.lamp; });
}
const Eye& eye_of(const Seeing& seeing) {
    return *std::find_if(eyes.begin(), eyes.end(), [&](const Eye& e) { return e.eye == seeing.eye; });
}

colour::Lab lab_so(const colour::PortionColour& bar, const Seeing& seeing) {
    return colour::lab_of(colour::xyz_of(seen_so(bar, seeing)), colour::white_of(colour::Illuminant::d65));
}

// Which two portions come nearest to each other, seen so and in daylight by usual eyes.
void draw_nearest_pair(const Studio& studio) {
    const auto& colours = studio.session.colours();
    const auto& portions = studio.session.design().portions;
    const Seeing& seeing = studio.session.seeing();
    double least = 1e9, usually = 0;
    std::size_t one = 0, other = 0;
    for (std::size_t i = 0; i < std::min(colours.size(), portions.size()); ++i)
        for (std::size_t k = 0; k < i; ++k) {
            const double de00 = colour::ciede2000(lab_so(colours[i], seeing), lab_so(colours[k], seeing));
            if (de00 >= least) continue;
            least = de00, one = k, other = i;
            usually = colour::ciede2000(colours[i].lab, colours[k].lab);
        }
    if (one == other) return;
    std::string text = "Nearest to each other: " + portion_name(portions[one]) + " and " +
                       portion_name(portions[other]) + ", dE00 " + format_number(least, 1);
    if (seeing != Seeing{}) text += " (" + format_number(usually, 1) + " in daylight, by usual eyes)";
    studio.ui.quiet_text(text + ".");
    studio.ui.note("light:nearest", format_number(least, 1));
}

}  // namespace

std::string words_of(const Seeing& seeing) {
    std::string words;
    if (seeing.lamp != colour::Illuminant::d65) words += std::string("in ") + lamp_of(seeing).sentence;
    if (seeing.eye != colour::Vision::usual)
        words += (words.empty() ? "by " : ", by ") + std::string(eye_of(seeing).sentence);
    return words;
}

void draw_light(const Studio& studio) {
    Ui& ui = studio.ui;
    ui.section("Light and eyes");
    Seeing seeing = studio.session.seeing();
    const auto lamp = static_cast<int>(&lamp_of(seeing) - lamps.data());
    if (const int chosen = ui.choice("light", words_of(lamps), lamp); chosen >= 0)
        seeing.lamp = lamps[static_cast<std::size_t>(chosen)].lamp;
    const auto eye = static_cast<int>(&eye_of(seeing) - eyes.data());
    if (const int chosen = ui.choice("eyes", words_of(eyes), eye); chosen >= 0)
        seeing.eye = eyes[static_cast<std::size_t>(chosen)].eye;
    studio.session.see(seeing);
    if (seeing == Seeing{})
        ui.quiet_text(
            "Faces and swatches are shown in daylight (D65). Eyes after Machado, Oliveira and "
            "Fernandes 2009.");
    else
        ui.quiet_text("Everything is shown " + words_of(seeing) + ". Saved pictures stay in daylight.");
    if (studio.session.fault().empty()) draw_nearest_pair(studio);
}

}  // namespace foreslice::studio
