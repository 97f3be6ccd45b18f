// OpenGL 3.3 without a display: a context of its own with a page to draw on, read back as bytes.
#pragma once

#include <cstdint>
#include <vector>

#include <glm/vec2.hpp>

namespace standpoint {

// Current on the calling thread while it lives. Stops the program where the machine has no EGL
// that draws without a display (Mesa's surfaceless platform), saying so.
class Offscreen {
  public:
    explicit Offscreen(const glm::ivec2& size = {64, 64});
    ~Offscreen();
    Offscreen(const Offscreen&) = delete;
    Offscreen& operator=(const Offscreen&) = delete;

    unsigned page() const { return page_; } // framebuffer with colour, of that size; bound at first

    unsigned colour() const { return colour_; } // its texture

  private:
    void* display_ = nullptr;
    void* context_ = nullptr;
    unsigned page_ = 0, colour_ = 0;
};

struct Pixel {
    std::uint8_t r = 0, g = 0, b = 0, a = 0;
    friend bool operator==(const Pixel&, const Pixel&) = default;
};

struct Pixels { // rows from the top, as a view counts them
    glm::ivec2 size{0, 0};
    std::vector<Pixel> at_all;
    const Pixel& at(int x, int y) const {
        return at_all[static_cast<std::size_t>(y) * static_cast<std::size_t>(size.x) +
                      static_cast<std::size_t>(x)];
    }
};

Pixels pixels_of_texture(unsigned texture); // RGBA8 of one level

} // namespace standpoint
