// One function a command: declares its options and says what to do when it is chosen.
#pragma once

#include <functional>

namespace CLI {
class App;
}

namespace foreslice::cli {

/// Exit codes. Wrong use and bad input are one; a result that was made but whose flow solve stayed short of
/// its tolerance is told apart, so that a script can notice.
enum ExitCode : int { good = 0, failed = 1, bad_input = 2, not_converged = 3 };

/// Does the chosen command's work and returns its exit code.
using Work = std::function<int()>;

void add_face(CLI::App& app, Work& chosen);
void add_colours(CLI::App& app, Work& chosen);
void add_flow(CLI::App& app, Work& chosen);
void add_check(CLI::App& app, Work& chosen);
void add_loaf(CLI::App& app, Work& chosen);
void add_demo(CLI::App& app, Work& chosen);
void add_colourway(CLI::App& app, Work& chosen);
void add_match(CLI::App& app, Work& chosen);
void add_palette(CLI::App& app, Work& chosen);
void add_swatch(CLI::App& app, Work& chosen);
void add_sheet(CLI::App& app, Work& chosen);
void add_orders(CLI::App& app, Work& chosen);
void add_vary(CLI::App& app, Work& chosen);
void add_diff(CLI::App& app, Work& chosen);
void add_lineup(CLI::App& app, Work& chosen);
void add_gallery(CLI::App& app, Work& chosen);
void add_contact(CLI::App& app, Work& chosen);
void add_made(CLI::App& app, Work& chosen);
void add_history(CLI::App& app, Work& chosen);
void add_merge(CLI::App& app, Work& chosen);
void add_tint(CLI::App& app, Work& chosen);

}  // namespace foreslice::cli
