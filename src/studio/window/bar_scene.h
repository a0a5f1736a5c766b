// The lit bar mock-up as a picture on the graphics card: by shaders where the display has them, else drawn on
// the processor and uploaded.
#pragma once

#include <imgui.h>

#include <functional>
#include <memory>
#include <string>

#include "studio/session/bar_mesh.h"
#include "studio/window/texture.h"

namespace foreslice::studio {

class BarScene {
  public:
    BarScene();
    ~BarScene();
    BarScene(const BarScene&) = delete;
    BarScene& operator=(const BarScene&) = delete;

    /// What the bar is; `stamp` changes with the picture or the top, so that it is taken over once.
    void set_bar(const BarSize& size, BarSkin skin, const TopHeight& top, std::uint64_t stamp);
    /// Whether it has it already.
    bool has_bar(const BarSize& size, std::uint64_t stamp) const;
    /// Draws anew when anything changed since the last call. With `with_shaders` false, or when they cannot
    /// be made, on the processor: coarse at once, and fine on a thread, which then calls `wake`. Call between
    /// frames' NewFrame and Render.
    void draw(const BarView& view, int width_px, int height_px, bool with_shaders,
              const std::function<void()>& wake);
    /// Lays the picture over what is there; nothing before the first draw.
    void lay_on(ImDrawList* list, ImVec2 min, ImVec2 max) const;
    /// Compiling the shaders, and for drivers that draw in software their first use, takes longer than a
    /// frame may: does the next part of it for a picture of this size, when nobody waits for a frame. False
    /// when nothing is left to do.
    bool prepare(int width_px, int height_px);
    bool by_shader() const;
    /// Why shaders are not used; empty when they are or were not asked for.
    const std::string& trouble() const;
    Matrix matrix(const BarView& view, float aspect) const;
    const BarSize& size() const;

  private:
    struct Parts;
    std::unique_ptr<Parts> parts_;
};

}  // namespace foreslice::studio
