// EGL without a surface.
#include "offscreen.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>

#include <epoxy/egl.h>
#include <epoxy/gl.h>

namespace standpoint {

namespace {

void expect(bool there, const char* what) {
    if (there) return;
    std::fprintf(stderr, "offscreen: found no %s, expected Mesa's surfaceless EGL\n", what);
    std::abort();
}

EGLContext make_context(EGLDisplay display) {
    const EGLint wish[] = {EGL_RENDERABLE_TYPE, EGL_OPENGL_BIT, EGL_SURFACE_TYPE, 0, EGL_NONE};
    EGLConfig config = nullptr;
    EGLint count = 0;
    eglChooseConfig(display, wish, &config, 1, &count);
    expect(count > 0, "configuration");
    const EGLint core[] = {EGL_CONTEXT_MAJOR_VERSION,
                           3,
                           EGL_CONTEXT_MINOR_VERSION,
                           3,
                           EGL_CONTEXT_OPENGL_PROFILE_MASK,
                           EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT,
                           EGL_NONE};
    return eglCreateContext(display, config, EGL_NO_CONTEXT, core);
}

} // namespace

Offscreen::Offscreen(const glm::ivec2& size) {
    display_ =
        eglGetPlatformDisplayEXT(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, nullptr);
    expect(display_ != EGL_NO_DISPLAY && eglInitialize(display_, nullptr, nullptr), "display");
    expect(eglBindAPI(EGL_OPENGL_API), "OpenGL");
    context_ = make_context(display_);
    expect(context_ != EGL_NO_CONTEXT, "OpenGL 3.3");
    expect(eglMakeCurrent(display_, EGL_NO_SURFACE, EGL_NO_SURFACE, context_), "context");
    glGenTextures(1, &colour_);
    glBindTexture(GL_TEXTURE_2D, colour_);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, size.x, size.y, 0, GL_RGBA, GL_UNSIGNED_BYTE, nullptr);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAX_LEVEL, 0);
    glGenFramebuffers(1, &page_);
    glBindFramebuffer(GL_FRAMEBUFFER, page_);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, colour_, 0);
    expect(glCheckFramebufferStatus(GL_FRAMEBUFFER) == GL_FRAMEBUFFER_COMPLETE, "page");
}

Offscreen::~Offscreen() {
    glDeleteFramebuffers(1, &page_);
    glDeleteTextures(1, &colour_);
    eglMakeCurrent(display_, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
    eglDestroyContext(display_, context_);
    // The display stays: ended, it unloads its driver, and leak checkers could no longer name it.
}

Pixels pixels_of_texture(unsigned texture) {
    Pixels out;
    glBindTexture(GL_TEXTURE_2D, texture);
    glGetTexLevelParameteriv(GL_TEXTURE_2D, 0, GL_TEXTURE_WIDTH, &out.size.x);
    glGetTexLevelParameteriv(GL_TEXTURE_2D, 0, GL_TEXTURE_HEIGHT, &out.size.y);
    const auto width = static_cast<std::size_t>(out.size.x);
    const auto height = static_cast<std::size_t>(out.size.y);
    std::vector<Pixel> bottom_up(width * height);
    glPixelStorei(GL_PACK_ALIGNMENT, 4);
    glGetTexImage(GL_TEXTURE_2D, 0, GL_RGBA, GL_UNSIGNED_BYTE, bottom_up.data());
    out.at_all.resize(bottom_up.size());
    for (std::size_t y = 0; y < height; ++y)
        std::copy_n(bottom_up.data() + (height - 1 - y) * width, width,
                    out.at_all.data() + y * width);
    return out;
}

} // namespace standpoint
