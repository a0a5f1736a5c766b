#include <doctest/doctest.h>

#include "studio/session/quantity.h"

using namespace foreslice::studio;

TEST_CASE("numbers are read with a comma or a point, with their unit or another of the same kind") {
    CHECK(parse_quantity("12", Unit::mm) == 12);
    CHECK(parse_quantity(" 12,5 mm ", Unit::mm) == 12.5);
    CHECK(parse_quantity("+2.5cm", Unit::mm) == 25);
    CHECK(*parse_quantity("1 in", Unit::mm) == doctest::Approx(25.4).epsilon(1e-12));  // exact since 1959
    CHECK(parse_quantity("2 %", Unit::g_per_kg) == 20);
    CHECK(parse_quantity("2 %", Unit::percent) == 2);
    CHECK(parse_quantity("0.02 kPa", Unit::pa) == 20);
    CHECK(parse_quantity("5 cm/s", Unit::mm_per_s) == 50);
    CHECK(*parse_quantity("1.016 g/cm³", Unit::kg_per_m3) == doctest::Approx(1016));
    CHECK(parse_quantity("-3", Unit::none) == -3);
}

TEST_CASE("what is not a number of that kind is not read") {
    for (const char* text :
         {"", " ", "mm", "1 kg", "1..2", "1 2", "nan", "inf", "1e999", "2 mm mm", "0x10", "--1"})
        CHECK_MESSAGE(!parse_quantity(text, Unit::mm), text);
    CHECK(!parse_quantity("3 %", Unit::mm));
    CHECK(!parse_quantity("3 mm", Unit::percent));
}

TEST_CASE("numbers are written short, and read back as what was written") {
    CHECK(format_quantity(12, Unit::mm, 2) == "12 mm");
    CHECK(format_quantity(12.50, Unit::g_per_kg, 2) == "12.5 g/kg");
    CHECK(format_quantity(0.126, Unit::none, 2) == "0.13");
    CHECK(format_number(-0.001, 1) == "0");
    CHECK(format_number(100, 0) == "100");
    for (const auto unit : {Unit::none, Unit::mm, Unit::g_per_kg, Unit::percent, Unit::pa, Unit::pa_sn,
                            Unit::kg_per_m3, Unit::mm_per_s})
        CHECK(parse_quantity(format_quantity(7.25, unit, 2), unit) == 7.25);
}
