#include "studio/window/bar_scene.h"

#include <SDL.h>
#include <SDL_opengl.h>
#include <SDL_opengl_glext.h>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <utility>

#include "foundation/error.h"
#include "foundation/text_file.h"
#include "picture/assets.h"
#include "studio/session/asked.h"
#include "studio/window/half_of.h"

namespace foreslice::studio {
namespace {

constexpr int oversampling = 2;  // a side; the page shrinks the picture, which smooths its edges

// What OpenGL 3.3 has beyond 1.1, looked up at run time so that nothing is needed to link.
struct Gl {
    bool complete = true;
    template <class Function>
    Function find(const char* name) {
        void* found = SDL_GL_GetProcAddress(name);
        complete = complete && found != nullptr;
        return reinterpret_cast<Function>(found);
    }
#define FORESLICE_GL(type, name) type name = find<type>("gl" #name)
    FORESLICE_GL(PFNGLCREATESHADERPROC, CreateShader);
    FORESLICE_GL(PFNGLSHADERSOURCEPROC, ShaderSource);
    FORESLICE_GL(PFNGLCOMPILESHADERPROC, CompileShader);
    FORESLICE_GL(PFNGLGETSHADERIVPROC, GetShaderiv);
    FORESLICE_GL(PFNGLGETSHADERINFOLOGPROC, GetShaderInfoLog);
    FORESLICE_GL(PFNGLDELETESHADERPROC, DeleteShader);
    FORESLICE_GL(PFNGLCREATEPROGRAMPROC, CreateProgram);
    FORESLICE_GL(PFNGLATTACHSHADERPROC, AttachShader);
    FORESLICE_GL(PFNGLLINKPROGRAMPROC, LinkProgram);
    FORESLICE_GL(PFNGLGETPROGRAMIVPROC, GetProgramiv);
    FORESLICE_GL(PFNGLDELETEPROGRAMPROC, DeleteProgram);
    FORESLICE_GL(PFNGLUSEPROGRAMPROC, UseProgram);
    FORESLICE_GL(PFNGLGETUNIFORMLOCATIONPROC, GetUniformLocation);
    FORESLICE_GL(PFNGLUNIFORMMATRIX4FVPROC, UniformMatrix4fv);
    FORESLICE_GL(PFNGLUNIFORM3FVPROC, Uniform3fv);
    FORESLICE_GL(PFNGLUNIFORM3FPROC, Uniform3f);
    FORESLICE_GL(PFNGLUNIFORM1FPROC, Uniform1f);
    FORESLICE_GL(PFNGLUNIFORM1IPROC, Uniform1i);
    FORESLICE_GL(PFNGLGENVERTEXARRAYSPROC, GenVertexArrays);
    FORESLICE_GL(PFNGLBINDVERTEXARRAYPROC, BindVertexArray);
    FORESLICE_GL(PFNGLDELETEVERTEXARRAYSPROC, DeleteVertexArrays);
    FORESLICE_GL(PFNGLGENBUFFERSPROC, GenBuffers);
    FORESLICE_GL(PFNGLBINDBUFFERPROC, BindBuffer);
    FORESLICE_GL(PFNGLBUFFERDATAPROC, BufferData);
    FORESLICE_GL(PFNGLDELETEBUFFERSPROC, DeleteBuffers);
    FORESLICE_GL(PFNGLVERTEXATTRIBPOINTERPROC, VertexAttribPointer);
    FORESLICE_GL(PFNGLENABLEVERTEXATTRIBARRAYPROC, EnableVertexAttribArray);
    FORESLICE_GL(PFNGLGENFRAMEBUFFERSPROC, GenFramebuffers);
    FORESLICE_GL(PFNGLBINDFRAMEBUFFERPROC, BindFramebuffer);
    FORESLICE_GL(PFNGLDELETEFRAMEBUFFERSPROC, DeleteFramebuffers);
    FORESLICE_GL(PFNGLFRAMEBUFFERTEXTURE2DPROC, FramebufferTexture2D);
    FORESLICE_GL(PFNGLGENRENDERBUFFERSPROC, GenRenderbuffers);
    FORESLICE_GL(PFNGLBINDRENDERBUFFERPROC, BindRenderbuffer);
    FORESLICE_GL(PFNGLRENDERBUFFERSTORAGEPROC, RenderbufferStorage);
    FORESLICE_GL(PFNGLDELETERENDERBUFFERSPROC, DeleteRenderbuffers);
    FORESLICE_GL(PFNGLFRAMEBUFFERRENDERBUFFERPROC, FramebufferRenderbuffer);
    FORESLICE_GL(PFNGLCHECKFRAMEBUFFERSTATUSPROC, CheckFramebufferStatus);
    FORESLICE_GL(PFNGLACTIVETEXTUREPROC, ActiveTexture);
#undef FORESLICE_GL
};

// Shader, mesh and the picture drawn into.
class Card {
  public:
    Card() {
        if (!gl_.complete) throw InputError("", "", "this display has no shaders", "");
        program_ = linked();
        gl_.GenVertexArrays(1, &array_);
        gl_.GenBuffers(1, &corners_);
        gl_.GenBuffers(1, &triangles_);
        gl_.GenFramebuffers(1, &frame_);
        gl_.GenRenderbuffers(1, &depth_);
        glGenTextures(1, &colour_);
    }
    ~Card() {
        if (made_under_ != graphics_number()) return;  // it went with the card
        if (program_) gl_.DeleteProgram(program_);
        gl_.DeleteVertexArrays(1, &array_);
        gl_.DeleteBuffers(1, &corners_);
        gl_.DeleteBuffers(1, &triangles_);
        gl_.DeleteFramebuffers(1, &frame_);
        gl_.DeleteRenderbuffers(1, &depth_);
        glDeleteTextures(1, &colour_);
    }
    Card(const Card&) = delete;
    Card& operator=(const Card&) = delete;

    void take(const BarMesh& mesh) {
        gl_.BindVertexArray(array_);
        gl_.BindBuffer(GL_ARRAY_BUFFER, corners_);
        gl_.BufferData(GL_ARRAY_BUFFER,
                       static_cast<GLsizeiptr>(mesh.corners.size() * sizeof(BarMesh::Corner)),
                       mesh.corners.data(), GL_STATIC_DRAW);
        gl_.BindBuffer(GL_ELEMENT_ARRAY_BUFFER, triangles_);
        gl_.BufferData(GL_ELEMENT_ARRAY_BUFFER,
                       static_cast<GLsizeiptr>(mesh.triangles.size() * sizeof(std::uint32_t)),
                       mesh.triangles.data(), GL_STATIC_DRAW);
        constexpr auto stride = static_cast<GLsizei>(sizeof(BarMesh::Corner));
        const auto input = [&](GLuint number, GLint parts, std::size_t offset) {
            // OpenGL takes places in a buffer as pointers.
            const auto* place = reinterpret_cast<const void*>(offset);  // NOLINT(performance-no-int-to-ptr)
            gl_.VertexAttribPointer(number, parts, GL_FLOAT, GL_FALSE, stride, place);
            gl_.EnableVertexAttribArray(number);
        };
        input(0, 3, offsetof(BarMesh::Corner, position_mm));
        input(1, 3, offsetof(BarMesh::Corner, normal));
        input(2, 1, offsetof(BarMesh::Corner, on_top));
        gl_.BindVertexArray(0);
        count_ = static_cast<GLsizei>(mesh.triangles.size());
    }

    void draw(const BarSize& size, const BarView& view, const Texture& face, const Texture& above,
              double glitter, int width, int height) {
        resize(width, height);
        gl_.BindFramebuffer(GL_FRAMEBUFFER, frame_);
        glViewport(0, 0, width, height);
        glDisable(GL_SCISSOR_TEST);
        glDisable(GL_BLEND);
        glEnable(GL_DEPTH_TEST);
        glEnable(GL_CULL_FACE);
        glClearColor(0, 0, 0, 0);
        glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
        gl_.UseProgram(program_);
        set_lamp(size, view, glitter, static_cast<float>(width) / static_cast<float>(height));
        const auto bind = [&](GLenum unit, const Texture& texture) {
            gl_.ActiveTexture(unit);
            glBindTexture(GL_TEXTURE_2D, static_cast<GLuint>(reinterpret_cast<std::uintptr_t>(texture.id())));
        };
        bind(GL_TEXTURE1, above.empty() ? face : above);
        bind(GL_TEXTURE0, face);
        gl_.BindVertexArray(array_);
        glDrawElements(GL_TRIANGLES, count_, GL_UNSIGNED_INT, nullptr);
        gl_.BindVertexArray(0);
        gl_.UseProgram(0);
        glDisable(GL_DEPTH_TEST);
        glDisable(GL_CULL_FACE);
        gl_.BindFramebuffer(GL_FRAMEBUFFER, 0);
    }
    /// Whether there was anything to do.
    bool resize(int width, int height) {
        if (width == width_ && height == height_) return false;
        width_ = width;
        height_ = height;
        glBindTexture(GL_TEXTURE_2D, colour_);
        glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, width, height, 0, GL_RGBA, GL_UNSIGNED_BYTE, nullptr);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
        gl_.BindRenderbuffer(GL_RENDERBUFFER, depth_);
        gl_.RenderbufferStorage(GL_RENDERBUFFER, GL_DEPTH_COMPONENT24, width, height);
        gl_.BindFramebuffer(GL_FRAMEBUFFER, frame_);
        gl_.FramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, colour_, 0);
        gl_.FramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, depth_);
        const bool good = gl_.CheckFramebufferStatus(GL_FRAMEBUFFER) == GL_FRAMEBUFFER_COMPLETE;
        gl_.BindFramebuffer(GL_FRAMEBUFFER, 0);
        if (!good) throw InputError("", "", "the driver cannot draw into a picture of this size", "");
        return true;
    }
    ImTextureID picture() const {
        return reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(colour_));  // NOLINT: ImGui's way
    }

  private:
    GLuint compiled(GLenum kind, const char* file) {
        const std::string text = read_file(picture::own_file(file));
        const GLuint shader = gl_.CreateShader(kind);
        const char* lines = text.c_str();
        gl_.ShaderSource(shader, 1, &lines, nullptr);
        gl_.CompileShader(shader);
        GLint good = 0;
        gl_.GetShaderiv(shader, GL_COMPILE_STATUS, &good);
        if (good) return shader;
        char log[512] = {};
        gl_.GetShaderInfoLog(shader, sizeof log, nullptr, log);
        gl_.DeleteShader(shader);
        throw InputError(file, "", std::string("the driver does not take this shader: ") + log, "");
    }
    GLuint linked() {
        const GLuint corner = compiled(GL_VERTEX_SHADER, "shaders/bar.vert");
        const GLuint pixel = compiled(GL_FRAGMENT_SHADER, "shaders/bar.frag");
        const GLuint program = gl_.CreateProgram();
        gl_.AttachShader(program, corner);
        gl_.AttachShader(program, pixel);
        gl_.LinkProgram(program);
        gl_.DeleteShader(corner);
        gl_.DeleteShader(pixel);
        GLint good = 0;
        gl_.GetProgramiv(program, GL_LINK_STATUS, &good);
        if (good) return program;
        gl_.DeleteProgram(program);
        throw InputError("shaders/bar.frag", "", "the driver cannot link the shaders of the bar", "");
    }
    void set_lamp(const BarSize& size, const BarView& view, double glitter, float aspect) {
        const auto at = [&](const char* name) { return gl_.GetUniformLocation(program_, name); };
        const Matrix matrix = screen_from_bar(size, view, aspect);
        const Vec3 eye = eye_of(size, view), light = light_of(view);
        gl_.UniformMatrix4fv(at("screen_from_bar"), 1, GL_FALSE, matrix.data());
        gl_.Uniform3fv(at("eye_mm"), 1, eye.data());
        gl_.Uniform3fv(at("to_light"), 1, light.data());
        gl_.Uniform3f(at("size_mm"), static_cast<float>(size.width_mm), static_cast<float>(size.height_mm),
                      static_cast<float>(size.above_mm));
        gl_.Uniform1f(at("glitter"), static_cast<float>(glitter));
        gl_.Uniform1f(at("thickness_mm"), static_cast<float>(size.thickness_mm));
        gl_.Uniform1i(at("face"), 0);
        gl_.Uniform1i(at("above"), 1);
    }

    Gl gl_;
    GLuint program_ = 0, array_ = 0, corners_ = 0, triangles_ = 0, frame_ = 0, depth_ = 0, colour_ = 0;
    GLsizei count_ = 0;
    int width_ = 0, height_ = 0;
    const std::uint64_t made_under_ = graphics_number();
};

// Shrinking the picture mixes the bar's edge with the empty black round it: what comes out is the bar's
// colour times how much of it there is. Taken for the colour itself it would leave dark specks along the
// outline.
void blend_premultiplied(const ImDrawList*, const ImDrawCmd*) {
    glBlendFunc(GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
}

struct Body {
    BarMesh mesh;
    BarSkin skin;
};

// As the card does it: twice as fine each way, then the mean of four.
picture::Image finely_drawn(const Body& body, const BarSize& size, const BarView& view, int width_px,
                            int height_px) {
    return half_of(
        drawn_bar(body.mesh, size, view, body.skin, oversampling * width_px, oversampling * height_px));
}

}  // namespace

struct BarScene::Parts {
    BarSize size;
    std::shared_ptr<const Body> body = std::make_shared<Body>();
    Asked<picture::Image> fine;
    std::uint64_t fine_questions = 0;
    bool fine_awaited = false;
    Texture face, above, drawn_on_processor;
    std::unique_ptr<Card> card;
    std::string trouble;
    std::uint64_t stamp = 0, made_under = 0, prepared_under = 0;
    bool fresh = false, mesh_on_card = false, by_shader = false;
    BarView view;
    int width = 0, height = 0;
};

BarScene::BarScene() : parts_(std::make_unique<Parts>()) {}
BarScene::~BarScene() = default;

bool BarScene::has_bar(const BarSize& size, std::uint64_t stamp) const {
    return parts_->stamp == stamp && parts_->size == size;
}

void BarScene::set_bar(const BarSize& size, BarSkin skin, const TopHeight& top, std::uint64_t stamp) {
    Parts& own = *parts_;
    own.stamp = stamp;
    own.size = size;
    own.body = std::make_shared<const Body>(Body{bar_mesh(size, top), std::move(skin)});
    own.face.upload(own.body->skin.face);
    own.above.upload(own.body->skin.above);
    own.mesh_on_card = false;
    own.fresh = true;
}

void BarScene::draw(const BarView& view, int width_px, int height_px, bool with_shaders,
                    const std::function<void()>& wake) {
    Parts& own = *parts_;
    if (own.fine_awaited && own.fine.current()) {
        own.drawn_on_processor.upload(*own.fine.answer());
        own.fine_awaited = false;
    }
    if (own.body->mesh.corners.empty() || width_px <= 0 || height_px <= 0) return;
    if (std::exchange(own.made_under, graphics_number()) != graphics_number()) {
        own.card.reset();
        own.mesh_on_card = false;
        own.fresh = true;
    }
    const bool same = !own.fresh && own.view == view && own.width == width_px && own.height == height_px &&
                      own.by_shader == (with_shaders && own.trouble.empty());
    if (same) return;
    own.fresh = false;
    own.view = view;
    own.width = width_px;
    own.height = height_px;
    if (with_shaders && own.trouble.empty()) {
        try {
            if (!own.card) own.card = std::make_unique<Card>();
            if (!std::exchange(own.mesh_on_card, true)) own.card->take(own.body->mesh);
            own.card->draw(own.size, view, own.face, own.above, own.body->skin.glitter,
                           oversampling * width_px, oversampling * height_px);
            own.by_shader = true;
            return;
        } catch (const InputError& error) {
            own.trouble = error.what();
        }
    }
    own.by_shader = false;
    // Half as fine in each direction while nothing but the processor draws: it has to follow the hand.
    own.drawn_on_processor.upload(drawn_bar(own.body->mesh, own.size, view, own.body->skin,
                                            std::max(1, width_px / 2), std::max(1, height_px / 2)));
    own.fine_awaited = true;
    own.fine.want(++own.fine_questions, wake,
                  [body = own.body, size = own.size, view, width_px, height_px](Progress& progress) {
                      progress.check();
                      return finely_drawn(*body, size, view, width_px, height_px);
                  });
}

bool BarScene::prepare(int width_px, int height_px) {
    Parts& own = *parts_;
    if (own.by_shader || !own.trouble.empty() || own.prepared_under == graphics_number()) return false;
    try {
        if (own.made_under != graphics_number()) own.card.reset();
        own.made_under = graphics_number();
        if (!own.card) {
            own.card = std::make_unique<Card>();
            return true;
        }
        if (own.card->resize(oversampling * width_px, oversampling * height_px)) return true;
        own.card->take(bar_mesh(BarSize{}, {}));
        own.mesh_on_card = false;
        Texture grey;
        grey.upload(picture::Image(6, 5, {}));  // some drivers have other programs for powers of two
        own.card->draw(BarSize{}, {}, grey, grey, 0, oversampling * width_px, oversampling * height_px);
    } catch (const InputError& error) {
        own.trouble = error.what();
    }
    own.prepared_under = graphics_number();
    return false;
}

void BarScene::lay_on(ImDrawList* list, ImVec2 min, ImVec2 max) const {
    const Parts& own = *parts_;
    if (!own.by_shader && own.drawn_on_processor.empty()) return;
    const ImTextureID picture = own.by_shader ? own.card->picture() : own.drawn_on_processor.id();
    const float v0 = own.by_shader ? 1.0F : 0.0F;  // pictures of the card lie upside down
    list->AddCallback(blend_premultiplied, nullptr);
    list->AddImage(picture, min, max, ImVec2(0, v0), ImVec2(1, 1 - v0));
    list->AddCallback(ImDrawCallback_ResetRenderState, nullptr);
}
bool BarScene::by_shader() const {
    return parts_->by_shader;
}
const std::string& BarScene::trouble() const {
    return parts_->trouble;
}
Matrix BarScene::matrix(const BarView& view, float aspect) const {
    return screen_from_bar(parts_->size, view, aspect);
}
const BarSize& BarScene::size() const {
    return parts_->size;
}

}  // namespace foreslice::studio
