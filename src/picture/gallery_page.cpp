// The text of the gallery: HTML with everything inside it.
#include <algorithm>
#include <cmath>

#include "colour/colorimetry.h"
#include "design/design_file.h"
#include "foundation/error.h"
#include "foundation/text_file.h"
#include "picture/assets.h"
#include "picture/bench_files.h"
#include "picture/caption.h"
#include "picture/gallery.h"
#include "picture/web_image.h"

namespace foreslice::picture {
namespace {

std::string tag(const std::string& name, const std::string& inside, const std::string& attributes = "") {
    return "<" + name + (attributes.empty() ? "" : " " + attributes) + ">" + inside + "</" + name + ">";
}

std::string image_tag(const Image& image, const std::string& alt, const std::string& attributes = "") {
    return "<img src=\"" + jpeg_url(image) + "\" width=\"" + std::to_string(image.width_px) + "\" height=\"" +
           std::to_string(image.height_px) + "\" alt=\"" + escaped(alt) + "\"" +
           (attributes.empty() ? "" : " " + attributes) + ">";
}

/// A button that puts its label into the reader's answer.
std::string label_tag(const std::string& label) {
    return tag("button", label, "class=\"label\" type=\"button\" aria-label=\"answer to " + label + "\"");
}

std::string grams(double g) {
    return short_number(g, g < 10 ? 2 : 3) + " g";
}

std::string portions_from_the_top(const design::Design& design) {
    std::string words;
    for (auto pour = design.pours.rbegin(); pour != design.pours.rend(); ++pour)
        if (const auto* portion = design::find_portion(design, pour->portion))
            words += (words.empty() ? "" : ", ") + portion->name;
    return words;
}

std::string face_words(const GallerySoap& soap, bool drawn) {
    return "Cut face of " + soap.design.name + ", bar " + std::to_string(soap.bar) + " of " +
           std::to_string(design::bar_count(soap.design)) +
           (drawn ? ", drawn with " + wire_words(soap.design) : ", as poured") +
           ". Layers from the top: " + portions_from_the_top(soap.design) + ".";
}

std::string wiper(const GallerySoap& soap) {
    if (soap.design.strokes.empty())
        return tag("figure", image_tag(soap.drawn, face_words(soap, true)), "class=\"plain\"") +
               "<p class=\"ends\">no wire: as poured</p>";
    return tag("figure",
               image_tag(soap.poured, face_words(soap, false)) +
                   image_tag(soap.drawn, face_words(soap, true), "class=\"over\"") +
                   "<input type=\"range\" min=\"0\" max=\"100\" value=\"64\" aria-label=\"How much of " +
                   escaped(soap.design.name) + " is shown drawn, in percent\">",
               "class=\"wiper\"") +
           "<p class=\"ends\"><span>← drawn</span><span>as poured →</span></p>";
}

std::string lab_words(const colour::Lab& lab) {
    const auto whole = [](double v) { return std::to_string(std::lround(v)); };
    return whole(lab.l) + " / " + whole(lab.a) + " / " + whole(lab.b);
}

std::string colours_table(const GallerySoap& soap) {
    std::string rows =
        "<tr><th>Portion</th><th class=\"n\">Share</th><th>Hex</th><th>L* / a* / b*</th>"
        "<th>Doses, g per kg of its oils</th></tr>";
    for (std::size_t i = 0; i < soap.design.portions.size(); ++i) {
        const auto& portion = soap.design.portions[i];
        const std::string hex = colour::hex_of(soap.colours[i].srgb);
        std::string doses;
        for (const auto& dose : soap.doses[i])
            doses += (doses.empty() ? "" : ", ") + dose.colourant + " " + short_number(dose.g_per_kg_oils, 3);
        rows += tag("tr", tag("td", "<span class=\"swatch\" style=\"background:" + hex + "\"></span>" +
                                        escaped(portion.name)) +
                              tag("td", short_number(portion.share_percent, 3) + " %", "class=\"n\"") +
                              tag("td", tag("code", hex)) +
                              tag("td", tag("code", lab_words(soap.colours[i].lab))) +
                              tag("td", escaped(doses.empty() ? "no colourant" : doses)));
    }
    return "<h3>Colours</h3>" + tag("div", tag("table", rows), "class=\"scroll\"");
}

std::string bench_table(const GallerySoap& soap) {
    std::string rows =
        "<tr><th>Portion</th><th class=\"n\">Batter</th><th class=\"n\">Oils</th>"
        "<th>Powders for one loaf</th></tr>";
    for (std::size_t i = 0; i < soap.design.portions.size(); ++i) {
        const auto& portion = soap.design.portions[i];
        const double oils_g = design::oils_of_portion_g(soap.design, portion);
        std::string powders;
        for (const auto& dose : soap.doses[i])
            powders += (powders.empty() ? "" : ", ") + dose.colourant + " " +
                       grams(dose.g_per_kg_oils * oils_g / 1000);
        rows += tag("tr",
                    tag("td", escaped(portion.name)) +
                        tag("td", grams(design::batter_of_loaf_g(soap.design) * portion.share_percent / 100),
                            "class=\"n\"") +
                        tag("td", grams(oils_g), "class=\"n\"") +
                        tag("td", escaped(powders.empty() ? "–" : powders)));
    }
    const auto& mould = soap.design.mould;
    const std::string facts = "Mould " + short_number(mould.width_mm, 4) + " × " +
                              short_number(mould.height_mm, 4) + " × " + short_number(mould.length_mm, 4) +
                              " mm, filled to " + short_number(mould.fill_mm, 4) + " mm; " +
                              batter_words(soap.design) + "; " + wire_words(soap.design) + "; " +
                              std::to_string(design::bar_count(soap.design)) + " bars of " +
                              short_number(soap.design.cut.bar_thickness_mm, 3) + " mm. " +
                              std::to_string(soap.loaves) + (soap.loaves == 1 ? " loaf." : " loaves.");
    return "<h3>On the bench</h3>" + tag("p", escaped(facts), "class=\"facts\"") +
           tag("div", tag("table", rows), "class=\"scroll\"");
}

std::string warnings_list(const GallerySoap& soap) {
    if (soap.warnings.empty()) return "";
    std::string items;
    for (const auto& warning : soap.warnings)
        items += tag("li", escaped(warning.sentence + " " + warning.cure));
    return "<h3>To watch</h3>" + tag("ul", items);
}

std::string orders_row(const GallerySoap& soap, std::size_t number) {
    if (soap.orders.empty()) return "";
    std::string cards;
    for (std::size_t i = 0; i < soap.orders.size(); ++i) {
        const auto& order = soap.orders[i];
        const std::string label = std::to_string(number) + label_of(i);
        cards +=
            tag("figure", image_tag(order.face,
                                    soap.design.name + " with its layers in another order: " + order.words +
                                        ". From the top: " + order.stack + ".",
                                    "loading=\"lazy\"") +
                              tag("figcaption", label_tag(label) + " " + escaped(order.words) +
                                                    tag("small", "from the top: " + escaped(order.stack))));
    }
    return tag("section", "<h3>Other orders of the layers</h3>" + tag("div", cards, "class=\"orders\""),
               "class=\"wide\"");
}

std::string file_name_of(const std::string& name) {
    std::string file;
    for (const char c : name) {
        const char lower = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        if ((lower >= 'a' && lower <= 'z') || (lower >= '0' && lower <= '9'))
            file += lower;
        else if (!file.empty() && file.back() != '-')
            file += '-';
    }
    if (file.ends_with('-')) file.pop_back();
    return std::string(file.empty() ? "design" : file).append(design::file_ending);
}

std::string article(const GallerySoap& soap, std::size_t number) {
    const std::string label = std::to_string(number);
    const std::string file = "<p class=\"download\"><a download=\"" + file_name_of(soap.design.name) +
                             "\" href=\"data:application/json;base64," +
                             base64(design::to_json(soap.design)) + "\">the design as a file</a></p>";
    const std::string notes = soap.design.notes.empty() ? "" : tag("p", escaped(soap.design.notes));
    return tag("article",
               tag("header", tag("h2", label_tag(label) + " " + escaped(soap.design.name))) +
                   tag("div", wiper(soap), "class=\"face\"") +
                   tag("div", notes + colours_table(soap) + bench_table(soap) + warnings_list(soap) + file) +
                   orders_row(soap, number),
               "id=\"soap-" + label + "\"");
}

std::string overview(const std::vector<GallerySoap>& soaps) {
    std::string links;
    for (std::size_t i = 0; i < soaps.size(); ++i) {
        const std::string label = std::to_string(i + 1);
        links += tag(
            "a",
            image_tag(halved(soaps[i].drawn), "") + "<b>" + label + "</b> " + escaped(soaps[i].design.name),
            "href=\"#soap-" + label + "\"");
    }
    return tag("nav", links, "aria-label=\"All soaps\"");
}

std::string family_section(const std::vector<GallerySoap>& soaps, const design::FamilyReport& report,
                           const std::vector<AlikePair>& alike) {
    std::string items;
    for (const auto& colour : report.recurring) {
        std::string words = colour.name + ", in " + std::to_string(colour.uses.size()) + " soaps: ";
        if (colour.drifted())
            words += "drifted apart by dE00 " + short_number(colour.most_de00, 2) + " between " +
                     soaps[colour.uses[colour.farthest_a].design].design.name + " and " +
                     soaps[colour.uses[colour.farthest_b].design].design.name;
        else
            words += "held within dE00 " + short_number(colour.most_de00, 2);
        items += tag("li", escaped(words));
    }
    for (const auto& pair : alike)
        items +=
            tag("li", escaped(soaps[pair.a].design.name + " and " + soaps[pair.b].design.name +
                              " look alike: dE00 " + short_number(pair.unlike_de00, 2) + " over the face"));
    std::string rows = "<tr><th>Pigment</th><th class=\"n\">Needed</th><th class=\"n\">To order</th></tr>";
    for (const auto& need : report.pigments)
        rows += tag("tr", tag("td", escaped(need.name)) + tag("td", grams(need.needed_g), "class=\"n\"") +
                              tag("td", grams(need.to_order_g), "class=\"n\""));
    return tag("article",
               tag("header", tag("h2", "The family")) +
                   tag("div", "<h3>Colours that come back</h3>" + tag("ul", items)) +
                   tag("div", "<h3>Pigments, with a margin of " + short_number(report.margin_percent, 3) +
                                  " %</h3>" + tag("div", tag("table", rows), "class=\"scroll\"")),
               "id=\"family\"");
}

// No page of ours asks anybody for anything: the browser is told to refuse it too.
constexpr const char* no_network =
    "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; style-src "
    "'unsafe-inline'; script-src 'unsafe-inline'\">";

constexpr const char* answer_box =
    "<form id=\"answer\" aria-label=\"Your answer\"><textarea aria-label=\"Your answer\" "
    "placeholder=\"7B: less white\"></textarea><div><button type=\"button\" class=\"copy\">Copy</button>"
    "<button type=\"button\" class=\"close\">Close</button></div></form>";

}  // namespace

std::string gallery_page(const GalleryText& text, const std::vector<GallerySoap>& soaps,
                         const design::FamilyReport& report, const std::vector<AlikePair>& alike) {
    std::string articles;
    for (std::size_t i = 0; i < soaps.size(); ++i) articles += article(soaps[i], i + 1) + "\n";
    const std::string head =
        "<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, "
        "initial-scale=1\">\n" +
        std::string(no_network) + "\n" + tag("title", escaped(text.name)) + "\n" +
        tag("style", read_file(own_file("assets/gallery/style.css")));
    const std::string how =
        "<p class=\"how\">Every soap has a number, its other orders have letters. Answer with them: "
        "<b>7B, less white</b>. Touch a number to begin an answer that you can copy.</p>";
    const std::string body =
        tag("header",
            tag("h1", escaped(text.name)) + (text.notes.empty() ? "" : tag("p", escaped(text.notes))) + how) +
        tag("main", overview(soaps) + articles + family_section(soaps, report, alike)) +
        "<footer><p>Predicted faces and colours; powders differ. Weigh with your own batch sheet. "
        "Whether a colourant may be used, and at what dose, is for its supplier's documents and your local "
        "rules.</p></footer>" +
        answer_box + tag("script", read_file(own_file("assets/gallery/script.js")));
    return "<!DOCTYPE html>\n" +
           tag("html", "\n" + tag("head", "\n" + head + "\n") + "\n" + tag("body", "\n" + body + "\n") + "\n",
               "lang=\"en\"") +
           "\n";
}

}  // namespace foreslice::picture
