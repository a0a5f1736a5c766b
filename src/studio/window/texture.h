// A picture on the graphics card. When the card is reset (a driver that was renewed or fell over, some
// machines after sleep) everything on it is gone; each picture keeps its pixels and goes up again when it is
// next shown.
#pragma once

#include <imgui.h>

#include <array>
#include <cstddef>
#include <cstdint>

#include "picture/image.h"

namespace foreslice::studio {

/// To be called when the card has lost everything and before anything new is put on it.
void note_graphics_lost();
/// Grows with every loss: what was made under another number is gone.
std::uint64_t graphics_number();

class Texture {
  public:
    Texture() = default;
    ~Texture();
    Texture(const Texture&) = delete;
    Texture& operator=(const Texture&) = delete;

    /// Bytes go up as they are: what is on the screen equals what is in a PNG.
    void upload(const picture::Image& image);
    bool empty() const { return kept_.width_px == 0; }
    ImTextureID id() const;
    int width_px() const { return kept_.width_px; }
    int height_px() const { return kept_.height_px; }

  private:
    // Room on the card for two sizes: a face changes between coarse and fine, and making room anew each time
    // costs more than the upload.
    struct Room {
        unsigned id = 0;
        int width_px = 0, height_px = 0;
        std::uint64_t made_under = 0;
    };
    void put_on_card() const;
    Room& room_for_kept() const;
    picture::Image kept_;
    mutable std::array<Room, 2> rooms_{};
    mutable std::size_t at_ = 0;
};

}  // namespace foreslice::studio
