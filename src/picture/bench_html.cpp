#include <array>
#include <cstdio>

#include "picture/bench_diagram.h"
#include "picture/bench_files.h"
#include "picture/bench_words.h"
#include "picture/qr.h"
#include "picture/web_image.h"

namespace foreslice::picture {
namespace {

constexpr const char* style = R"(
:root{color-scheme:light}
body{margin:0 auto;max-width:60rem;padding:1.2rem;font:16px/1.45 Inter,system-ui,sans-serif;color:#1d1c1a;background:#fff}
h1{font-size:2.2rem;line-height:1.1;margin:0}
h2{font-size:1.15rem;border-bottom:2px solid #1d1c1a;margin:1.6rem 0 .3rem}
h2 small,.note{font-weight:400;font-size:.82rem;color:#55514b}
h2 small{float:right;margin-top:.25rem}
.head{display:flex;gap:1.2rem;justify-content:space-between;align-items:flex-start}
.code{font-size:.72rem;color:#55514b;text-align:right;white-space:nowrap}
.top{display:grid;grid-template-columns:minmax(11rem,18rem) 1fr;gap:1.6rem}
.face{width:100%;border:1px solid #55514b}
.facts{display:grid;grid-template-columns:1fr 1fr;gap:.4rem 1rem}
.facts b{display:block;font-size:1.25rem}
table{border-collapse:collapse;width:100%}
td{border-bottom:1px solid #cfcac2;padding:.3rem .35rem;vertical-align:middle}
td.w{font-size:1.6rem;font-weight:600;text-align:right;white-space:nowrap;font-variant-numeric:tabular-nums}
td.w span{font-size:.9rem;font-weight:400;color:#55514b}
tr.strong td{background:#efece6}
td.tick{width:1.6rem}
input[type=checkbox]{width:1.25rem;height:1.25rem}
.jugs{display:grid;grid-template-columns:repeat(auto-fill,minmax(20rem,1fr));gap:.8rem}
.jug{border:1px solid #55514b;border-radius:.5rem;padding:.5rem .6rem;break-inside:avoid}
.jug h3{display:flex;gap:.5rem;align-items:center;margin:0;font-size:1.05rem}
.jug h3 i{width:1.5rem;height:1.5rem;border:1px solid #1d1c1a;border-radius:.25rem}
.jug h3 b{margin-left:auto;font-size:1.6rem}
.caution{border:3px solid #1d1c1a;border-radius:.5rem;padding:.5rem .9rem;margin-top:1.4rem;break-inside:avoid}
.warn{font-size:.88rem;border-left:4px solid #1d1c1a;padding-left:.6rem;margin:.3rem 0}
ol.steps{list-style:none;padding:0}
ol.steps li{display:grid;grid-template-columns:1.8rem 5rem 1fr;margin:.7rem 0;break-inside:avoid}
.drawings{display:flex;flex-wrap:wrap;gap:1.2rem}
.drawings img{width:20rem;max-width:100%}
@media print{body{max-width:none;padding:0;font-size:12px}section.soap{break-before:page}}
)";

std::string tag(const std::string& name, const std::string& inside, const std::string& attributes = "") {
    return "<" + name + (attributes.empty() ? "" : " " + attributes) + ">" + inside + "</" + name + ">";
}

std::string data_image(const Image& image, const std::string& alt, const std::string& css_class) {
    return "<img class=\"" + css_class + "\" alt=\"" + escaped(alt) + "\" src=\"data:image/png;base64," +
           base64(png_bytes(image)) + "\"/>";
}

std::string tick() {
    return "<input type=\"checkbox\"/>";
}

std::string svg_of(const std::string& text) {
    const QrCode code = qr_code(text);
    const std::string side = std::to_string(code.side + 8);
    std::string out =
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"110\" height=\"110\" viewBox=\"0 0 " + side + " " +
        side + "\" shape-rendering=\"crispEdges\"><path fill=\"#000\" d=\"";
    for (int y = 0; y < code.side; ++y)
        for (int x = 0; x < code.side; ++x)
            if (code.at(x, y))
                out.append("M")
                    .append(std::to_string(x + 4))
                    .append(" ")
                    .append(std::to_string(y + 4))
                    .append("h1v1h-1z");
    return out + "\"/></svg>";
}

std::string row_html(const BenchRow& row) {
    std::string words = row.note;
    if (!row.exact.empty()) words += (words.empty() ? "" : " · ") + row.exact;
    std::string out = tag("td", tick(), "class=\"tick\"");
    out += tag("td", escaped(row.name) + "<br/>" + tag("span", escaped(words), "class=\"note\""));
    const std::string amount =
        row.weight ? row.weight->text() + " " + tag("span", std::string(name_of(row.weight->scale.unit)))
                   : "";
    out += tag("td", amount, "class=\"w\"");
    return tag("tr", out, row.strong ? "class=\"strong\"" : "");
}

std::string heading_html(const std::string& title, const std::string& aside) {
    return tag("h2", tag("small", escaped(aside)) + escaped(title));
}

std::string table_html(const BenchTable& table) {
    std::string rows;
    for (const BenchRow& row : table.rows) rows += row_html(row);
    return heading_html(table.title, table.note) + tag("table", tag("tbody", rows));
}

std::string jug_html(const BenchJug& jug) {
    std::array<char, 32> colour{};
    std::snprintf(colour.data(), colour.size(), "background:#%06x", jug.rgb);
    std::string out = tag("h3", tick() + "<i style=\"" + colour.data() + "\"></i>" + escaped(jug.plain.name) +
                                    tag("b", escaped(words_of(*jug.plain.weight))));
    std::string words = shown(jug.percent, 1) + " % · " + jug.volume + " · jug of " + jug.jug_size;
    if (jug.fragrance_g > 0) words += " · fragrance share " + shown(jug.fragrance_g, 1) + " g";
    if (!jug.top.empty()) words += " · " + jug.top + " for the top";
    out += tag("div", escaped(words), "class=\"note\"");
    std::string rows;
    for (const BenchPowder& powder : jug.powders) {
        BenchRow row = powder.row;
        row.note = words_under(powder) + " · ΔE " + shown(powder.de00_per_tenth_g, 1) + " for 0.1 g";
        row.strong = powder.matters;
        rows += row_html(row);
    }
    if (!rows.empty()) out += tag("table", tag("tbody", rows));
    return tag("div", out, "class=\"jug\"");
}

std::string step_html(const BenchStep& step) {
    std::string inside;
    for (const std::string& line : step.lines) inside += tag("div", escaped(line));
    for (const std::string& warning : step.warnings) inside += tag("div", escaped(warning), "class=\"warn\"");
    return tag("li", tick() + tag("span", escaped(step.when), "class=\"note\"") +
                         tag("div", tag("b", escaped(step.title)) + inside));
}

std::string drawings_html(const BenchSheet& sheet) {
    constexpr double px_per_mm = 9;
    const double high = 6.6 * static_cast<double>(sheet.pours.size()) + 40;
    Paper pours = Paper::pictures({84, high}, px_per_mm);
    draw_pours(pours, sheet, {2, 2, 80, high - 6});
    std::string out = data_image(pours.images().front(), "The layers as they are poured", "drawing");
    for (const BenchWire& wire : sheet.wires) {
        Paper paper = Paper::pictures({84, 92}, px_per_mm);
        draw_wire(paper, sheet, wire, {2, 2, 80, 88});
        out += data_image(paper.images().front(), wire.title, "drawing");
    }
    return tag("div", out, "class=\"drawings\"");
}

std::string facts_html(const std::vector<BenchFact>& facts) {
    std::string out;
    for (const BenchFact& fact : facts)
        out += tag("div", tag("span", escaped(fact.label), "class=\"note\"") + tag("b", escaped(fact.value)) +
                              tag("span", escaped(fact.note), "class=\"note\""));
    return tag("div", out, "class=\"facts\"");
}

std::string sheet_html(const BenchSheet& sheet) {
    std::string words = "Bench sheet · " + sheet.subtitle;
    if (!sheet.batch_number.empty()) words += " · batch " + sheet.batch_number;
    if (!sheet.date.empty()) words += " · " + sheet.date;
    std::string out =
        tag("div",
            tag("div", tag("h1", escaped(sheet.title)) + tag("div", escaped(words))) +
                tag("div", svg_of(sheet.code) + tag("div", escaped(sheet.code)), "class=\"code\""),
            "class=\"head\"");
    std::string left, right;
    if (sheet.face.width_px > 0) left = data_image(sheet.face, "The cut face of the middle bar", "face");
    left += facts_html(sheet.facts);
    for (const BenchTable& table : sheet.tables) right += table_html(table);
    out += tag("div", tag("div", left) + tag("div", right), "class=\"top\"");
    std::string jugs;
    for (const BenchJug& jug : sheet.jugs) jugs += jug_html(jug);
    out += heading_html("Split and tint", sheet.pot);
    out += tag("div", jugs, "class=\"jugs\"") + tag("p", escaped(sheet.jugs_note), "class=\"note\"");
    std::string cautions;
    for (const std::string& caution : sheet.cautions) cautions += tag("li", escaped(caution));
    out += tag("div", tag("b", "Lye burns. Lye into water, never the other way.") + tag("ul", cautions),
               "class=\"caution\"");
    out +=
        heading_html("Pours and wire", "millimetres from the left wall and the floor") + drawings_html(sheet);
    std::string steps;
    for (const BenchStep& step : sheet.steps) steps += step_html(step);
    out += heading_html("Order of work", "") + tag("ol", steps, "class=\"steps\"");
    out += heading_html("Calendar", "") + facts_html(sheet.dates);
    if (sheet.cost)
        out += heading_html("Cost", sheet.cost->complete ? "" : "of what has a price") +
               tag("p", escaped(shown(sheet.cost_per_bar, 2) + " " + sheet.money + " a bar, " +
                                shown(sheet.cost->total, 2) + " " + sheet.money + " the batch"));
    if (!sheet.warnings.empty()) out += heading_html("Look twice", "");
    for (const design::Warning& warning : sheet.warnings)
        out += tag("div", escaped(warning.sentence + " " + warning.cure), "class=\"warn\"");
    return tag("section", out + tag("p", escaped(sheet.not_this), "class=\"note\""), "class=\"soap\"");
}

std::string collection_html(const BenchCollection& collection) {
    std::string out = tag("h1", escaped(collection.title));
    for (const batter::Masterbatch& paste : collection.pastes) {
        BenchTable table{paste.id,
                         paste.name + " paste",
                         "1 part powder to " + shown(paste.parts_of_liquid, 1) + " parts " +
                             std::string(name_of(paste.liquid)),
                         {}};
        table.rows.push_back(
            row_of(paste.id, paste.name, "", batter::weighed(paste.powder_g, collection.powder_scale)));
        table.rows.push_back(row_of("liquid", std::string(name_of(paste.liquid)), "",
                                    batter::weighed(paste.liquid_g, collection.powder_scale)));
        out += table_html(table);
        std::string doses;
        for (const auto& dose : paste.doses)
            doses += tag(
                "li", escaped(dose.soap + ", " + dose.jug + ": " + shown(dose.paste_g, 1) + " g of paste"));
        out += tag("ul", doses);
    }
    if (collection.cost) {
        out += heading_html("Needed and on the shelf",
                            shown(collection.cost->total, 2) + " " + collection.money + " together");
        std::string rows;
        for (const batter::CostLine& line : collection.cost->lines)
            rows += tag("tr", tag("td", escaped(line.name)) + tag("td", shown(line.g, 1) + " g") +
                                  tag("td", line.short_g > 0  ? shown(line.short_g, 1) + " g short"
                                            : line.in_stock_g ? shown(*line.in_stock_g, 0) + " g there"
                                                              : "not counted"));
        out += tag("table", tag("tbody", rows));
    }
    return tag("section", out);
}

}  // namespace

std::string escaped(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c == '&')
            out += "&amp;";
        else if (c == '<')
            out += "&lt;";
        else if (c == '>')
            out += "&gt;";
        else if (c == '"')
            out += "&quot;";
        else if (c == '\'')
            out += "&#39;";
        else
            out += static_cast<unsigned char>(c) < 0x20 && c != '\n' ? ' ' : c;
    }
    return out;
}

std::string bench_html(const std::vector<BenchSheet>& sheets, const BenchCollection* collection) {
    const std::string title = collection != nullptr ? collection->title
                              : sheets.empty()      ? ""
                                                    : sheets.front().title;
    std::string body;
    if (collection != nullptr) body += collection_html(*collection);
    for (const BenchSheet& sheet : sheets) body += sheet_html(sheet);
    return "<!DOCTYPE html>\n<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\"><head>"
           "<meta charset=\"utf-8\"/><meta name=\"viewport\" content=\"width=device-width, "
           "initial-scale=1\"/>" +
           tag("title", escaped(title) + " – bench sheet") + tag("style", style) + "</head>" +
           tag("body", body) + "</html>\n";
}

}  // namespace foreslice::picture
