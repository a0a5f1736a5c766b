#include "batter/split.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "batter/units.h"
#include "foundation/error.h"

namespace foreslice::batter {
namespace {

constexpr double fullest = 2.0 / 3;

PowderWeight weight_of(const Powder& powder, double oils_g) {
    PowderWeight weight{powder.id, powder.name, powder.g_per_kg_oils * oils_g / 1000, 0, powder.liquid, 0};
    weight.teaspoons = weight.g / powder.g_per_teaspoon;
    if (powder.liquid != PowderLiquid::none) weight.liquid_g = weight.g * powder.parts_of_liquid;
    return weight;
}

Jug jug_of(const Batch& batch, const Share& share, double part) {
    Jug jug;
    jug.id = share.id;
    jug.name = share.name;
    jug.percent = 100 * part;
    jug.batter_g = part * batch.batter_g;
    jug.oils_g = part * batch.oils_g;
    jug.fragrance_g = part * batch.fragrance_g;
    double powder_g = 0;
    for (const Powder& powder : share.powders) {
        if (powder.g_per_kg_oils <= 0) continue;
        jug.powders.push_back(weight_of(powder, jug.oils_g));
        const PowderWeight& weight = jug.powders.back();
        powder_g += weight.g;
        if (weight.liquid == PowderLiquid::oil) jug.oil_g += weight.liquid_g;
        if (weight.liquid == PowderLiquid::water) jug.water_g += weight.liquid_g;
        if (weight.liquid == PowderLiquid::glycerin) jug.glycerin_g += weight.liquid_g;
    }
    jug.plain_g = jug.batter_g - jug.oil_g - jug.water_g;
    jug.full_g = jug.batter_g + jug.glycerin_g + powder_g;
    return jug;
}

/// The pot is the same everywhere; what each jug adds of its own moves its superfat and its lye.
void own_chemistry(Jug& jug, const Batch& batch, const Split& split) {
    const double part = jug.plain_g / split.pot_g;
    const double alkali_need = part * (batch.oils_g - split.oil_held_back_g) + jug.oil_g;
    const double kept = (1 - batch.superfat_percent / 100) * part * batch.oils_g;
    jug.superfat_percent = 100 * (1 - kept / alkali_need);
    const double pure = part * (batch.pure_naoh_g + batch.pure_koh_g);
    const double liquid = part * (batch.liquid_g - split.water_held_back_g) + jug.water_g;
    jug.lye_percent = 100 * pure / (part * batch.alkali_g() + liquid);
}

const OilWeight* dispersing_oil(const Batch& batch) {
    const OilWeight* best = nullptr;
    const auto better = [](const OilWeight& a, const OilWeight& b) {
        const bool a_liquid = a.oil->kind == OilKind::oil, b_liquid = b.oil->kind == OilKind::oil;
        return a_liquid != b_liquid ? a_liquid : a.g > b.g;
    };
    for (const OilWeight& oil : batch.oils)
        if (best == nullptr || better(oil, *best)) best = &oil;
    return best;
}

void check_held_back(const Batch& batch, const Split& split, const OilWeight& oil) {
    if (split.oil_held_back_g > oil.g / 2)
        throw InputError("", "/portions",
                         "the powders need " + plain_number(std::round(split.oil_held_back_g)) +
                             " g of oil, but the "
                             "recipe has only " +
                             plain_number(std::round(oil.g)) + " g of " + oil.oil->name,
                         "fewer parts of oil to the powders, less powder, or more of a liquid oil");
    if (split.water_held_back_g > 0 && batch.liquid_g - split.water_held_back_g < batch.alkali_g())
        throw InputError("", "/portions",
                         "the powders need " + plain_number(std::round(split.water_held_back_g)) +
                             " g of water, which leaves too little to dissolve the alkali",
                         "powders in oil, fewer parts of water, or a weaker lye");
}

}  // namespace

Split split_of(const Batch& batch, const std::vector<Share>& shares, double density_kg_per_m3) {
    double sum = 0;
    for (const Share& share : shares) sum += share.percent;
    if (!(sum > 0)) throw InputError("", "/portions", "no portion has a share", "shares of 100 % together");
    Split split;
    for (const Share& share : shares) {
        split.jugs.push_back(jug_of(batch, share, share.percent / sum));
        split.oil_held_back_g += split.jugs.back().oil_g;
        split.water_held_back_g += split.jugs.back().water_g;
    }
    const OilWeight* oil = dispersing_oil(batch);
    split.oil_held_back_from = oil->oil->id;
    check_held_back(batch, split, *oil);
    for (const Jug& jug : split.jugs) split.pot_g += jug.plain_g;
    for (Jug& jug : split.jugs) {
        jug.full_ml = jug.full_g / density_kg_per_m3 * 1000;
        jug.jug_ml = jug_size_ml(jug.full_ml);
        own_chemistry(jug, batch, split);
    }
    return split;
}

double jug_size_ml(double ml) {
    for (const double size : {100, 250, 500, 750, 1000, 1500, 2000, 3000, 5000, 10000})
        if (ml <= fullest * size) return size;
    return std::ceil(ml / fullest / 5000) * 5000;
}

std::string spoon_words(double teaspoons) {
    if (teaspoons <= 0) return "none";
    if (teaspoons < 1.0 / 16) return "a pinch";
    if (teaspoons < 3.0 / 16) return "⅛";
    const auto quarters = static_cast<int>(std::lround(teaspoons * 4));
    constexpr std::array<const char*, 4> parts{"", "¼", "½", "¾"};
    std::string part = parts[static_cast<std::size_t>(quarters % 4)];
    if (quarters < 4) return part;
    return std::to_string(quarters / 4) + (part.empty() ? "" : " " + part);
}

std::vector<Masterbatch> masterbatches_of(const std::vector<NamedSplit>& soaps, double spare_percent,
                                          double least_g) {
    std::vector<Masterbatch> out;
    const auto of = [&out](const PowderWeight& powder) -> Masterbatch& {
        for (Masterbatch& batch : out)
            if (batch.id == powder.id && batch.liquid == powder.liquid) return batch;
        return out.emplace_back(Masterbatch{powder.id, powder.name, powder.liquid, 0, 0, 0, {}, 0});
    };
    for (const NamedSplit& soap : soaps)
        for (const Jug& jug : soap.split->jugs)
            for (const PowderWeight& powder : jug.powders) {
                if (powder.liquid == PowderLiquid::none || powder.g <= 0) continue;
                Masterbatch& batch = of(powder);
                // The strongest of the pastes that were asked for; weaker jugs take the same.
                const double parts = powder.liquid_g / powder.g;
                batch.parts_of_liquid = batch.doses.empty() ? parts : std::min(batch.parts_of_liquid, parts);
                batch.doses.push_back({soap.soap, jug.name, powder.g, 0});
            }
    for (Masterbatch& batch : out) {
        for (Masterbatch::Dose& dose : batch.doses) {
            dose.paste_g = dose.powder_g * (1 + batch.parts_of_liquid);
            batch.paste_needed_g += dose.paste_g;
        }
        const double made = std::max(least_g, batch.paste_needed_g * (1 + spare_percent / 100));
        batch.powder_g = made / (1 + batch.parts_of_liquid);
        batch.liquid_g = made - batch.powder_g;
    }
    return out;
}

std::string_view name_of(PowderLiquid liquid) {
    switch (liquid) {
        case PowderLiquid::none:
            return "dry";
        case PowderLiquid::water:
            return "water";
        case PowderLiquid::glycerin:
            return "glycerin";
        case PowderLiquid::oil:
            break;
    }
    return "oil";
}

}  // namespace foreslice::batter
