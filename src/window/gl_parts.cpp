// Programs and canvases.
#include "window/gl_parts.h"

#include <epoxy/gl.h>

namespace standpoint {

namespace {

Result<unsigned> compile(unsigned kind, const std::string& text) {
    const unsigned shader = glCreateShader(kind);
    const char* source = text.c_str();
    glShaderSource(shader, 1, &source, nullptr);
    glCompileShader(shader);
    int good = 0;
    glGetShaderiv(shader, GL_COMPILE_STATUS, &good);
    if (good) return shader;
    char log[1024] = {};
    glGetShaderInfoLog(shader, sizeof log, nullptr, log);
    glDeleteShader(shader);
    return io_error("OpenGL", std::string("the driver refused a shader: ") + log);
}

void attach_canvas(Canvas& canvas, int samples) {
    glGenFramebuffers(1, &canvas.frame);
    glGenRenderbuffers(1, &canvas.colour);
    glGenRenderbuffers(1, &canvas.depth);
    glBindFramebuffer(GL_FRAMEBUFFER, canvas.frame);
    glBindRenderbuffer(GL_RENDERBUFFER, canvas.colour);
    glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, GL_RGBA8, canvas.size.x,
                                     canvas.size.y);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, canvas.colour);
    glBindRenderbuffer(GL_RENDERBUFFER, canvas.depth);
    glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, GL_DEPTH_COMPONENT24, canvas.size.x,
                                     canvas.size.y);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, canvas.depth);
}

} // namespace

Result<unsigned> link_program(const std::string& vertex, const std::string& fragment) {
    STANDPOINT_TRY(first, compile(GL_VERTEX_SHADER, vertex));
    STANDPOINT_TRY(second, compile(GL_FRAGMENT_SHADER, fragment));
    const unsigned program = glCreateProgram();
    glAttachShader(program, first);
    glAttachShader(program, second);
    glLinkProgram(program);
    glDeleteShader(first);
    glDeleteShader(second);
    int good = 0;
    glGetProgramiv(program, GL_LINK_STATUS, &good);
    if (good) return program;
    char log[1024] = {};
    glGetProgramInfoLog(program, sizeof log, nullptr, log);
    glDeleteProgram(program);
    return io_error("OpenGL", std::string("the driver refused a program: ") + log);
}

void fit_canvas(Canvas& canvas, const glm::ivec2& size, int samples) {
    if (canvas.size == size) return;
    release(canvas);
    canvas.size = size;
    attach_canvas(canvas, samples);
    glGenFramebuffers(1, &canvas.flat_frame);
    glGenTextures(1, &canvas.texture);
    glBindTexture(GL_TEXTURE_2D, canvas.texture);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, size.x, size.y, 0, GL_RGBA, GL_UNSIGNED_BYTE, nullptr);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    glBindFramebuffer(GL_FRAMEBUFFER, canvas.flat_frame);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, canvas.texture, 0);
}

void resolve(const Canvas& canvas) {
    glBindFramebuffer(GL_READ_FRAMEBUFFER, canvas.frame);
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, canvas.flat_frame);
    glBlitFramebuffer(0, 0, canvas.size.x, canvas.size.y, 0, 0, canvas.size.x, canvas.size.y,
                      GL_COLOR_BUFFER_BIT, GL_NEAREST);
}

void release(Canvas& canvas) {
    glDeleteFramebuffers(1, &canvas.frame);
    glDeleteFramebuffers(1, &canvas.flat_frame);
    glDeleteRenderbuffers(1, &canvas.colour);
    glDeleteRenderbuffers(1, &canvas.depth);
    glDeleteTextures(1, &canvas.texture);
    canvas = {};
}

} // namespace standpoint
