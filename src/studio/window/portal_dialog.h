// The file chooser of the desktop portal (org.freedesktop.portal.FileChooser over D-Bus), asked on a thread
// of its own: the bus may be slow, the window never waits for it.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <thread>

namespace foreslice::studio {

class PortalDialog {
  public:
    enum class State {
        asking,       ///< open, or on its way
        answered,     ///< path() is what was chosen; empty: nothing
        unavailable,  ///< no session bus, no portal, or it could not do it
    };

    /// Whether there is a session bus to ask on; says nothing about a portal.
    static bool bus_there();

    /// `suggested`: a folder with a trailing slash when opening, a file when saving.
    PortalDialog(bool saving, std::string title, std::filesystem::path suggested);
    ~PortalDialog();  ///< puts an open chooser away; takes at most a fraction of a second
    PortalDialog(const PortalDialog&) = delete;
    PortalDialog& operator=(const PortalDialog&) = delete;

    State state() const;
    std::filesystem::path path() const;

  private:
    struct Asked;
    std::thread thread_;
    std::shared_ptr<Asked> asked_;  ///< the thread has it too and may live a little longer
};

/// "file:///a%20b" as a path; nothing for another scheme, another host or a broken escape.
std::optional<std::filesystem::path> path_of_uri(const std::string& uri);

}  // namespace foreslice::studio
