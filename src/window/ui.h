// What every panel is given: colours, sizes, and the book of where each widget was drawn.
#pragma once

#include <map>
#include <string>
#include <string_view>

#include <glm/vec2.hpp>

#include "window/palette.h"

namespace standpoint {

struct TaggedRect { // pixels from the window's top left corner
    glm::vec2 low{0.0f}, high{0.0f};
    glm::vec2 middle() const { return (low + high) * 0.5f; }
};

// Filled anew each frame: a stable name for each widget, for tests and for pointing at things.
using Tags = std::map<std::string, TaggedRect, std::less<>>;

// What is in the fields that are being typed in, by name, from frame to frame: of two when the
// keyboard goes from one to the other.
using Typing = std::map<std::string, std::string, std::less<>>;

struct Ui {
    const Palette* palette = nullptr; // not null
    float em = 16;                    // height of the text, pixels
    Tags* tags = nullptr;             // not null
    Typing* typing = nullptr;         // not null
};

void tag_item(const Ui& ui, std::string_view name); // the widget just drawn
void tag_rect(const Ui& ui, std::string_view name, const glm::vec2& low, const glm::vec2& high);

unsigned packed(const Colour& colour); // as draw lists take it

// -- widgets of our own; each tags itself by `name` --

// Its label is shortened where it would run out of the panel.
bool button(const Ui& ui, const char* name, const char* label, bool enabled = true);
// A button that is pressed in while `on`.
bool switch_button(const Ui& ui, const char* name, const char* label, bool on);
// A tooltip for the widget just drawn.
void tip(const std::string& text);
// The text, or as much of its beginning as fits that width with an ellipsis after it.
std::string shortened(const std::string& text, float width);
// The same of its end: the names of files matter more than of the folders above them.
std::string shortened_front(const std::string& text, float width);
// One line that never runs out of its width; the tooltip has the whole text where it is shortened.
void line_text(const Ui& ui, const Colour& colour, const std::string& text, float width);
float button_width(const char* label); // pixels, as `button` draws it
float text_width(const std::string& text);
// The whole of the window or panel that is open, under that name.
void tag_panel(const Ui& ui, std::string_view name);
void quiet_text(const Ui& ui, const std::string& text);
void coloured_text(const Ui& ui, const Colour& colour, const std::string& text);
// Heading of a panel: small capitals over a rule.
void heading(const Ui& ui, const std::string& text);
// A text field that hands over its text when Enter is pressed or it is left. True then.
bool text_field(const Ui& ui, const char* name, std::string& text, float width,
                const char* hint = "");

// Style and fonts. `scale` 1 is 16 px text; call before the first frame and when it changes.
void apply_style(const Palette& palette, float scale);
// Adds the text font at that scale. The file is looked for where fonts are kept; when none is
// there the toolkit's own small font is used and false returned.
bool add_fonts(float scale);

} // namespace standpoint
