#include "picture/memory_need.h"

#include <algorithm>
#include <cmath>

#include "foundation/error.h"
#include "foundation/memory.h"

namespace foreslice::picture {
namespace {

constexpr double too_small_to_ask_bytes = 100e6;
constexpr double program_bytes = 80e6;  // with the flow of one design
constexpr double usable_share = 0.9;    // of what is free: the rest of the program lives too

}  // namespace

double face_pixels(const design::Design& design, double px_per_mm) {
    const auto box = design::box_of(design);
    return box.width_mm * box.height_mm * px_per_mm * px_per_mm;
}

void check_memory(double bytes, double px_per_mm, const std::string& what) {
    if (bytes < too_small_to_ask_bytes) return;
    bytes += program_bytes;
    const auto free = free_memory_bytes();
    if (!free || bytes <= usable_share * *free) return;
    const double left = std::max(0.0, usable_share * *free - program_bytes);
    const double fits = std::floor(10 * px_per_mm * std::sqrt(left / (bytes - program_bytes))) / 10;
    throw InputError("", "px-per-mm",
                     what + " would need about " + memory_words(bytes) + " of memory, and " +
                         memory_words(*free) + " are free",
                     fits > 0 ? "up to about " + plain_number(fits) + " px per mm now"
                              : "a smaller scale, and more free memory");
}

void check_memory_of_faces(std::size_t count, const design::Design& design, double px_per_mm) {
    const double pixels = face_pixels(design, px_per_mm);
    check_memory(pixels * (static_cast<double>(count) * kept_bytes_per_px), px_per_mm,
                 std::to_string(count) + " faces at " + plain_number(px_per_mm) + " px per mm");
}

}  // namespace foreslice::picture
