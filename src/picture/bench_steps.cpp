// The order of work, with times and dates. Times and rules of thumb are common practice without a source,
// unless a line says otherwise; the batter has the last word.
#include <algorithm>
#include <cmath>

#include "picture/bench_words.h"
#include "picture/caption.h"

namespace foreslice::picture {
namespace {

using batter::Into;

constexpr double hard_fat_percent = 10;  // from here on a fat that sets counts for the temperature
constexpr double usual_pour_c = 35;
constexpr double slow_oils_percent = 70;  // olive-rich batter firms late

struct CutWindow {
    double from_h, to_h;
};

double percent_of_slow_oils(const batter::Batch& batch) {
    double sum = 0;
    for (const auto& oil : batch.oils)
        if (oil.oil->id.starts_with("olive")) sum += oil.percent;
    return sum;
}

CutWindow cut_window(const design::Design& design, const batter::Batch& batch) {
    if (percent_of_slow_oils(batch) >= slow_oils_percent) return {48, 96};
    if (design.base.gelled) return {12, 36};
    return batch.lye_percent >= 38 ? CutWindow{18, 36} : CutWindow{24, 48};
}

/// "a, b and c".
std::string listed(const std::vector<std::string>& words) {
    std::string out;
    for (std::size_t i = 0; i < words.size(); ++i)
        out += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
    return out;
}

/// "olive" of "olive, refined".
std::string short_name(const std::string& name) {
    return name.substr(0, name.find(','));
}

class Steps {
  public:
    Steps(const BenchInput& input, const BenchSheet& sheet, const BenchOptions& options)
        : design_(input.design),
          plan_(input.plan),
          batch_(input.plan.batch),
          sheet_(sheet),
          options_(options) {}

    std::vector<BenchStep> all() {
        prepare();
        lye();
        oils();
        powders();
        combine();
        split();
        pour();
        wire();
        finish();
        cover();
        cut();
        return std::move(steps_);
    }

  private:
    BenchStep& step(std::string when, std::string title) {
        steps_.push_back({std::move(when), std::move(title), {}, {}});
        return steps_.back();
    }

    std::string temperature(double celsius) const { return temperature_words(celsius, sheet_.units); }

    /// Warnings whose place begins so, in the words of the sheet.
    void warn(BenchStep& step, const std::vector<std::string>& places) {
        for (const design::Warning& warning : sheet_.warnings)
            for (const std::string& place : places)
                if (warning.place.starts_with(place)) {
                    step.warnings.push_back(warning.sentence + " " + warning.cure);
                    break;
                }
    }

    /// "Sugar. Dissolve it in the water before the lye goes in."
    static std::string with_how(const batter::Added& added) {
        std::string name = added.name;
        if (!name.empty() && name[0] >= 'a' && name[0] <= 'z')
            name[0] = static_cast<char>(name[0] - 'a' + 'A');
        return added.how.empty() ? "Stir in: " + added.name + "." : name + ". " + added.how;
    }

    void prepare() {
        BenchStep& s = step("before", "Get ready");
        const auto& bench = design_.bench;
        s.lines.push_back(
            (bench.moulds > 1 ? "Line " + std::to_string(bench.moulds) + " moulds" : "Line the mould") +
            " and mark " + length_words(design_.mould.fill_mm, sheet_.units) +
            " from the floor inside. Set out " + std::to_string(sheet_.jugs.size()) +
            (sheet_.jugs.size() == 1 ? " jug" : " jugs") + (design_.strokes.empty() ? "" : ", the wire") +
            ", scales and a thermometer.");
        warn(s, {"/mould", "/bench"});
    }

    std::vector<std::string> added(Into into) const {
        std::vector<std::string> out;
        for (const batter::Added& added : batch_.additives)
            if (added.into == into && added.g > 0) out.push_back(added.name);
        return out;
    }

    void lye() {
        BenchStep& s = step("−90 min", "Make the lye");
        const auto add = [&](bool before) {
            for (const batter::Added& one : batch_.additives)
                if (one.into == Into::lye_water && one.g > 0 &&
                    before == (one.how.find("before") != std::string::npos))
                    s.lines.push_back(with_how(one));
        };
        add(true);
        s.lines.push_back(
            "Weigh the water cold into a heat-safe jug. Shake the alkali in, a little at a time, stirring "
            "until it is clear. Label it and let it cool to about " +
            temperature(std::max(usual_pour_c, sets_below_c())) + ".");
        add(false);
        for (const batter::Added& liquid : batch_.liquids)
            if (liquid.into == Into::lye_water)
                s.lines.push_back("Chill or freeze the " + liquid.name +
                                  " first: lye scorches what has sugar or fat in it.");
        warn(s, {"/base/superfat", "/base/lye", "/recipe/alkali", "/recipe/water", "/recipe/liquids"});
    }

    /// The highest temperature at which a hard fat of the blend may still set; 0 when there is none.
    double sets_below_c() const {
        double highest = 0;
        for (const batter::OilWeight& oil : batch_.oils)
            if (oil.percent >= hard_fat_percent) highest = std::max(highest, oil.oil->melts_c.high);
        return highest;
    }

    void oils() {
        BenchStep& s = step("−45 min", "Melt the oils");
        std::vector<std::string> hard, soft;
        for (const batter::OilWeight& oil : batch_.oils)
            (oil.oil->kind == batter::OilKind::oil ? soft : hard).push_back(short_name(oil.oil->name));
        std::string line =
            hard.empty() ? "Weigh the oils together."
                         : "Melt " + listed(hard) + (soft.empty() ? "." : "; then add the liquid oils.");
        if (plan_.split.oil_held_back_g > 0.05)
            line += " First put " + shown(plan_.split.oil_held_back_g, 1) + " g of " + held_back_name() +
                    " aside for the powders.";
        s.lines.push_back(line);
        if (const auto more = added(Into::oils); !more.empty())
            s.lines.push_back("Into the oils: " + listed(more) + ".");
        if (const double c = sets_below_c(); c > 0)
            s.lines.push_back("Keep the batter above about " + temperature(c) +
                              ": colder, hard fat sets and looks like trace when it is not.");
        warn(s, {"/base/oils", "/recipe/oils"});
    }

    std::string held_back_name() const {
        for (const batter::OilWeight& oil : batch_.oils)
            if (oil.oil->id == plan_.split.oil_held_back_from) return short_name(oil.oil->name);
        return "oil";
    }

    void powders() {
        bool any = false;
        for (const BenchJug& jug : sheet_.jugs) any = any || !jug.powders.empty();
        if (!any) return;
        BenchStep& s = step("−30 min", "Wet the powders");
        if (!options_.pastes.empty())
            s.lines.emplace_back(
                "Weigh the pastes that were made for the collection, one cup a jug, and stir each again "
                "just before use: white settles within minutes.");
        else
            s.lines.emplace_back(
                "Dust mask on. Weigh each jug's powders and stir them into their oil or water from the "
                "table, without lumps. Stir again just before use: white settles within minutes.");
        warn(s, {"/portions"});
    }

    void combine() {
        BenchStep& s = step("0 min", "Lye into oils");
        s.lines.push_back(
            "Both within a few degrees. Pour the lye into the oils and blend in short bursts to an "
            "emulsion without oil streaks, then on to " +
            batter_words(design_) + goes_like() + ".");
        for (const batter::Added& liquid : batch_.liquids)
            if (liquid.into == Into::batter) s.lines.push_back("Stir in the " + liquid.name + ".");
        for (const batter::Added& one : batch_.additives)
            if (one.into == Into::batter && one.g > 0) s.lines.push_back(with_how(one));
        if (batch_.fragrance_g > 0)
            s.lines.emplace_back("Fragrance into the whole batter now, so that all jugs thicken alike.");
        warn(s, {"/batter", "/base/fragrance", "/base/vanillin", "/recipe/additives"});
    }

    std::string goes_like() const {
        if (!design_.batter.trace) return "";
        return " (like " + std::string(batter::behaves_like(*design_.batter.trace)) + ")";
    }

    void split() {
        std::vector<const BenchJug*> order;
        for (const BenchJug& jug : sheet_.jugs)
            if (!jug.powders.empty()) order.push_back(&jug);
        if (sheet_.jugs.size() < 2 && order.empty()) return;
        std::stable_sort(order.begin(), order.end(), [](const BenchJug* a, const BenchJug* b) {
            return a->powder_g_per_kg_oils < b->powder_g_per_kg_oils;
        });
        BenchStep& s = step("+3 min", "Split, then tint");
        s.lines.emplace_back(
            "Weigh the plain batter into the jugs and write down what you really poured. Tint by hand:");
        std::string line;
        for (const BenchJug* jug : order)
            line += (line.empty() ? "" : " → ") + jug->plain.name + " (" +
                    shown(jug->powder_g_per_kg_oils, 1) + ")";
        if (order.empty()) return;
        s.lines.push_back(line);
        s.lines.emplace_back(
            "In brackets g of powder per kg of oils: the heaviest comes last, because powder thickens "
            "batter and it then stands for the shortest time.");
    }

    /// Portions that are meant to be thicker or thinner than the rest.
    void add_thickness(BenchStep& step) const {
        for (const design::Portion& portion : design_.portions) {
            if (portion.trace && portion.trace != design_.batter.trace)
                step.lines.push_back("Pour " + portion.name + " at " + std::string(name_of(*portion.trace)) +
                                     " trace (like " + std::string(batter::behaves_like(*portion.trace)) +
                                     ").");
            if (portion.times_as_thick != 1)
                step.lines.push_back("Pour " + portion.name + " when it is " +
                                     shown(portion.times_as_thick, 1) + " times as thick as its trace.");
        }
    }

    void pour() {
        BenchStep& s = step("+10 min", "Pour, lowest first");
        std::string line;
        for (std::size_t i = 0; i < sheet_.pours.size(); ++i) {
            const BenchPour& pour = sheet_.pours[i];
            line += (i == 0               ? ""
                     : pour.with_previous ? " + "
                                          : " → ") +
                    pour.name + " " + pour.amount + (pour.manner.empty() ? "" : " (" + pour.manner + ")");
        }
        s.lines.push_back(line);
        add_thickness(s);
        s.lines.emplace_back(
            "Over a spatula, from end to end. Tap the mould after every second layer to let air out.");
        warn(s, {"/pours"});
    }

    void wire() {
        if (design_.strokes.empty()) return;
        BenchStep& s = step("+15 min", "Draw the wire");
        const auto& stroke = design_.strokes.front();
        s.lines.push_back(wire_words(design_) + ", about " + shown(stroke.speed_mm_per_s / 10, 1) +
                          " cm a second, along the diagram; the tool spans the whole length of the mould.");
        warn(s, {"/strokes", "/hand"});
    }

    void finish() {
        BenchStep& s = step("+20 min", "Top");
        for (const BenchJug& jug : sheet_.jugs)
            if (!jug.top.empty())
                s.lines.push_back("Keep back " + jug.top + " of " + jug.plain.name +
                                  " and shape it once it holds.");
        s.lines.emplace_back(
            "Tap the mould flat on the table. Scrape the jugs; write down what stayed in them.");
    }

    void cover() {
        BenchStep& s = step("+25 min", design_.base.gelled ? "Cover and keep warm" : "Keep cool");
        s.lines.push_back(
            design_.base.gelled
                ? "Wrap the mould so that all of it goes through gel, about " + temperature(60) +
                      " within. Look after an hour: a crack in the middle means too hot."
                : "No wrapping; a cool, airy place, or the fridge overnight, so that it does not gel.");
        warn(s, {"/age"});
    }

    void cut() {
        const CutWindow window = cut_window(design_, batch_);
        BenchStep& s = step(shown(window.from_h, 0) + "–" + shown(window.to_h, 0) + " h", "Cut");
        std::string line = "When it is firm as hard cheese: bars of " +
                           length_words(design_.cut.bar_thickness_mm, sheet_.units);
        if (design_.cut.trim_mm > 0)
            line += ", " + length_words(design_.cut.trim_mm, sheet_.units) + " off each end";
        s.lines.push_back(line + ". Then stand them with air all round.");
        warn(s, {"/cut"});
    }

    const design::Design& design_;
    const design::BatchPlan& plan_;
    const batter::Batch& batch_;
    const BenchSheet& sheet_;
    const BenchOptions& options_;
    std::vector<BenchStep> steps_;
};

/// "Thu 26 Nov 2026", or "day 28" when no date is known.
std::string day_words(const std::optional<BenchDate>& date, double days) {
    if (!date) return "day " + shown(days, 0);
    BenchDate day = later(*date, 24 * days);
    day.minute_of_day.reset();
    return date_words(day);
}

}  // namespace

std::vector<BenchStep> bench_steps(const BenchInput& input, const BenchSheet& sheet,
                                   const BenchOptions& options) {
    return Steps(input, sheet, options).all();
}

std::vector<BenchFact> bench_dates(const BenchInput& input, const BenchOptions& options) {
    const CutWindow window = cut_window(input.design, input.plan.batch);
    const auto at = [&](double hours) {
        return options.date && options.date->minute_of_day ? date_words(later(*options.date, hours))
                                                           : day_words(options.date, hours / 24);
    };
    const bool slow = percent_of_slow_oils(input.plan.batch) >= slow_oils_percent;
    std::vector<BenchFact> dates;
    dates.push_back({"Made", day_words(options.date, 0), ""});
    dates.push_back({"Cut from", at(window.from_h), "to " + at(window.to_h)});
    dates.push_back({"Look again", day_words(options.date, 7), "weigh a bar, note the colour"});
    dates.push_back({"Cured", day_words(options.date, slow ? 90 : 28),
                     slow ? "olive-rich: three months or more" : "better " + day_words(options.date, 42)});
    return dates;
}

}  // namespace foreslice::picture
