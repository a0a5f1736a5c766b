#include "studio/window/platform.h"

#include <SDL.h>
#include <SDL_opengl.h>
#include <SDL_opengl_glext.h>
#include <backends/imgui_impl_opengl2.h>
#include <backends/imgui_impl_opengl3.h>
#include <imgui.h>
#include <imgui_freetype.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cfloat>
#include <cmath>
#include <cstdlib>
#include <stdexcept>
#include <string_view>
#include <utility>

#include "foundation/error.h"
#include "picture/assets.h"

namespace foreslice::studio {
namespace {

std::atomic<Uint32> wake_event{0};

[[noreturn]] void give_up(const std::string& sentence) {
    throw std::runtime_error(sentence);
}

// Without a display SDL quietly falls back to drivers that show nothing; a person would wait for ever.
void refuse_invisible(const Platform::Options& options) {
    const char* driver = SDL_GetCurrentVideoDriver();
    const std::string_view name = driver ? driver : "";
    const bool invisible = name == "offscreen" || name == "dummy";
    if (!invisible || options.may_be_invisible || std::getenv("SDL_VIDEODRIVER")) return;
    give_up(
        "There is no display to open a window on. Start the studio from a desktop session, or use "
        "`foreslice face DESIGN -o picture.png` to get the picture without a window.");
}

std::pair<int, int> size_for(const Platform::Options& options) {
    if (options.width > 0 && options.height > 0) return {options.width, options.height};
    SDL_Rect usable{0, 0, 1280, 720};
    SDL_GetDisplayUsableBounds(0, &usable);
    return {std::min(1600, usable.w * 95 / 100), std::min(1000, usable.h * 92 / 100)};
}

const char* clipboard_text(void* keep) {
    auto& text = *static_cast<std::string*>(keep);
    char* from_sdl = SDL_GetClipboardText();
    text = from_sdl ? from_sdl : "";
    SDL_free(from_sdl);
    return text.c_str();
}

void set_clipboard_text(void*, const char* text) {
    SDL_SetClipboardText(text);
}

}  // namespace

struct Platform::Parts {
    SDL_Window* window = nullptr;
    SDL_GLContext gl = nullptr;
    std::array<SDL_Cursor*, ImGuiMouseCursor_COUNT> cursors{};
    std::string clipboard;
    PFNGLGETGRAPHICSRESETSTATUSPROC reset_status = nullptr;  // null: the driver does not tell
    bool graphics_lost = false;
    bool imgui_ready = false, shaders = true, fixed_clock = false, may_be_invisible = false;
    Uint64 last_tick = 0;

    ~Parts() {
        end_drawing();
        if (ImGui::GetCurrentContext()) ImGui::DestroyContext();
        for (SDL_Cursor* cursor : cursors)
            if (cursor) SDL_FreeCursor(cursor);
        if (gl) SDL_GL_DeleteContext(gl);
        if (window) SDL_DestroyWindow(window);
        SDL_Quit();
    }

    void open_window(const Options& options) {
        SDL_SetHint(SDL_HINT_VIDEO_X11_NET_WM_BYPASS_COMPOSITOR, "0");
        SDL_SetHint(SDL_HINT_MOUSE_FOCUS_CLICKTHROUGH, "1");
        SDL_SetHint(SDL_HINT_NO_SIGNAL_HANDLERS, "1");  // it would make a wish of a person of them
        SDL_SetHint(SDL_HINT_QUIT_ON_LAST_WINDOW_CLOSE, "0");
        if (SDL_Init(SDL_INIT_VIDEO) != 0)
            give_up(std::string("There is no display to open a window on (") + SDL_GetError() + ").");
        refuse_invisible(options);
        open_with(options, 3, 3);
        if (!gl) {
            shaders = false;
            open_with(options, 2, 1);
        }
        if (!gl)
            give_up(std::string("The studio needs OpenGL, which this display does not offer (") +
                    SDL_GetError() +
                    "). A newer graphics driver, or Mesa's software one (package libgl1-mesa-dri), has it; "
                    "`foreslice face` makes the same pictures without a window.");
        SDL_SetWindowMinimumSize(window, 960, 600);
        show_icon();
        SDL_GL_SetSwapInterval(1);
    }

    void show_icon() {  // drawn as assets/install/foreslice.svg; a window without one is no worse
        try {
            if (SDL_Surface* icon = SDL_LoadBMP(picture::own_file("assets/icon.bmp").string().c_str())) {
                SDL_SetWindowIcon(window, icon);
                SDL_FreeSurface(icon);
            }
        } catch (const InputError&) {
        }
    }

    void open_with(const Options& options, int major, int minor) {
        if (window) SDL_DestroyWindow(window);
        SDL_GL_SetAttribute(SDL_GL_CONTEXT_MAJOR_VERSION, major);
        SDL_GL_SetAttribute(SDL_GL_CONTEXT_MINOR_VERSION, minor);
        SDL_GL_SetAttribute(SDL_GL_CONTEXT_PROFILE_MASK, major >= 3 ? SDL_GL_CONTEXT_PROFILE_CORE : 0);
        SDL_GL_SetAttribute(SDL_GL_CONTEXT_FLAGS, major >= 3 ? SDL_GL_CONTEXT_FORWARD_COMPATIBLE_FLAG : 0);
        SDL_GL_SetAttribute(SDL_GL_DOUBLEBUFFER, 1);
        SDL_GL_SetAttribute(SDL_GL_CONTEXT_RESET_NOTIFICATION, SDL_GL_CONTEXT_RESET_LOSE_CONTEXT);
        const auto [width, height] = size_for(options);
        window = SDL_CreateWindow("Foreslice", SDL_WINDOWPOS_CENTERED, SDL_WINDOWPOS_CENTERED, width, height,
                                  SDL_WINDOW_OPENGL | SDL_WINDOW_RESIZABLE | SDL_WINDOW_ALLOW_HIGHDPI);
        if (window) open_graphics();
    }

    void open_graphics() {
        gl = SDL_GL_CreateContext(window);
        if (!gl) {  // a driver that never tells of a reset
            SDL_GL_SetAttribute(SDL_GL_CONTEXT_RESET_NOTIFICATION, SDL_GL_CONTEXT_RESET_NO_NOTIFICATION);
            gl = SDL_GL_CreateContext(window);
        }
        if (!gl) return;
        const auto find = [](const char* name) {
            return reinterpret_cast<PFNGLGETGRAPHICSRESETSTATUSPROC>(SDL_GL_GetProcAddress(name));
        };
        const bool tells = SDL_GL_ExtensionSupported("GL_ARB_robustness") == SDL_TRUE;
        reset_status = tells ? find("glGetGraphicsResetStatusARB") : nullptr;
    }

    void start_drawing() {
        if (!(shaders ? ImGui_ImplOpenGL3_Init("#version 330 core") : ImGui_ImplOpenGL2_Init()))
            give_up("The studio could not set up its drawing in OpenGL.");
        imgui_ready = true;
    }

    void end_drawing() {
        if (std::exchange(imgui_ready, false))
            shaders ? ImGui_ImplOpenGL3_Shutdown() : ImGui_ImplOpenGL2_Shutdown();
    }

    void start_imgui() {
        ImGui::CreateContext();
        ImGuiIO& io = ImGui::GetIO();
        io.IniFilename = nullptr;
        io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
        io.BackendFlags |= ImGuiBackendFlags_HasMouseCursors;
        io.BackendPlatformName = "foreslice";
        io.ConfigWindowsMoveFromTitleBarOnly = true;
        io.Fonts->FontBuilderIO = ImGuiFreeType::GetBuilderForFreeType();
        io.ClipboardUserData = &clipboard;
        io.GetClipboardTextFn = clipboard_text;
        io.SetClipboardTextFn = set_clipboard_text;
        InputQueue::map_keys(io);
        start_drawing();
    }

    void make_cursors() {
        const std::pair<ImGuiMouseCursor, SDL_SystemCursor> pairs[] = {
            {ImGuiMouseCursor_Arrow, SDL_SYSTEM_CURSOR_ARROW},
            {ImGuiMouseCursor_TextInput, SDL_SYSTEM_CURSOR_IBEAM},
            {ImGuiMouseCursor_ResizeAll, SDL_SYSTEM_CURSOR_SIZEALL},
            {ImGuiMouseCursor_ResizeNS, SDL_SYSTEM_CURSOR_SIZENS},
            {ImGuiMouseCursor_ResizeEW, SDL_SYSTEM_CURSOR_SIZEWE},
            {ImGuiMouseCursor_Hand, SDL_SYSTEM_CURSOR_HAND},
        };
        for (const auto& [imgui, sdl] : pairs)
            cursors[static_cast<std::size_t>(imgui)] = SDL_CreateSystemCursor(sdl);
    }
};

Platform::Platform(const Options& options) : parts_(std::make_unique<Parts>()) {
    parts_->fixed_clock = options.fixed_clock;
    parts_->may_be_invisible = options.may_be_invisible;
    parts_->open_window(options);
    parts_->start_imgui();
    parts_->make_cursors();
    wake_event = SDL_RegisterEvents(1);
    SDL_EventState(SDL_DROPFILE, SDL_ENABLE);
    SDL_StartTextInput();
    parts_->last_tick = SDL_GetPerformanceCounter();
}

Platform::~Platform() {
    wake_event = 0;
}

void Platform::wake() {
    const Uint32 type = wake_event;
    if (type == 0) return;
    SDL_Event event{};
    event.type = type;
    SDL_PushEvent(&event);
}

Platform::Events Platform::take_events(int timeout_ms) {
    Events out;
    SDL_Event event;
    bool any = timeout_ms > 0 ? SDL_WaitEventTimeout(&event, timeout_ms) != 0 : SDL_PollEvent(&event) != 0;
    for (; any; any = SDL_PollEvent(&event) != 0) {
        out.any = true;
        if (event.type == SDL_WINDOWEVENT && event.window.event == SDL_WINDOWEVENT_CLOSE) out.close = true;
        if (event.type == SDL_QUIT) out.end = true;
        if (event.type == SDL_DROPFILE) {
            out.dropped_files.emplace_back(event.drop.file);
            SDL_free(event.drop.file);
        }
        input_.push(event, pixels_per_point_);
    }
    return out;
}

std::vector<Chord> Platform::begin_frame() {
    ImGuiIO& io = ImGui::GetIO();
    int width = 0, height = 0, pixels_wide = 0, pixels_high = 0;
    SDL_GetWindowSize(parts_->window, &width, &height);
    SDL_GL_GetDrawableSize(parts_->window, &pixels_wide, &pixels_high);
    pixels_per_point_ = width > 0 ? static_cast<float>(pixels_wide) / static_cast<float>(width) : 1;
    // Everything is laid out in drawable pixels, so text and pictures are sharp on every display.
    io.DisplaySize = ImVec2(static_cast<float>(pixels_wide), static_cast<float>(pixels_high));
    const Uint64 now = SDL_GetPerformanceCounter();
    const double passed =
        static_cast<double>(now - parts_->last_tick) / static_cast<double>(SDL_GetPerformanceFrequency());
    parts_->last_tick = now;
    io.DeltaTime = parts_->fixed_clock ? 1.0F / 60 : static_cast<float>(std::clamp(passed, 1e-4, 0.25));
    auto chords = input_.feed(io);
    SDL_CaptureMouse(input_.dragging() ? SDL_TRUE : SDL_FALSE);
    parts_->shaders ? ImGui_ImplOpenGL3_NewFrame() : ImGui_ImplOpenGL2_NewFrame();
    ImGui::NewFrame();
    return chords;
}

void Platform::update_cursor() {
    auto wanted = static_cast<std::size_t>(std::max(0, ImGui::GetMouseCursor()));
    if (wanted >= parts_->cursors.size() || !parts_->cursors[wanted]) wanted = 0;
    if (parts_->cursors[wanted]) SDL_SetCursor(parts_->cursors[wanted]);
}

void Platform::end_frame(picture::Image* capture) {
    ImGui::Render();
    update_cursor();
    const ImGuiIO& io = ImGui::GetIO();
    glViewport(0, 0, static_cast<int>(io.DisplaySize.x), static_cast<int>(io.DisplaySize.y));
    const ImVec4 ground = ImGui::GetStyle().Colors[ImGuiCol_WindowBg];
    glClearColor(ground.x, ground.y, ground.z, 1);
    glClear(GL_COLOR_BUFFER_BIT);
    if (parts_->shaders)
        ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    else
        ImGui_ImplOpenGL2_RenderDrawData(ImGui::GetDrawData());
    if (capture) *capture = drawn_pixels();
    SDL_GL_SwapWindow(parts_->window);
    // Swapping need not wait for anything; with drawing in software, frames would pile up unseen and the next
    // upload or read would wait for all of them.
    glFinish();
}

bool Platform::has_shaders() const {
    return parts_->shaders;
}

float Platform::suggested_scale() const {
    float dots_per_inch = 0;
    const int display = SDL_GetWindowDisplayIndex(parts_->window);
    if (display < 0 || SDL_GetDisplayDPI(display, nullptr, &dots_per_inch, nullptr) != 0) return 1;
    // SDL's own header calls this figure unreliable: take it in coarse steps, and only where it is plausible.
    if (dots_per_inch < 120 || dots_per_inch > 400) return 1;
    return std::clamp(std::round(dots_per_inch / 96 * 4) / 4, 1.0F, 3.0F);
}

bool Platform::mend_lost_graphics() {
    Parts& own = *parts_;
    if (own.reset_status && own.reset_status() != GL_NO_ERROR) own.graphics_lost = true;
    if (!std::exchange(own.graphics_lost, false)) return false;
    own.end_drawing();  // what it deletes is gone already, and deleting it then does nothing
    if (own.gl) SDL_GL_DeleteContext(own.gl);
    own.open_graphics();
    if (!own.gl)
        give_up(std::string("The graphics card was reset and drawing could not be started again (") +
                SDL_GetError() + "). Unsaved work is kept and offered at the next start.");
    SDL_GL_SetSwapInterval(1);
    own.start_drawing();
    return true;
}

void Platform::lose_graphics() {
    parts_->graphics_lost = true;
}

void Platform::renew_font_texture() {
    if (parts_->shaders) {
        ImGui_ImplOpenGL3_DestroyFontsTexture();
        ImGui_ImplOpenGL3_CreateFontsTexture();
    } else {
        ImGui_ImplOpenGL2_DestroyFontsTexture();
        ImGui_ImplOpenGL2_CreateFontsTexture();
    }
}

void Platform::set_title(const std::string& title) {
    SDL_SetWindowTitle(parts_->window, title.c_str());
}

void Platform::set_size(int width, int height) {
    SDL_SetWindowSize(parts_->window, width, height);
}

picture::Image Platform::drawn_pixels() const {
    int width = 0, height = 0;
    SDL_GL_GetDrawableSize(parts_->window, &width, &height);
    picture::Image image(width, height, {});
    const std::size_t row = static_cast<std::size_t>(width) * 4;
    std::vector<std::uint8_t> upside_down(row * static_cast<std::size_t>(height));
    glReadBuffer(GL_BACK);
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadPixels(0, 0, width, height, GL_RGBA, GL_UNSIGNED_BYTE, upside_down.data());
    for (std::size_t y = 0; y < static_cast<std::size_t>(height); ++y)
        std::copy_n(upside_down.begin() +
                        static_cast<std::ptrdiff_t>(row * (static_cast<std::size_t>(height) - 1 - y)),
                    row, image.rgba.begin() + static_cast<std::ptrdiff_t>(row * y));
    for (std::size_t i = 3; i < image.rgba.size(); i += 4) image.rgba[i] = 255;
    return image;
}

}  // namespace foreslice::studio
