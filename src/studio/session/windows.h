// What several studios that run at once have in common: the state folder. Each says there what it has open,
// and they take turns in writing what belongs to all of them.
#pragma once

#include <filesystem>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "foundation/held_name.h"

namespace foreslice::studio {

/// While it lives no other window changes `file` in the same way. Throws InputError when another one does not
/// come to an end.
HeldName my_turn_to_write(const std::filesystem::path& file);

inline constexpr int most_unnamed = 99;
inline constexpr int most_seats_of_a_file = 9;

/// Which of the copies of unsaved work of a document belongs to this window: the first window that opens a
/// design sits in seat 1, another one that opens the same design in the next. Documents without a file are
/// all one design in this sense.
struct Seat {
    int number = 0;  ///< from 1; 0: none taken yet
    std::optional<HeldName> held;
};
/// Nothing when another window, or another document of this one, sits there.
std::optional<Seat> take_seat(const std::filesystem::path& document,
                              const std::filesystem::path& state_folder, int number);
/// Whether any window has it open.
bool open_somewhere(const std::filesystem::path& document, const std::filesystem::path& state_folder);

/// Remembers which of this window's designs other windows have open too, so that each is told of once.
class OtherWindows {
  public:
    struct Mine {
        std::filesystem::path file;  ///< not empty
        int seat = 0;
    };
    /// The maker was told that another window has this file.
    void told(const std::filesystem::path& file) { told_.insert(file); }
    /// Files that another window has opened since. One that no other has any more may be told of again.
    std::vector<std::filesystem::path> news(const std::vector<Mine>& mine,
                                            const std::filesystem::path& state_folder);

  private:
    std::set<std::filesystem::path> told_;
};

}  // namespace foreslice::studio
