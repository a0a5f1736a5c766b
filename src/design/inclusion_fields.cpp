#include <algorithm>

#include "design/internal/list_fields.h"
#include "design/internal/top_fields.h"

namespace foreslice::design {
namespace {

const std::vector<std::string> bit_names{"seed", "fleck"};
const std::vector<std::string> embed_names{"disc", "bar", "curve"};
const std::vector<std::string> laid_names{"before-drawing", "after-drawing"};

// "#rrggbb" or an id; which of the two is checked here, whether there is such a portion later.
std::string read_colour(Fields& fields, const std::string& otherwise) {
    const auto place = fields.find("colour");
    if (!place) return otherwise;
    const std::string words = place->text(limits::id_length);
    const auto hex = [](char c) {
        return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f') || (c >= 'A' && c <= 'F');
    };
    if (words.empty() ||
        (words.front() == '#' && (words.size() != 7 || !std::all_of(words.begin() + 1, words.end(), hex))))
        place->fail_wrong("\"#rrggbb\" or a portion's id");
    return words.front() == '#' ? words : place->id();
}

Vec2 read_point(const Place& place, Range allowed) {
    const auto pair = place.items(2, 2, "numbers, x and y");
    return {pair[0].number(allowed), pair[1].number(allowed)};
}

Json tree_of(Vec2 point) {
    return Json::array({json_number(point.x), json_number(point.y)});
}

Scattered read_scattered(Fields& fields) {
    Scattered bits;
    if (const auto name = fields.find("name")) bits.name = name->text(limits::name_length);
    if (const auto on_top = fields.find("on_top")) bits.on_top = on_top->truth();
    if (const auto portion = fields.find("portion"))
        bits.portion = portion->id();
    else if (!bits.on_top)
        fields.at("portion", "a portion's id, or \"on_top\": true");
    if (const auto pour = fields.find("pour"))
        bits.pour = static_cast<int>(pour->whole_number(limits::after_pours));
    if (const auto shape = fields.find("shape")) bits.shape = static_cast<BitShape>(shape->one_of(bit_names));
    bits.per_cm2 = fields.number_or("per_cm2", limits::bits_per_cm2, bits.per_cm2);
    if (const auto percent = fields.find("percent")) bits.percent = percent->number(limits::bits_percent);
    bits.least_mm = fields.number_or("least_mm", limits::bit_mm, bits.least_mm);
    bits.most_mm = fields.number_or("most_mm", limits::bit_mm, bits.most_mm);
    bits.roundness = fields.number_or("roundness", limits::roundness, bits.roundness);
    bits.colour = read_colour(fields, bits.colour);
    return bits;
}

Embed read_embed(Fields& fields) {
    Embed embed;
    if (const auto name = fields.find("name")) embed.name = name->text(limits::name_length);
    if (const auto shape = fields.find("shape"))
        embed.shape = static_cast<EmbedShape>(shape->one_of(embed_names));
    if (const auto laid = fields.find("laid")) embed.laid = static_cast<EmbedLaid>(laid->one_of(laid_names));
    embed.at_mm = read_point(fields.at("at_mm", "a point [x, y] in mm"), limits::waypoint_mm);
    embed.width_mm = fields.number_or("width_mm", limits::embed_width_mm, embed.width_mm);
    embed.height_mm = fields.number_or("height_mm", limits::embed_height_mm, embed.height_mm);
    embed.angle_deg = fields.number_or("angle_deg", limits::embed_angle_deg, embed.angle_deg);
    if (const auto points = fields.find("points_mm"))
        for (const Place& item : points->items(2, limits::embed_points, "points [x, y]"))
            embed.points_mm.push_back(read_point(item, limits::embed_point_mm));
    else if (embed.shape == EmbedShape::curve)
        fields.at("points_mm", "the points of the curve's middle line, [x, y] in mm from at_mm");
    embed.colour = read_colour(fields, embed.colour);
    return embed;
}

Json tree_of(const Scattered& bits) {
    const Scattered usual;
    Json tree = Json::object();
    tree["name"] = bits.name;
    if (!bits.portion.empty()) tree["portion"] = bits.portion;
    if (bits.pour) tree["pour"] = *bits.pour;
    if (bits.on_top) tree["on_top"] = true;
    tree["shape"] = bit_names[static_cast<std::size_t>(bits.shape)];
    if (!bits.percent || bits.per_cm2 != usual.per_cm2) tree["per_cm2"] = json_number(bits.per_cm2);
    if (bits.percent) tree["percent"] = json_number(*bits.percent);
    tree["least_mm"] = json_number(bits.least_mm);
    tree["most_mm"] = json_number(bits.most_mm);
    tree["roundness"] = json_number(bits.roundness);
    tree["colour"] = bits.colour;
    return tree;
}

Json tree_of(const Embed& embed) {
    Json tree = Json::object();
    tree["name"] = embed.name;
    tree["shape"] = embed_names[static_cast<std::size_t>(embed.shape)];
    tree["laid"] = laid_names[static_cast<std::size_t>(embed.laid)];
    tree["at_mm"] = tree_of(embed.at_mm);
    tree["width_mm"] = json_number(embed.width_mm);
    tree["height_mm"] = json_number(embed.height_mm);
    if (embed.angle_deg != 0) tree["angle_deg"] = json_number(embed.angle_deg);
    if (!embed.points_mm.empty()) {
        Json& points = tree["points_mm"] = Json::array();
        for (const Vec2 point : embed.points_mm) points.push_back(tree_of(point));
    }
    tree["colour"] = embed.colour;
    return tree;
}

}  // namespace

Inclusions read_inclusions(Fields& fields, const KeepUnknown& keep) {
    Inclusions inclusions;
    const ListReader list(fields, "inclusions", keep);
    list("scattered", limits::scattered, "kinds of seeds or flecks", read_scattered, inclusions.scattered);
    list("embeds", limits::embeds, "embeds", read_embed, inclusions.embeds);
    return inclusions;
}

Json tree_of(const Inclusions& inclusions, const RestoreUnknown& restore) {
    Json tree = Json::object();
    const auto list = [&](const char* name, const auto& values) {
        for (std::size_t i = 0; i < values.size(); ++i) {
            Json item = tree_of(values[i]);
            restore(member_address("inclusions", name, i), item);
            tree[name].push_back(std::move(item));
        }
    };
    list("scattered", inclusions.scattered);
    list("embeds", inclusions.embeds);
    return tree;
}

}  // namespace foreslice::design
