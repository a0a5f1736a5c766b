#include "studio/session/board_words.h"

#include <algorithm>
#include <cmath>

#include "design/differences.h"

namespace foreslice::studio {
namespace {

struct Change {
    std::string words;
    double weight = 0;  ///< 1 is as much as one notices at a glance
};

// A choice of ours: what makes two faces look different across the table.
constexpr double noticed_percent = 3, noticed_de00 = 2, noticed_symmetry = 0.06, noticed_thickness = 0.15;
constexpr double told_from = 0.34;  // of that

std::string percents(double from, double to) {
    const int decimals = std::abs(to - from) < 1 ? 1 : 0;
    return format_quantity(from, Unit::percent, decimals) + " to " +
           format_quantity(to, Unit::percent, decimals);
}

class Changes {
  public:
    explicit Changes(const ShownUnits& units) : units_(units) {}

    void add_percent(const std::string& what, double from, double to) {
        add(what + " " + percents(from, to), std::abs(to - from) / noticed_percent);
    }
    void add_contrast(const std::string& what, double from, double to) {
        add(what + " " + format_number(from, 1) + " to " + format_number(to, 1),
            std::abs(to - from) / noticed_de00);
    }
    void add_thickness(const std::string& what, double from_mm, double to_mm) {
        const double larger = std::max(from_mm, to_mm);
        if (larger <= 0) return;
        add(what + " " + format_quantity(from_mm, Unit::mm, 1, units_) + " to " +
                format_quantity(to_mm, Unit::mm, 1, units_),
            std::abs(to_mm - from_mm) / larger / noticed_thickness);
    }
    void add_symmetry(double from, double to) {
        add("symmetry " + percents(100 * from, 100 * to), std::abs(to - from) / noticed_symmetry);
    }
    void add_feathers(int from, int to) {
        add("feathers " + std::to_string(from) + " to " + std::to_string(to),
            from == to ? 0 : std::abs(to - from) / (0.3 * std::max(2, std::max(from, to))));
    }
    std::vector<std::string> words() {
        std::stable_sort(found_.begin(), found_.end(),
                         [](const Change& a, const Change& b) { return a.weight > b.weight; });
        std::vector<std::string> out;
        for (Change& change : found_) out.push_back(std::move(change.words));
        return out;
    }

  private:
    void add(std::string words, double weight) {
        if (weight >= told_from) found_.push_back({std::move(words), weight});
    }
    ShownUnits units_;
    std::vector<Change> found_;
};

std::size_t place_of(const design::Design& design, const std::string& id) {
    const auto found = std::find_if(design.portions.begin(), design.portions.end(),
                                    [&](const design::Portion& portion) { return portion.id == id; });
    return static_cast<std::size_t>(found - design.portions.begin());
}

}  // namespace

std::vector<std::string> design_changes(const design::Design& before, const design::Design& after,
                                        const colour::ColourantLibrary* library) {
    std::vector<std::string> out;
    for (const auto& one : design::differences(before, after, library))
        if (one.field != "name" && one.field != "notes") out.push_back(design::sentence_of(one));
    return out;
}

std::vector<std::string> measure_changes(const design::Design& before, const picture::FaceMeasures& one,
                                         const design::Design& after, const picture::FaceMeasures& other,
                                         const ShownUnits& units) {
    Changes changes(units);
    changes.add_percent("muddy share", one.muddy_percent, other.muddy_percent);
    changes.add_contrast("mean contrast", one.mean_contrast_de00, other.mean_contrast_de00);
    changes.add_thickness("middling bands", one.median_thickness_mm, other.median_thickness_mm);
    changes.add_feathers(one.feathers, other.feathers);
    changes.add_symmetry(one.symmetry, other.symmetry);
    for (std::size_t i = 0; i < std::min(before.portions.size(), one.portions.size()); ++i) {
        const std::size_t there = place_of(after, before.portions[i].id);
        if (there >= std::min(after.portions.size(), other.portions.size())) continue;
        const auto& portion = after.portions[there];
        changes.add_percent((portion.name.empty() ? portion.id : portion.name) + " on the face",
                            one.portions[i].face_percent, other.portions[there].face_percent);
    }
    return changes.words();
}

std::string in_one_line(const std::vector<std::string>& design, const std::vector<std::string>& measures,
                        std::size_t most_of_each) {
    const auto joined = [most_of_each](const std::vector<std::string>& sentences) {
        std::string out;
        for (std::size_t i = 0; i < std::min(sentences.size(), most_of_each); ++i)
            out += (i > 0 ? ", " : "") + sentences[i];
        if (sentences.size() > most_of_each)
            out += " and " + std::to_string(sentences.size() - most_of_each) + " more";
        return out;
    };
    std::string words = joined(design);
    const std::string faces = joined(measures);
    if (!words.empty() && !faces.empty()) words += "; ";
    words += faces;
    return words.empty() ? "no difference" : words;
}

}  // namespace foreslice::studio
