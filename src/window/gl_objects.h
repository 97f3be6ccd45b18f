// Names of OpenGL objects that free themselves, textures, and programs built from their source.
// Everything here needs the context current, destructors too.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <utility>

#include <glm/mat4x4.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>
#include <glm/vec4.hpp>

#include "base/result.h"

namespace standpoint {

enum class GlKind { texture, buffer, framebuffer, vertex_array, program };

unsigned gl_make(GlKind kind);
void gl_free(GlKind kind, unsigned name);

template <GlKind kind> class GlObject {
  public:
    GlObject() = default;
    explicit GlObject(unsigned name) : name_(name) {}
    static GlObject make() { return GlObject(gl_make(kind)); }
    GlObject(GlObject&& other) noexcept : name_(std::exchange(other.name_, 0)) {}
    GlObject& operator=(GlObject&& other) noexcept {
        std::swap(name_, other.name_);
        return *this;
    }
    ~GlObject() {
        if (name_ != 0) gl_free(kind, name_);
    }

    unsigned name() const { return name_; } // 0: none
    explicit operator bool() const { return name_ != 0; }

  private:
    unsigned name_ = 0;
};

using GlTexture = GlObject<GlKind::texture>;
using GlBuffer = GlObject<GlKind::buffer>;
using GlFramebuffer = GlObject<GlKind::framebuffer>;
using GlVertexArray = GlObject<GlKind::vertex_array>;

// Setting a uniform that a program does not use is no error.
class GlProgram {
  public:
    GlProgram() = default;
    explicit GlProgram(unsigned name) : object_(name) {}

    void use() const;
    // All act on the program in use.
    void set(const char* uniform, int value) const;
    void set(const char* uniform, float value) const;
    void set(const char* uniform, const glm::vec2& value) const;
    void set(const char* uniform, const glm::vec3& value) const;
    void set(const char* uniform, const glm::vec4& value) const;
    void set(const char* uniform, const glm::mat4& value) const;
    // Binds a texture to a unit and the sampler to it.
    void texture(const char* sampler, int unit, unsigned name) const;

    int at(const char* uniform) const;

  private:
    GlObject<GlKind::program> object_;
};

// `defines` are lines put before both sources. Errors carry the driver's words.
Result<GlProgram> build_program(const std::string& name, std::string_view defines,
                                std::string_view vertex, std::string_view fragment);

// A texture of one level with nearest (or linear) filtering, clamped, its texels undefined.
enum class TexelForm { colour8, srgb8, normal16, half4, depth };
GlTexture make_target(TexelForm form, const glm::ivec2& size, bool linear = false);

// A framebuffer of these textures; depth 0: none. Complete, or an error.
Result<GlFramebuffer> make_framebuffer(std::span<const unsigned> colours, unsigned depth);

} // namespace standpoint
