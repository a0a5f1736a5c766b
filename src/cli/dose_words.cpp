#include "cli/dose_words.h"

#include <charconv>
#include <cmath>

#include "design/tint.h"
#include "foundation/error.h"

namespace foreslice::cli {
namespace {

constexpr const char* dose_form = "ID=AMOUNT with g/kg, g/kg-batter, %, tsp/lb or drops/kg behind the amount";

/// The number at the front of a text, and what follows it without blanks.
struct Number {
    double value = 0;
    std::string_view rest;
    bool found = false;
};

Number number_at(std::string_view text) {
    Number out;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), out.value);
    out.found = error == std::errc() && std::isfinite(out.value);
    out.rest = text.substr(static_cast<std::size_t>(end - text.data()));
    while (!out.rest.empty() && out.rest.front() == ' ') out.rest.remove_prefix(1);
    return out;
}

}  // namespace

std::string_view typed_word_of(colour::DoseUnit unit) {
    switch (unit) {
        case colour::DoseUnit::g_per_kg_batter:
            return "g/kg-batter";
        case colour::DoseUnit::percent_of_batter:
            return "%";
        case colour::DoseUnit::teaspoons_per_pound_oils:
            return "tsp/lb";
        case colour::DoseUnit::drops_per_kg_oils:
            return "drops/kg";
        case colour::DoseUnit::g_per_kg_oils:
            break;
    }
    return "g/kg";
}

std::string_view words_of(colour::DoseUnit unit) {
    switch (unit) {
        case colour::DoseUnit::g_per_kg_batter:
            return "g per kg of batter";
        case colour::DoseUnit::percent_of_batter:
            return "% of batter";
        case colour::DoseUnit::teaspoons_per_pound_oils:
            return "level tsp per lb of oils";
        case colour::DoseUnit::drops_per_kg_oils:
            return "drops per kg of oils";
        case colour::DoseUnit::g_per_kg_oils:
            break;
    }
    return "g per kg of oils";
}

design::ColourantDose dose_from(const std::string& text, const colour::Dispersion& dispersion) {
    const std::size_t equals = text.find('=');
    if (equals == std::string::npos || equals == 0)
        throw InputError("", "DOSE", foreslice::quoted(text) + " is no dose", dose_form);
    design::ColourantDose dose;
    dose.colourant = text.substr(0, equals);
    const Number amount = number_at(std::string_view(text).substr(equals + 1));
    if (!amount.found) throw InputError("", "DOSE", foreslice::quoted(text) + " has no amount", dose_form);
    for (const colour::DoseUnit unit : colour::all_dose_units) {
        const bool bare = amount.rest.empty() && unit == colour::DoseUnit::g_per_kg_oils;
        if (!bare && amount.rest != typed_word_of(unit)) continue;
        const design::Range range = design::range_of(unit);
        if (!(amount.value >= range.least && amount.value <= range.most))
            throw InputError("", "DOSE", foreslice::quoted(text) + " is out of range",
                             plain_number(range.least) + " to " + plain_number(range.most) + " " +
                                 std::string(words_of(unit)));
        if (unit == colour::DoseUnit::g_per_kg_oils)
            dose.g_per_kg_oils = amount.value;
        else
            dose.stated = design::StatedDose{unit, amount.value};
        if (unit == colour::DoseUnit::drops_per_kg_oils) dose.dispersion = dispersion;
        return dose;
    }
    throw InputError(
        "", "DOSE",
        foreslice::quoted(text) + " has the unknown unit " + foreslice::quoted(std::string(amount.rest)),
        dose_form);
}

colour::Dispersion dispersion_from(const std::string& text) {
    constexpr const char* form = "1:N or 1:N,CARRIER with N from 0.2 to 50 and oil, water or glycerin";
    colour::Dispersion out;
    const Number parts = text.starts_with("1:") ? number_at(std::string_view(text).substr(2)) : Number{};
    const auto range = design::limits::parts_of_carrier;
    bool good = parts.found && parts.value >= range.least && parts.value <= range.most;
    out.parts_of_carrier = parts.value;
    if (good && !parts.rest.empty()) {
        good = false;
        for (const colour::Carrier carrier :
             {colour::Carrier::oil, colour::Carrier::water, colour::Carrier::glycerin})
            if (parts.rest == "," + std::string(name_of(carrier))) out.carrier = carrier, good = true;
    }
    if (!good) throw InputError("", "--dispersion", foreslice::quoted(text) + " is no dispersion", form);
    return out;
}

}  // namespace foreslice::cli
