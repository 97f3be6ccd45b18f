// OpenGL objects: making, freeing, compiling.
#include "window/gl_objects.h"

#include <vector>

#include <epoxy/gl.h>
#include <glm/gtc/type_ptr.hpp>

namespace standpoint {

namespace {

Error shader_error(const std::string& name, const std::string& words) {
    return io_error("OpenGL", "the shader \"" + name + "\" was refused: " + words);
}

std::string log_of(unsigned name, bool program) {
    int length = 0;
    program ? glGetProgramiv(name, GL_INFO_LOG_LENGTH, &length)
            : glGetShaderiv(name, GL_INFO_LOG_LENGTH, &length);
    std::string words(static_cast<std::size_t>(length > 0 ? length : 1), '\0');
    program ? glGetProgramInfoLog(name, static_cast<int>(words.size()), nullptr, words.data())
            : glGetShaderInfoLog(name, static_cast<int>(words.size()), nullptr, words.data());
    return words;
}

// 0 when it does not compile, the reason in `words`.
unsigned compile(unsigned kind, std::string_view defines, std::string_view source,
                 std::string& words) {
    const std::string text =
        "#version 330 core\n" + std::string(defines) + "\n" + std::string(source);
    const unsigned shader = glCreateShader(kind);
    const char* start = text.c_str();
    glShaderSource(shader, 1, &start, nullptr);
    glCompileShader(shader);
    int compiled = 0;
    glGetShaderiv(shader, GL_COMPILE_STATUS, &compiled);
    if (compiled != 0) return shader;
    words = log_of(shader, false);
    glDeleteShader(shader);
    return 0;
}

struct Format {
    int internal;
    unsigned format, type;
};

Format format_of(TexelForm form) {
    switch (form) {
    case TexelForm::colour8:
        return {GL_RGBA8, GL_RGBA, GL_UNSIGNED_BYTE};
    case TexelForm::srgb8:
        return {GL_SRGB8_ALPHA8, GL_RGBA, GL_UNSIGNED_BYTE};
    case TexelForm::normal16:
        return {GL_RGBA16, GL_RGBA, GL_UNSIGNED_SHORT};
    case TexelForm::half4:
        return {GL_RGBA16F, GL_RGBA, GL_HALF_FLOAT};
    case TexelForm::depth:
        break;
    }
    return {GL_DEPTH24_STENCIL8, GL_DEPTH_STENCIL, GL_UNSIGNED_INT_24_8};
}

} // namespace

unsigned gl_make(GlKind kind) {
    unsigned name = 0;
    switch (kind) {
    case GlKind::texture:
        glGenTextures(1, &name);
        break;
    case GlKind::buffer:
        glGenBuffers(1, &name);
        break;
    case GlKind::framebuffer:
        glGenFramebuffers(1, &name);
        break;
    case GlKind::vertex_array:
        glGenVertexArrays(1, &name);
        break;
    case GlKind::program:
        name = glCreateProgram();
        break;
    }
    return name;
}

void gl_free(GlKind kind, unsigned name) {
    switch (kind) {
    case GlKind::texture:
        glDeleteTextures(1, &name);
        break;
    case GlKind::buffer:
        glDeleteBuffers(1, &name);
        break;
    case GlKind::framebuffer:
        glDeleteFramebuffers(1, &name);
        break;
    case GlKind::vertex_array:
        glDeleteVertexArrays(1, &name);
        break;
    case GlKind::program:
        glDeleteProgram(name);
        break;
    }
}

void GlProgram::use() const {
    glUseProgram(object_.name());
}
int GlProgram::at(const char* uniform) const {
    return glGetUniformLocation(object_.name(), uniform);
}
void GlProgram::set(const char* uniform, int value) const {
    glUniform1i(at(uniform), value);
}
void GlProgram::set(const char* uniform, float value) const {
    glUniform1f(at(uniform), value);
}
void GlProgram::set(const char* uniform, const glm::vec2& value) const {
    glUniform2fv(at(uniform), 1, glm::value_ptr(value));
}
void GlProgram::set(const char* uniform, const glm::vec3& value) const {
    glUniform3fv(at(uniform), 1, glm::value_ptr(value));
}
void GlProgram::set(const char* uniform, const glm::vec4& value) const {
    glUniform4fv(at(uniform), 1, glm::value_ptr(value));
}
void GlProgram::set(const char* uniform, const glm::mat4& value) const {
    glUniformMatrix4fv(at(uniform), 1, GL_FALSE, glm::value_ptr(value));
}
void GlProgram::texture(const char* sampler, int unit, unsigned name) const {
    glActiveTexture(GL_TEXTURE0 + static_cast<unsigned>(unit));
    glBindTexture(GL_TEXTURE_2D, name);
    set(sampler, unit);
}

Result<GlProgram> build_program(const std::string& name, std::string_view defines,
                                std::string_view vertex, std::string_view fragment) {
    std::string words;
    const unsigned first = compile(GL_VERTEX_SHADER, defines, vertex, words);
    if (first == 0) return shader_error(name, words);
    const unsigned second = compile(GL_FRAGMENT_SHADER, defines, fragment, words);
    if (second == 0) {
        glDeleteShader(first);
        return shader_error(name, words);
    }
    const unsigned program = gl_make(GlKind::program);
    GlProgram built(program);
    glAttachShader(program, first);
    glAttachShader(program, second);
    glLinkProgram(program);
    glDeleteShader(first);
    glDeleteShader(second);
    int linked = 0;
    glGetProgramiv(program, GL_LINK_STATUS, &linked);
    if (linked == 0) return shader_error(name, log_of(program, true));
    return built;
}

GlTexture make_target(TexelForm form, const glm::ivec2& size, bool linear) {
    GlTexture texture = GlTexture::make();
    const Format format = format_of(form);
    glBindTexture(GL_TEXTURE_2D, texture.name());
    glTexImage2D(GL_TEXTURE_2D, 0, format.internal, size.x, size.y, 0, format.format, format.type,
                 nullptr);
    const int filter = linear ? GL_LINEAR : GL_NEAREST;
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, filter);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, filter);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAX_LEVEL, 0);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    return texture;
}

Result<GlFramebuffer> make_framebuffer(std::span<const unsigned> colours, unsigned depth) {
    GlFramebuffer framebuffer = GlFramebuffer::make();
    glBindFramebuffer(GL_FRAMEBUFFER, framebuffer.name());
    std::vector<unsigned> slots;
    for (const unsigned colour : colours) {
        const unsigned slot = GL_COLOR_ATTACHMENT0 + static_cast<unsigned>(slots.size());
        glFramebufferTexture2D(GL_FRAMEBUFFER, slot, GL_TEXTURE_2D, colour, 0);
        slots.push_back(slot);
    }
    if (depth != 0)
        glFramebufferTexture2D(GL_FRAMEBUFFER, GL_DEPTH_STENCIL_ATTACHMENT, GL_TEXTURE_2D, depth,
                               0);
    if (slots.empty()) {
        glDrawBuffer(GL_NONE);
        glReadBuffer(GL_NONE);
    } else {
        glDrawBuffers(static_cast<int>(slots.size()), slots.data());
    }
    if (glCheckFramebufferStatus(GL_FRAMEBUFFER) != GL_FRAMEBUFFER_COMPLETE)
        return io_error("OpenGL", "no room for a picture of that size");
    return framebuffer;
}

} // namespace standpoint
