// Writes the table of pigment shapes: make_pigment_shapes [FILE], by default the one in src/colour.
#include <cstdio>
#include <exception>
#include <sstream>

#include "colour/shape_data.h"
#include "foundation/text_file.h"

namespace {

void write(std::ostream& out, const foreslice::colour::Spectrum& spectrum, const char* end) {
    constexpr std::size_t a_row = 12;
    out << "     {{";
    for (std::size_t i = 0; i < spectrum.size(); ++i) {
        char number[32];
        std::snprintf(number, sizeof number, "%.4g", spectrum[i]);
        out << number;
        if (i + 1 < spectrum.size()) out << (i % a_row == a_row - 1 ? ",\n       " : ", ");
    }
    out << "}}" << end << "\n";
}

}  // namespace

int main(int argc, char** argv) {
    const std::filesystem::path file =
        argc > 1 ? argv[1] : std::filesystem::path(FORESLICE_SOURCE) / "src/colour/pigment_shapes_table.cpp";
    try {
        const auto shapes = foreslice::testing::measured_shapes(FORESLICE_TEST_DATA);
        std::ostringstream out;
        out << "// K, then S, at 380, 390 ... 730 nm. Written by make_pigment_shapes from the open data "
               "named in\n"
               "// pigment_shapes.h, not by hand.\n"
               "#include \"colour/pigment_shapes.h\"\n\nnamespace foreslice::colour {\nnamespace {\n\n"
               "// clang-format off\n"
               "constexpr PigmentShape shapes[] = {\n";
        for (const auto& shape : shapes) {
            out << "    {\"" << shape.name << "\",\n";
            write(out, shape.absorption, ",");
            write(out, shape.scattering, "},");
        }
        out << "};\n// clang-format on\n\n}  // namespace\n\n"
               "std::span<const PigmentShape> pigment_shapes() {\n    return shapes;\n}\n\n"
               "}  // namespace foreslice::colour\n";
        foreslice::write_file_atomically(file, out.str());
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 2;
    }
    std::printf("wrote %s\n", file.string().c_str());
    return 0;
}
