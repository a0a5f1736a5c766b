#include "picture/bench_diagram.h"

#include <algorithm>
#include <cmath>

#include "picture/bench_words.h"
#include "picture/qr.h"

namespace foreslice::picture {
namespace {

constexpr unsigned ink = 0x1d1c1a, quiet = 0x5c5852, wall = 0x3a3835;

/// Lighter, so that lines on top stay legible; `keep` of the colour is left.
unsigned paled(unsigned rgb, double keep) {
    unsigned out = 0;
    for (unsigned shift : {16U, 8U, 0U}) {
        const double value = 255 - keep * (255 - ((rgb >> shift) & 255U));
        out |= static_cast<unsigned>(std::lround(value)) << shift;
    }
    return out;
}

/// The cross-section on the paper: mm of the mould to mm of the page.
class Section {
  public:
    Section(const BenchSheet& sheet, const MmRect& area, double above_mm)
        : sheet_(sheet), top_mm_(sheet.height_mm + above_mm) {
        scale_ = std::min(area.width / sheet.width_mm, area.height / top_mm_);
        left_ = area.x + (area.width - scale_ * sheet.width_mm) / 2;
        floor_ = area.y + scale_ * top_mm_;
    }

    Vec2 at(Vec2 mm) const { return {left_ + scale_ * mm.x, floor_ - scale_ * mm.y}; }
    double y(double mm) const { return floor_ - scale_ * mm; }
    double left() const { return left_; }
    double right() const { return left_ + scale_ * sheet_.width_mm; }
    double floor() const { return floor_; }
    double scale() const { return scale_; }

    void layers(Paper& paper, double keep, double level_mm) const {
        for (const BenchPour& pour : sheet_.pours) {
            const double to = std::min(pour.to_mm, level_mm);
            if (to <= pour.from_mm) continue;
            paper.fill({left_, y(to), right() - left_, scale_ * (to - pour.from_mm)}, paled(pour.rgb, keep));
        }
        for (const BenchPour& pour : sheet_.pours)
            if (pour.to_mm <= level_mm + 1e-6)
                paper.line({left_, y(pour.to_mm)}, {right(), y(pour.to_mm)}, {0.15, quiet});
    }
    void mould(Paper& paper) const {
        paper.polyline({{left_ - 0.4, y(sheet_.height_mm)},
                        {left_ - 0.4, floor_ + 0.4},
                        {right() + 0.4, floor_ + 0.4},
                        {right() + 0.4, y(sheet_.height_mm)}},
                       {0.8, wall});
    }

  private:
    const BenchSheet& sheet_;
    double top_mm_;
    double scale_ = 1, left_ = 0, floor_ = 0;
};

/// Places as near as may be to where they want to be, but so far apart; in order. Neighbours that are too
/// near push each other away by the same amount, over and over.
std::vector<double> spread_out(std::vector<double> places, double apart, double least, double most) {
    for (int round = 0; round < 400; ++round) {
        for (std::size_t i = 1; i < places.size(); ++i) {
            const double lacking = apart - (places[i] - places[i - 1]);
            if (lacking <= 0) continue;
            places[i - 1] -= lacking / 2;
            places[i] += lacking / 2;
        }
        if (places.empty()) break;
        places.front() = std::max(places.front(), least);
        places.back() = std::min(places.back(), most);
    }
    return places;
}

std::vector<double> turning_points_mm(const std::vector<Vec2>& path) {
    std::vector<double> out;
    for (std::size_t i = 1; i + 1 < path.size(); ++i)
        if (path[i].y < path[i - 1].y - 1e-6 && path[i + 1].y >= path[i].y - 1e-6) out.push_back(path[i].x);
    return out;
}

void arrow(Paper& paper, Vec2 tip, Vec2 along, double size) {
    const double norm = length(along);
    if (norm <= 0) return;
    const Vec2 d = (1 / norm) * along, n{-d.y, d.x};
    paper.fill_polygon({tip, tip - size * d + 0.42 * size * n, tip - size * d - 0.42 * size * n}, ink);
}

/// A small arrow every so far along the way.
void arrows(Paper& paper, const std::vector<Vec2>& way) {
    constexpr double every_mm = 17;
    double gone = 0, next = every_mm / 2;
    for (std::size_t i = 1; i < way.size(); ++i) {
        const Vec2 leg = way[i] - way[i - 1];
        const double long_mm = length(leg);
        while (long_mm > 0 && gone + long_mm >= next) {
            const double part = (next - gone) / long_mm;
            arrow(paper, way[i - 1] + part * leg, leg, 1.7);
            next += every_mm;
        }
        gone += long_mm;
    }
}

void ruler(Paper& paper, const Section& section, double height_mm) {
    const TextStyle figures{6, Weight::regular, quiet, Align::right, true};
    for (int mm = 0; mm <= static_cast<int>(height_mm); mm += 10) {
        const double y = section.y(mm);
        const bool labelled = mm % 20 == 0;
        paper.line({section.left() - 1.6 - (labelled ? 1.2 : 0.6), y}, {section.left() - 1.2, y},
                   {0.15, quiet});
        if (labelled) paper.text({section.left() - 3.2, y + 0.75}, std::to_string(mm), figures);
    }
}

void turns(Paper& paper, const Section& section, const BenchWire& wire) {
    const TextStyle figures{6, Weight::regular, quiet, Align::middle, true};
    double last = -1e9;
    std::vector<double> all;
    for (const auto& path : wire.paths_mm)
        for (const double x : turning_points_mm(path)) all.push_back(x);
    std::sort(all.begin(), all.end());
    for (const double x : all) {
        const double place = section.at({x, 0}).x;
        if (place - last < 5) continue;
        last = place;
        paper.line({place, section.floor() + 1}, {place, section.floor() + 2}, {0.15, quiet});
        paper.text({place, section.floor() + 4.6}, shown(x, 0), figures);
    }
}

}  // namespace

void draw_pours(Paper& paper, const BenchSheet& sheet, const MmRect& area) {
    const double drawn = std::min(0.39 * area.width, area.height * sheet.width_mm / sheet.height_mm);
    const Section section(sheet, {area.x + 6, area.y, drawn, area.height - 1}, 0);
    section.layers(paper, 1, 1e9);
    section.mould(paper);
    ruler(paper, section, sheet.height_mm);
    const double x = section.right() + 7;
    std::vector<double> middles;
    for (auto pour = sheet.pours.rbegin(); pour != sheet.pours.rend(); ++pour)
        middles.push_back(section.y((pour->from_mm + pour->to_mm) / 2));
    const auto places = spread_out(middles, 6.6, area.y + 2, area.y + area.height - 4.5);
    const TextStyle name{8.5, Weight::semibold, ink}, note{6.6, Weight::regular, quiet};
    for (std::size_t i = 0; i < sheet.pours.size(); ++i) {
        const std::size_t pour_index = sheet.pours.size() - 1 - i;
        const BenchPour& pour = sheet.pours[pour_index];
        const double y = places[i];
        paper.polyline({{section.right() + 1.2, middles[i]}, {section.right() + 3, middles[i]}, {x - 1.5, y}},
                       {0.15, quiet});
        const double room = area.x + area.width - x;
        paper.text({x, y + 0.4}, paper.fitted(std::to_string(pour_index + 1) + "  " + pour.name, name, room),
                   name);
        std::string words = pour.amount + " · " + length_words(pour.to_mm, sheet.units);
        if (pour.with_previous) words += " · with it";
        if (!pour.manner.empty()) words += " · " + pour.manner;
        paper.text({x, y + 3.3}, paper.fitted(words, note, room), note);
    }
}

double draw_wire(Paper& paper, const BenchSheet& sheet, const BenchWire& wire, const MmRect& area) {
    double highest = wire.level_mm;
    for (const auto& path : wire.paths_mm)
        for (const Vec2 point : path) highest = std::max(highest, point.y);
    const double above = std::max(0.0, highest + wire.diameter_mm - sheet.height_mm);
    const Section section(sheet, {area.x + 8, area.y, area.width - 10, area.height - 6}, above);
    section.layers(paper, 0.28, wire.level_mm);
    section.mould(paper);
    ruler(paper, section, sheet.height_mm);
    for (const auto& path : wire.paths_mm) {
        std::vector<Vec2> way;
        way.reserve(path.size());
        for (const Vec2 point : path) way.push_back(section.at(point));
        if (way.size() < 2) continue;
        paper.polyline(way, {1.1, 0xffffff});
        paper.polyline(way, {0.45, ink});
        arrows(paper, way);
        const double radius = std::max(0.9, section.scale() * wire.diameter_mm / 2);
        paper.disc(way.front(), radius, 0xffffff);
        paper.circle(way.front(), radius, {0.4, ink});
        paper.disc(way.back(), 0.7, ink);
    }
    turns(paper, section, wire);
    return section.floor() + 6 - area.y;
}

void draw_qr(Paper& paper, const std::string& text, Vec2 corner, double side_mm) {
    const QrCode code = qr_code(text);
    constexpr int quiet_zone = 4;  // modules, ISO/IEC 18004
    const double module = side_mm / (code.side + 2 * quiet_zone);
    paper.fill({corner.x, corner.y, side_mm, side_mm}, 0xffffff);
    for (int y = 0; y < code.side; ++y)
        for (int x = 0; x < code.side;) {
            int end = x;
            while (end < code.side && code.at(end, y)) ++end;
            if (end > x)
                // A hair taller than a module, so that no viewer shows seams between rows.
                paper.fill({corner.x + module * (x + quiet_zone), corner.y + module * (y + quiet_zone),
                            module * (end - x), 1.02 * module},
                           0x000000);
            x = std::max(end, x + 1);
        }
}

}  // namespace foreslice::picture
