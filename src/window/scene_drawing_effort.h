// How much may be drawn in the time there is, learnt from what the last drawings took.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>

#include <glm/vec2.hpp>

namespace standpoint {

// Seconds for one of a kind, such as a triangle; starts from a guess and follows what is measured.
struct Pace {
    double seconds = 1e-7;
    void learn(double took, double count, double least_count) {
        if (count < least_count || took <= 0) return; // mostly the cost of asking
        const double now = took / count;
        seconds += (now - seconds) * (now < seconds ? 0.25 : 0.5);
    }
    double fit_into(double budget) const { return budget / seconds; }
};

struct Effort {
    // First guesses are of a machine that draws in software.
    Pace triangle{2e-7}, quick_pixel{6e-8}, full_pixel{2e-7};

    // Of one picture of something that moves.
    static constexpr double moving_geometry = 0.003, moving_pixels = 0.003;
    // A piece of work on a still picture, after which the clock is looked at.
    static constexpr double chunk = 0.002;

    std::size_t moving_triangles() const {
        return static_cast<std::size_t>(
            std::clamp(triangle.fit_into(moving_geometry), 8'000.0, 20e6));
    }
    // Of width and height.
    double moving_scale(const glm::ivec2& size) const {
        const double pixels = static_cast<double>(size.x) * size.y;
        return std::clamp(std::sqrt(quick_pixel.fit_into(moving_pixels) / pixels), 0.35, 1.0);
    }
    double moving_seconds(const glm::ivec2& size) const {
        const double scale = moving_scale(size);
        return moving_geometry + quick_pixel.seconds * scale * scale * size.x * size.y;
    }
    std::size_t chunk_triangles() const {
        return static_cast<std::size_t>(std::clamp(triangle.fit_into(chunk), 2'000.0, 20e6));
    }
    int chunk_rows(const glm::ivec2& size) const {
        return static_cast<int>(
            std::clamp(full_pixel.fit_into(chunk) / size.x, 4.0, static_cast<double>(size.y)));
    }
};

} // namespace standpoint
