// The desktop's own file chooser: that of the desktop portal, else a program for it (zenity, kdialog, yad),
// which is started without a shell. Asked once a frame whether it has an answer, so that the window never
// waits for it.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include "studio/window/portal_dialog.h"

namespace foreslice::studio {

class SystemDialog {
  public:
    enum class For { open, save };

    /// Whether there is a session bus to look for a portal on, or a program in the search path.
    static bool offered();

    SystemDialog();
    ~SystemDialog();  ///< as stop()
    SystemDialog(const SystemDialog&) = delete;
    SystemDialog& operator=(const SystemDialog&) = delete;

    /// False when it could not be started. Where the portal turns out to be missing, poll() goes on with a
    /// program.
    bool start(For what, const std::string& title, const std::filesystem::path& suggested);
    bool running() const;
    /// Puts an open chooser away: nobody waits for its answer any more.
    void stop();
    /// There was no portal after all, and no program to go on with; until the next start().
    bool failed() const { return failed_; }
    /// The answer once it is there: a path, or an empty one when the person chose none.
    std::optional<std::filesystem::path> poll();

  private:
    struct Child;
    struct Order {
        For what = For::open;
        std::string title;
        std::filesystem::path suggested;
    };
    bool start_program();
    std::optional<std::filesystem::path> poll_program();

    Order order_;
    bool failed_ = false;
    std::unique_ptr<PortalDialog> portal_;
    std::unique_ptr<Child> child_;
};

}  // namespace foreslice::studio
