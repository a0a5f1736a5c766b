// A picture on the graphics card.
#pragma once

#include <imgui.h>

#include "picture/image.h"

namespace foreslice::studio {

class Texture {
  public:
    Texture() = default;
    ~Texture();
    Texture(const Texture&) = delete;
    Texture& operator=(const Texture&) = delete;

    /// Bytes go up as they are: what is on the screen equals what is in a PNG.
    void upload(const picture::Image& image);
    bool empty() const { return id_ == 0; }
    ImTextureID id() const;
    int width_px() const { return width_px_; }
    int height_px() const { return height_px_; }

  private:
    unsigned id_ = 0;
    int width_px_ = 0, height_px_ = 0;
};

}  // namespace foreslice::studio
