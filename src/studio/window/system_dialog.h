// The desktop's own file chooser, where it offers one as a program: started without a shell and asked once a
// frame whether it has an answer, so that the window never waits for it.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>

namespace foreslice::studio {

class SystemDialog {
  public:
    enum class For { open, save };

    /// Whether a program for it was found in the search path: zenity, kdialog or yad.
    static bool offered();

    SystemDialog();
    ~SystemDialog();  ///< puts an open chooser away
    SystemDialog(const SystemDialog&) = delete;
    SystemDialog& operator=(const SystemDialog&) = delete;

    /// False when it could not be started.
    bool start(For what, const std::string& title, const std::filesystem::path& suggested);
    bool running() const;
    /// The answer once it is there: a path, or an empty one when the person chose none.
    std::optional<std::filesystem::path> poll();

  private:
    struct Child;
    std::unique_ptr<Child> child_;
};

}  // namespace foreslice::studio
