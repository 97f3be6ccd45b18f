// Drawing on PDF pages in millimetres: lines of standard widths, tones, and text that stays text.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include <glm/vec2.hpp>

#include "base/sink.h"

namespace standpoint {

// Widths of ISO 128, mm.
inline constexpr double line_thin = 0.18;
inline constexpr double line_narrow = 0.25;
inline constexpr double line_wide = 0.5;
inline constexpr double line_border = 0.7;

struct Rect { // page mm, y down
    double x = 0, y = 0, width = 0, height = 0;
};
bool overlap(const Rect& a, const Rect& b, double gap_mm = 0);
bool inside(const Rect& inner, const Rect& outer);

enum class Stroke { solid, dashed, long_dash_dot };
enum class Align { left, centre, right };

struct TextStyle {
    double points = 9; // size of type
    bool bold = false;
    double grey = 0; // 0 black
    Align align = Align::left;
};

struct Ring { // closed, page mm; the first of a shape is its outside, further ones are holes
    std::vector<glm::dvec2> points;
};

struct InkRecord {
    int page = 0;
    Rect rect;
    std::string text; // empty: reserved
};

struct InkState; // cairo and pango stay out of this header

// One PDF document, page after page. Coordinates are page millimetres from the top left corner.
// Everything drawn as text or box is recorded, so that a test can ask whether any two overlap.
class Ink {
  public:
    // `date` is "2026-11-25" or empty; it becomes the document's date, nothing else does.
    Ink(Sink& sink, const std::string& title, const std::string& date);
    ~Ink();
    Ink(const Ink&) = delete;
    Ink& operator=(const Ink&) = delete;

    void begin_page(double width_mm, double height_mm);
    void end_page();
    Status finish(); // the first error of the sink, of a glyph that is missing, or of drawing

    void line(glm::dvec2 from, glm::dvec2 to, double width_mm, Stroke stroke = Stroke::solid);
    void polyline(const std::vector<glm::dvec2>& points, bool closed, double width_mm,
                  Stroke stroke = Stroke::solid);
    // Filled in a grey (0 black, 1 white), outlined when width > 0.
    void shape(const std::vector<Ring>& rings, double fill_grey, double width_mm);
    void rect(const Rect& rect, double width_mm);
    void fill_rect(const Rect& rect, double grey);
    void circle(glm::dvec2 centre, double radius_mm, double fill_grey, double width_mm);
    void clip(const Rect& rect); // until unclip
    void unclip();

    // Top left corner of the text, or top middle or top right by align. Wraps at wrap_mm when > 0.
    // Returns the rectangle the text takes, and records it.
    Rect text(glm::dvec2 at, const std::string& text, const TextStyle& style, double wrap_mm = 0);
    Rect measure(const std::string& text, const TextStyle& style, double wrap_mm = 0);
    void reserve(const Rect& rect); // records a box that text must keep clear of

    const std::vector<InkRecord>& records() const;

  private:
    std::unique_ptr<InkState> state_;
};

} // namespace standpoint
