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

}  // namespace

Texture::~Texture() {
    if (id_ != 0) glDeleteTextures(1, &id_);
}

ImTextureID Texture::id() const {
    return reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(id_));
}

void Texture::upload(const picture::Image& image) {
    if (image.width_px <= 0 || image.height_px <= 0) return;
    const bool fresh = id_ == 0;
    if (fresh) glGenTextures(1, &id_);
    glBindTexture(GL_TEXTURE_2D, id_);
    if (fresh) {
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER,
                        make_mipmaps() ? GL_LINEAR_MIPMAP_LINEAR : GL_LINEAR);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    }
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    if (image.width_px == width_px_ && image.height_px == height_px_)
        glTexSubImage2D(GL_TEXTURE_2D, 0, 0, 0, width_px_, height_px_, GL_RGBA, GL_UNSIGNED_BYTE,
                        image.rgba.data());
    else
        glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, image.width_px, image.height_px, 0, GL_RGBA,
                     GL_UNSIGNED_BYTE, image.rgba.data());
    if (const auto make = make_mipmaps()) make(GL_TEXTURE_2D);  // shown small it must not sparkle
    glPixelStorei(GL_UNPACK_ALIGNMENT, 4);                      // what ImGui's own uploads expect
    width_px_ = image.width_px;
    height_px_ = image.height_px;
}

}  // namespace foreslice::studio
