#include "studio/window/texture.h"

#include <SDL.h>
#include <SDL_opengl.h>
#include <SDL_opengl_glext.h>

#include <cstdint>

namespace foreslice::studio {
namespace {

// Not there before OpenGL 3.
PFNGLGENERATEMIPMAPPROC make_mipmaps() {
    static const auto found =
        reinterpret_cast<PFNGLGENERATEMIPMAPPROC>(SDL_GL_GetProcAddress("glGenerateMipmap"));
    return found;
}

std::uint64_t graphics = 1;

}  // namespace

void note_graphics_lost() {
    ++graphics;
}

std::uint64_t graphics_number() {
    return graphics;
}

Texture::~Texture() {
    if (id_ != 0 && made_under_ == graphics) glDeleteTextures(1, &id_);
}

ImTextureID Texture::id() const {
    if (id_ != 0 && made_under_ != graphics) put_on_card();
    return reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(id_));
}

void Texture::upload(const picture::Image& image) {
    if (image.width_px <= 0 || image.height_px <= 0) return;
    kept_ = image;
    put_on_card();
}

void Texture::put_on_card() const {
    const bool fresh = id_ == 0 || made_under_ != graphics;
    if (fresh) {
        glGenTextures(1, &id_);
        made_under_ = graphics;
    }
    glBindTexture(GL_TEXTURE_2D, id_);
    if (fresh) {
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER,
                        make_mipmaps() ? GL_LINEAR_MIPMAP_LINEAR : GL_LINEAR);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    }
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    if (!fresh && kept_.width_px == width_on_card_px_ && kept_.height_px == height_on_card_px_)
        glTexSubImage2D(GL_TEXTURE_2D, 0, 0, 0, kept_.width_px, kept_.height_px, GL_RGBA, GL_UNSIGNED_BYTE,
                        kept_.rgba.data());
    else
        glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, kept_.width_px, kept_.height_px, 0, GL_RGBA,
                     GL_UNSIGNED_BYTE, kept_.rgba.data());
    if (const auto make = make_mipmaps()) make(GL_TEXTURE_2D);  // shown small it must not sparkle
    glPixelStorei(GL_UNPACK_ALIGNMENT, 4);                      // what ImGui's own uploads expect
    width_on_card_px_ = kept_.width_px;
    height_on_card_px_ = kept_.height_px;
}

}  // namespace foreslice::studio
