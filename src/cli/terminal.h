// What the program needs to know about the terminal; the only system-specific file of this room.
#pragma once

namespace foreslice::cli {

/// Whether a person watches standard error, so that a progress bar makes sense.
bool stderr_is_terminal();

}  // namespace foreslice::cli
