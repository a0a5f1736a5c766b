#include "studio/window/texture.h"

#include <SDL.h>
#include <SDL_opengl.h>

#include <cstddef>
#include <cstdint>

#include "studio/window/half_of.h"

namespace foreslice::studio {
namespace {

void put_level(int level, const picture::Image& image, bool over_the_old) {
    if (over_the_old)
        glTexSubImage2D(GL_TEXTURE_2D, level, 0, 0, image.width_px, image.height_px, GL_RGBA,
                        GL_UNSIGNED_BYTE, image.rgba.data());
    else
        glTexImage2D(GL_TEXTURE_2D, level, GL_RGBA8, image.width_px, image.height_px, 0, GL_RGBA,
                     GL_UNSIGNED_BYTE, image.rgba.data());
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
    for (const Room& room : rooms_)
        if (room.id != 0 && room.made_under == graphics) glDeleteTextures(1, &room.id);
}

ImTextureID Texture::id() const {
    if (rooms_[at_].id != 0 && rooms_[at_].made_under != graphics) put_on_card();
    return reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(rooms_[at_].id));  // NOLINT: ImGui's way
}

void Texture::upload(const picture::Image& image) {
    if (image.width_px <= 0 || image.height_px <= 0) return;
    kept_ = image;
    put_on_card();
}

// The one of its size, else the one that is not on the screen.
Texture::Room& Texture::room_for_kept() const {
    const auto fits = [&](const Room& room) {
        return room.id != 0 && room.made_under == graphics && room.width_px == kept_.width_px &&
               room.height_px == kept_.height_px;
    };
    if (!fits(rooms_[at_]) && rooms_[at_].id != 0) at_ = 1 - at_;
    return rooms_[at_];
}

void Texture::put_on_card() const {
    Room& room = room_for_kept();
    const bool fresh = room.id == 0 || room.made_under != graphics;
    const bool over_the_old = !fresh && kept_.width_px == room.width_px && kept_.height_px == room.height_px;
    if (fresh) glGenTextures(1, &room.id);
    room = {room.id, kept_.width_px, kept_.height_px, graphics};
    glBindTexture(GL_TEXTURE_2D, room.id);
    if (fresh) {
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER,
                        GL_LINEAR_MIPMAP_LINEAR);  // shown small it must not sparkle
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    }
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    put_level(0, kept_, over_the_old);
    picture::Image smaller;
    for (int level = 1; level == 1 || smaller.width_px > 1 || smaller.height_px > 1; ++level) {
        if (level == 1 && kept_.width_px == 1 && kept_.height_px == 1) break;
        smaller = half_of(level == 1 ? kept_ : smaller);
        put_level(level, smaller, over_the_old);
    }
    glPixelStorei(GL_UNPACK_ALIGNMENT, 4);  // what ImGui's own uploads expect
}

}  // namespace foreslice::studio
