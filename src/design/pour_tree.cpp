#include "design/internal/pour_tree.h"

#include <cmath>

namespace foreslice::design {
namespace {

std::vector<double> numbers(const Place& list, std::size_t least, std::size_t most,
                            const std::string& of_what, Range allowed) {
    std::vector<double> values;
    for (const Place& item : list.items(least, most, of_what)) values.push_back(item.number(allowed));
    return values;
}

Json list_of(const std::vector<double>& values) {
    Json list = Json::array();
    for (const double value : values) list.push_back(json_number(value));
    return list;
}

Fall read_fall(Fields& fields) {
    Fall fall;
    fall.height_mm = fields.number_or("height_mm", limits::fall_height_mm, fall.height_mm);
    fall.rate_ml_per_s = fields.number_or("rate_ml_per_s", limits::fall_rate_ml_per_s, fall.rate_ml_per_s);
    if (const auto at = fields.find("at_mm"))
        fall.at_mm =
            numbers(*at, 0, limits::fall_places, "places in mm from the left wall", limits::fall_at_mm);
    return fall;
}

WallPour read_wall(Fields& fields) {
    WallPour wall;
    if (const auto side = fields.find("side"))
        wall.side = side->one_of({"left", "right"}) == 0 ? Side::left : Side::right;
    wall.foot_mm = fields.number_or("foot_mm", limits::foot_mm, wall.foot_mm);
    return wall;
}

Hills read_hills(Fields& fields) {
    Hills hills;
    hills.amplitude_mm = fields.number_or("amplitude_mm", limits::hill_amplitude_mm, hills.amplitude_mm);
    hills.wavelength_mm = fields.number_or("wavelength_mm", limits::hill_wavelength_mm, hills.wavelength_mm);
    hills.crest_mm = fields.number_or("crest_mm", limits::hill_crest_mm, hills.crest_mm);
    if (const auto heights = fields.find("heights_mm"))
        hills.heights_mm = numbers(*heights, 2, limits::hill_heights, "heights in mm, from wall to wall",
                                   limits::hill_height_mm);
    return hills;
}

Beside read_beside(Fields& fields) {
    Beside beside;
    if (const auto width = fields.find("width_mm")) beside.width_mm = width->number(limits::room_width_mm);
    beside.divider_mm = fields.number_or("divider_mm", limits::divider_mm, beside.divider_mm);
    return beside;
}

SiftedLine read_line(Fields& fields) {
    SiftedLine line;
    line.colourant = fields.at("colourant", "the id of a colourant").id();
    line.thickness_mm = fields.number_or("thickness_mm", limits::line_thickness_mm, line.thickness_mm);
    return line;
}

Json tree_of(const Fall& fall) {
    Json tree = Json::object();
    tree["height_mm"] = json_number(fall.height_mm);
    tree["rate_ml_per_s"] = json_number(fall.rate_ml_per_s);
    if (!fall.at_mm.empty()) tree["at_mm"] = list_of(fall.at_mm);
    return tree;
}

Json tree_of(const WallPour& wall) {
    Json tree = Json::object();
    tree["side"] = wall.side == Side::left ? "left" : "right";
    tree["foot_mm"] = json_number(wall.foot_mm);
    return tree;
}

Json tree_of(const Hills& hills) {
    Json tree = Json::object();
    if (hills.heights_mm.empty() ||
        !(Hills{hills.amplitude_mm, hills.wavelength_mm, hills.crest_mm, {}} == Hills{})) {
        tree["amplitude_mm"] = json_number(hills.amplitude_mm);
        tree["wavelength_mm"] = json_number(hills.wavelength_mm);
        tree["crest_mm"] = json_number(hills.crest_mm);
    }
    if (!hills.heights_mm.empty()) tree["heights_mm"] = list_of(hills.heights_mm);
    return tree;
}

Json tree_of(const Beside& beside) {
    Json tree = Json::object();
    if (beside.width_mm) tree["width_mm"] = json_number(*beside.width_mm);
    tree["divider_mm"] = json_number(beside.divider_mm);
    return tree;
}

Json tree_of(const SiftedLine& line) {
    Json tree = Json::object();
    tree["colourant"] = line.colourant;
    tree["thickness_mm"] = json_number(line.thickness_mm);
    return tree;
}

}  // namespace

void read_manner(Fields& fields, Pour& pour, const KeepUnknown& keep) {
    const auto inside = [&](const char* name, auto read, auto& value) {
        if (const auto place = fields.find(name)) {
            Fields own(*place);
            value = read(own);
            keep(name, own);
        }
    };
    if (const auto manner = fields.find("manner"))
        pour.manner = static_cast<PourManner>(manner->one_of(manner_names()));
    if (const auto with = fields.find("with_previous")) pour.with_previous = with->truth();
    if (const auto folds = fields.find("folds"))
        pour.folds = static_cast<int>(folds->whole_number(limits::folds));
    inside("fall", read_fall, pour.fall);
    inside("wall", read_wall, pour.wall);
    pour.tilt_deg = fields.number_or("tilt_deg", limits::tilt_deg, pour.tilt_deg);
    inside("hills", read_hills, pour.hills);
    inside("beside", read_beside, pour.beside);
    if (const auto firmed = fields.find("firmed_yield_stress_pa"))
        pour.firmed_yield_stress_pa = firmed->number(limits::firmed_yield_stress_pa);
    pour.tapped_percent = fields.number_or("tapped_percent", limits::tapped_percent, pour.tapped_percent);
    if (const auto line = fields.find("sifted_over")) {
        Fields own(*line);
        pour.sifted_over = read_line(own);
        keep("sifted_over", own);
    }
}

void write_manner(Json& tree, const Pour& pour, const RestoreUnknown& restore) {
    const auto inside = [&](const char* name, PourManner used_by, const auto& value, const auto& usual) {
        if (pour.manner != used_by && value == usual) return;
        Json own = tree_of(value);
        restore(name, own);
        tree[name] = std::move(own);
    };
    const Pour usual;
    if (pour.with_previous) tree["with_previous"] = true;
    if (pour.folds != usual.folds) tree["folds"] = pour.folds;
    inside("fall", PourManner::free_fall, pour.fall, usual.fall);
    inside("wall", PourManner::down_the_wall, pour.wall, usual.wall);
    if (pour.manner == PourManner::tilted || pour.tilt_deg != usual.tilt_deg)
        tree["tilt_deg"] = json_number(pour.tilt_deg);
    inside("hills", PourManner::hills, pour.hills, usual.hills);
    inside("beside", PourManner::side_by_side, pour.beside, usual.beside);
    if (pour.firmed_yield_stress_pa)
        tree["firmed_yield_stress_pa"] = json_number(*pour.firmed_yield_stress_pa);
    if (pour.tapped_percent != 0) tree["tapped_percent"] = json_number(pour.tapped_percent);
    if (!pour.sifted_over) return;
    Json line = tree_of(*pour.sifted_over);
    restore("sifted_over", line);
    tree["sifted_over"] = std::move(line);
}

}  // namespace foreslice::design
