// The gallery's page in a real browser without a window: its pictures decode, the wiper wipes, labels begin
// an answer, it fits a phone and a desk, and it asks no network for anything.
#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>

#include "cli/program.h"

using namespace foreslice::testing;
using nlohmann::json;

namespace {

// Two soaps that need no flow.
std::string small_gallery(const ScratchFolder& scratch) {
    for (const char* name : {"one", "two"}) {
        auto design = json::parse(bytes_of(demo_design("slipway")));
        design["name"] = name;
        design["strokes"][0]["passes"]["count"] = 1;
        std::ofstream(scratch / (std::string(name) + ".foreslice.json")) << design.dump();
    }
    const std::string page = scratch / "gallery.html";
    const auto outcome =
        run({"gallery", scratch / "", "-o", page, "--px-per-mm", "3", "--cells", "32", "--orders", "2"});
    REQUIRE_MESSAGE(outcome.code == 0, outcome.err);
    return page;
}

// Runs inside the page and leaves what it found in an attribute of the document.
constexpr const char* probe = R"(<script>addEventListener('load', () => {
  const all = (what) => [...document.querySelectorAll(what)];
  const wiper = document.querySelector('.wiper'), input = wiper.querySelector('input');
  input.value = 20; input.dispatchEvent(new Event('input'));
  all('.label').find((label) => label.textContent === '2A').click();
  const probe = {
    images: all('img').length,
    decoded: all('img').filter((image) => image.complete && image.naturalWidth > 0).length,
    described: all('article img').filter((image) => image.alt.length > 20).length,
    in_articles: all('article img').length,
    at: getComputedStyle(wiper).getPropertyValue('--at').trim(),
    clip: getComputedStyle(wiper.querySelector('.over')).clipPath,
    answer: document.querySelector('#answer textarea').value,
    open: getComputedStyle(document.getElementById('answer')).display,
    page_width: document.documentElement.scrollWidth, window_width: innerWidth,
    columns: getComputedStyle(document.querySelector('article')).gridTemplateColumns.split(' ').length,
    requests: performance.getEntriesByType('resource').filter((entry) => !entry.name.startsWith('data:')).length
  };
  document.documentElement.setAttribute('data-probe', JSON.stringify(probe));
});</script></body>)";

json probed(const ScratchFolder& scratch, const std::string& page, const std::string& size) {
    std::string html = bytes_of(page);
    const auto end = html.rfind("</body>");
    REQUIRE(end != std::string::npos);
    html = html.substr(0, end).append(probe);
    const std::string file = scratch / "probed.html", out = scratch / "dom.html";
    std::ofstream(file, std::ios::binary) << html;
    std::string command("\"" CHROMIUM_PROGRAM "\" --headless --no-sandbox --disable-gpu --hide-scrollbars");
    command.append(" --virtual-time-budget=5000 --window-size=").append(size);
    command.append(" --user-data-dir=\"").append(scratch / "profile");
    command.append("\" --dump-dom \"file://")
        .append(file)
        .append("\" >\"")
        .append(out)
        .append("\" 2>/dev/null");
    REQUIRE(std::system(command.c_str()) == 0);
    std::string dom = bytes_of(out);
    const std::string mark = "data-probe=\"";
    const auto at = dom.find(mark);
    REQUIRE(at != std::string::npos);
    std::string text = dom.substr(at + mark.size(), dom.find('"', at + mark.size()) - at - mark.size());
    std::string plain;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const bool quote = text.compare(i, 6, "&quot;") == 0;
        plain += quote ? '"' : text[i];
        if (quote) i += 5;
    }
    return json::parse(plain);
}

}  // namespace

TEST_CASE("browser: the gallery works at the size of a desk and of a phone") {
    const ScratchFolder scratch;
    const std::string page = small_gallery(scratch);
    for (const char* size : {"1280,900", "500,900"}) {
        CAPTURE(size);
        const json found = probed(scratch, page, size);
        CHECK(found["images"].get<int>() >=
              8);  // two in the overview; two faces and an order of each at least
        CHECK(found["decoded"] == found["images"]);
        CHECK(found["described"] == found["in_articles"]);
        CHECK(found["at"] == "20%");
        CHECK(found["clip"].get<std::string>().find("80%") != std::string::npos);
        CHECK(found["answer"] == "2A: ");
        CHECK(found["open"] == "flex");
        CHECK(found["page_width"].get<int>() <= found["window_width"].get<int>());
        CHECK(found["requests"] == 0);
        CHECK(found["columns"] == (std::string(size) == "1280,900" ? 2 : 1));
    }
}
