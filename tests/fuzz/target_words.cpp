// What people type or keep as short text: fields by path and value, axes, quantities, the studio's settings.
// The first line is the field or quantity, the second a value, the rest a settings file.
#include <cmath>
#include <filesystem>
#include <sstream>

#include "design/design_file.h"
#include "design/field_paths.h"
#include "foundation/text_file.h"
#include "fuzz_rule.h"
#include "studio/session/quantity.h"
#include "studio/session/settings.h"

using namespace foreslice;
using namespace foreslice::testing;

namespace {

const design::Design& slipway() {
    static const auto read = design::load(FORESLICE_SOURCE "/palettes/slipway.foreslice.json");
    return read;
}

void check_quantity(const std::string& text) {
    using studio::Unit;
    for (const Unit unit : {Unit::none, Unit::mm, Unit::g_per_kg, Unit::percent, Unit::pa}) {
        const auto value = studio::parse_quantity(text, unit);
        must(!value || std::isfinite(*value), "a quantity is a finite number");
        if (value) studio::format_quantity(*value, unit, 3);
    }
}

void check_settings(const std::string& text) {
    static const auto folder = [] {
        std::error_code error;  // in memory where there is such a place: every write waits for the disk
        const bool in_memory = std::filesystem::is_directory("/dev/shm", error);
        auto name =
            (in_memory ? "/dev/shm" : std::filesystem::temp_directory_path()) / "foreslice-fuzz-settings";
        std::filesystem::create_directories(name);
        return name;
    }();
    write_file_atomically(folder / "studio-settings.txt", text);
    const auto settings = studio::load_settings(folder);
    must(settings.recent.size() <= 12 && settings.open.size() <= 12, "lists of files stay short");
    must(settings.scale == 0 || (settings.scale >= 0.75 && settings.scale <= 4),
         "the scale is one that is offered");
    studio::save_settings(settings, folder);
    const auto again = studio::load_settings(folder);
    must(again.recent == settings.recent && again.open == settings.open && again.page == settings.page &&
             again.morning == settings.morning,
         "settings that were read are written and read back the same");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    std::istringstream lines(bytes_from(data, size));
    std::string field, value, rest;
    std::getline(lines, field);
    std::getline(lines, value);
    std::getline(lines, rest, '\0');
    check_quantity(field);
    if (const auto axis = taken([&] { return design::axis_from(field); }))
        must(!axis->values.empty() && axis->values.size() <= design::most_axis_values, "an axis has values");
    if (const auto set = taken([&] { return design::with_field(slipway(), field, value); })) {
        const auto again = taken([&] { return design::parse(design::to_json(*set), "written"); });
        must(again && *again == *set, "a design with a field set can be written and read");
    }
    if (!rest.empty()) check_settings(rest);
    return 0;
}
