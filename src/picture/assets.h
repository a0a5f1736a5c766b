// Where the files that belong to the program lie: fonts, the colourant library, the demo designs.
#pragma once

#include <filesystem>
#include <string_view>

namespace foreslice::picture {

/// Tells the look-up where the program was started from (argv[0]); needed only on systems without
/// /proc/self/exe. Not safe to call while other threads look files up.
void note_program(const char* argv0);

/// A file or folder of the program's own, e.g. "assets/fonts/Inter-Regular.otf" or
/// "palettes/colourants.json". Looked for under the folder that the environment variable FORESLICE_ASSETS
/// names (then nowhere else), under ../share/foreslice beside the program, and in the source folder it was
/// built from. Throws InputError that names the file and the folders tried.
std::filesystem::path own_file(std::string_view relative);

}  // namespace foreslice::picture
