// Writes the starter library: make_colourant_library [FILE], by default palettes/colourants.json of the
// source.
#include <cstdio>
#include <exception>

#include "colour/library_recipe.h"
#include "foundation/text_file.h"

int main(int argc, char** argv) {
    const std::filesystem::path file =
        argc > 1 ? argv[1] : std::filesystem::path(FORESLICE_SOURCE) / "palettes/colourants.json";
    try {
        foreslice::write_file_atomically(file,
                                         foreslice::testing::starter_library(FORESLICE_TEST_DATA).to_json());
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 2;
    }
    std::printf("wrote %s\n", file.string().c_str());
    return 0;
}
