// Prints doses for aim colours: fit_palette LIBRARY #RRGGBB ID,ID,... [#RRGGBB ID,ID,... ...]
// ID=DOSE fixes that dose (g per kg of oils); the others are sought.
#include <cstdio>
#include <exception>
#include <sstream>
#include <string>
#include <vector>

#include "colour/fit_doses.h"

int main(int argc, char** argv) {
    using namespace foreslice;
    if (argc < 4 || argc % 2 != 0) return 2;
    try {
        const auto library = colour::ColourantLibrary::load(argv[1]);
        for (int i = 2; i < argc; i += 2) {
            const auto aim = colour::encoded_from_hex(argv[i]);
            if (!aim) return 2;
            std::vector<std::string> ids;
            std::vector<colour::Dose> fixed;
            std::istringstream list(argv[i + 1]);
            for (std::string id; std::getline(list, id, ',');) {
                const auto equals = id.find('=');
                if (equals == std::string::npos)
                    ids.push_back(id);
                else
                    fixed.push_back({library.find(id.substr(0, equals)), std::stod(id.substr(equals + 1))});
            }
            const testing::FittedDoses fitted = testing::fit_doses(library, ids, fixed, *aim);
            std::printf("%s -> %s dE00 %.2f:", argv[i], colour::hex_of(fitted.colour.srgb).c_str(),
                        fitted.de00);
            for (const colour::Dose& dose : fitted.doses)
                if (dose.colourant != nullptr && dose.g_per_kg_oils > 0)
                    std::printf(" %s %.2f", dose.colourant->id.c_str(), dose.g_per_kg_oils);
            std::printf("\n");
        }
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 2;
    }
    return 0;
}
