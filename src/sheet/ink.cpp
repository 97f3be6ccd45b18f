// Ink on cairo and pango: streams to the sink and keeps the first error.
#include "sheet/ink.h"

#include <optional>

#include <cairo-pdf.h>
#include <cairo.h>
#include <fmt/format.h>
#include <pango/pangocairo.h>

#include "measure/length.h"

namespace standpoint {

bool overlap(const Rect& a, const Rect& b, double gap_mm) {
    return a.x < b.x + b.width + gap_mm && b.x < a.x + a.width + gap_mm &&
           a.y < b.y + b.height + gap_mm && b.y < a.y + a.height + gap_mm;
}

bool inside(const Rect& inner, const Rect& outer) {
    constexpr double slack_mm = 1e-6;
    return inner.x >= outer.x - slack_mm && inner.y >= outer.y - slack_mm &&
           inner.x + inner.width <= outer.x + outer.width + slack_mm &&
           inner.y + inner.height <= outer.y + outer.height + slack_mm;
}

struct InkState {
    Sink& sink;
    std::optional<Error> error; // the first
    cairo_surface_t* surface = nullptr;
    cairo_t* cairo = nullptr;
    int page = 0;
    std::vector<InkRecord> records;
};

namespace {

constexpr double points_per_mm = 72.0 / mm_per_inch;
constexpr const char* font_family = "DejaVu Sans";

double pt(double mm) {
    return mm * points_per_mm;
}

cairo_status_t stream(void* closure, const unsigned char* bytes, unsigned int count) {
    auto* state = static_cast<InkState*>(closure);
    if (state->error) return CAIRO_STATUS_WRITE_ERROR;
    const Status written =
        state->sink.write(std::string_view(reinterpret_cast<const char*>(bytes), count));
    if (written.ok()) return CAIRO_STATUS_SUCCESS;
    state->error = written.error();
    return CAIRO_STATUS_WRITE_ERROR;
}

void keep_first(std::optional<Error>& error, cairo_status_t status) {
    if (!error && status != CAIRO_STATUS_SUCCESS)
        error = io_error("sheets",
                         fmt::format("could not be drawn: {}", cairo_status_to_string(status)));
}

void set_stroke(cairo_t* cairo, double width_mm, Stroke stroke) {
    const double dashes[] = {pt(2.4), pt(1.2)};
    const double chain[] = {pt(6), pt(1.2), pt(0.6), pt(1.2)};
    if (stroke == Stroke::dashed)
        cairo_set_dash(cairo, dashes, 2, 0);
    else if (stroke == Stroke::long_dash_dot)
        cairo_set_dash(cairo, chain, 4, 0);
    else
        cairo_set_dash(cairo, nullptr, 0, 0);
    cairo_set_line_width(cairo, pt(width_mm));
    cairo_set_source_rgb(cairo, 0, 0, 0);
}

void trace(cairo_t* cairo, const std::vector<glm::dvec2>& points, bool closed) {
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (i == 0)
            cairo_move_to(cairo, pt(points[i].x), pt(points[i].y));
        else
            cairo_line_to(cairo, pt(points[i].x), pt(points[i].y));
    }
    if (closed) cairo_close_path(cairo);
}

struct LayoutDelete {
    void operator()(PangoLayout* layout) const { g_object_unref(layout); }
};
using Layout = std::unique_ptr<PangoLayout, LayoutDelete>;

Layout layout_of(cairo_t* cairo, const std::string& text, const TextStyle& style, double wrap_mm) {
    Layout layout(pango_cairo_create_layout(cairo));
    PangoContext* context = pango_layout_get_context(layout.get());
    // Glyphs are placed where the type says, not on whole points: text keeps its width at any size.
    pango_context_set_round_glyph_positions(context, FALSE);
    pango_cairo_context_set_resolution(context, 72);
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    pango_cairo_context_set_font_options(context, options);
    cairo_font_options_destroy(options);
    pango_layout_context_changed(layout.get());
    PangoFontDescription* font = pango_font_description_new();
    pango_font_description_set_family(font, font_family);
    pango_font_description_set_weight(font, style.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_size(font, static_cast<int>(style.points * PANGO_SCALE));
    pango_layout_set_font_description(layout.get(), font);
    pango_font_description_free(font);
    // No ligatures: "fi" must be two letters when the page is read back or searched.
    PangoAttrList* attributes = pango_attr_list_new();
    pango_attr_list_insert(attributes, pango_attr_font_features_new("liga=0, clig=0"));
    pango_layout_set_attributes(layout.get(), attributes);
    pango_attr_list_unref(attributes);
    if (wrap_mm > 0) {
        pango_layout_set_width(layout.get(), static_cast<int>(pt(wrap_mm) * PANGO_SCALE));
        pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
        const PangoAlignment align = style.align == Align::centre  ? PANGO_ALIGN_CENTER
                                     : style.align == Align::right ? PANGO_ALIGN_RIGHT
                                                                   : PANGO_ALIGN_LEFT;
        pango_layout_set_alignment(layout.get(), align);
    }
    pango_layout_set_text(layout.get(), text.data(), static_cast<int>(text.size()));
    return layout;
}

Rect rect_of(PangoLayout* layout, glm::dvec2 at, const TextStyle& style, double wrap_mm) {
    PangoRectangle logical;
    pango_layout_get_extents(layout, nullptr, &logical);
    const double unit = 1.0 / (PANGO_SCALE * points_per_mm);
    Rect rect{at.x, at.y, logical.width * unit, logical.height * unit};
    if (wrap_mm > 0)
        rect.x = at.x + logical.x * unit;
    else if (style.align != Align::left)
        rect.x = at.x - rect.width * (style.align == Align::centre ? 0.5 : 1.0);
    return rect;
}

} // namespace

Ink::Ink(Sink& sink, const std::string& title, const std::string& date)
    : state_(new InkState{sink, {}, nullptr, nullptr, 0, {}}) {
    state_->surface = cairo_pdf_surface_create_for_stream(stream, state_.get(), 1, 1);
    cairo_pdf_surface_set_metadata(state_->surface, CAIRO_PDF_METADATA_TITLE, title.c_str());
    cairo_pdf_surface_set_metadata(state_->surface, CAIRO_PDF_METADATA_CREATOR, "Standpoint");
    // Left to itself cairo writes the time of day, and no two runs would be the same.
    const std::string day = (date.empty() ? "2000-01-01" : date) + "T00:00:00Z";
    cairo_pdf_surface_set_metadata(state_->surface, CAIRO_PDF_METADATA_CREATE_DATE, day.c_str());
    cairo_pdf_surface_set_metadata(state_->surface, CAIRO_PDF_METADATA_MOD_DATE, day.c_str());
    state_->cairo = cairo_create(state_->surface);
}

Ink::~Ink() {
    cairo_destroy(state_->cairo);
    cairo_surface_destroy(state_->surface);
}

void Ink::begin_page(double width_mm, double height_mm) {
    ++state_->page;
    cairo_pdf_surface_set_size(state_->surface, pt(width_mm), pt(height_mm));
}

void Ink::end_page() {
    cairo_show_page(state_->cairo);
    keep_first(state_->error, cairo_status(state_->cairo));
}

Status Ink::finish() {
    cairo_surface_finish(state_->surface);
    keep_first(state_->error, cairo_surface_status(state_->surface));
    if (state_->error) return *state_->error;
    return Done{};
}

void Ink::line(glm::dvec2 from, glm::dvec2 to, double width_mm, Stroke stroke) {
    polyline({from, to}, false, width_mm, stroke);
}

void Ink::polyline(const std::vector<glm::dvec2>& points, bool closed, double width_mm,
                   Stroke stroke) {
    set_stroke(state_->cairo, width_mm, stroke);
    trace(state_->cairo, points, closed);
    cairo_stroke(state_->cairo);
}

void Ink::shape(const std::vector<Ring>& rings, double fill_grey, double width_mm) {
    cairo_set_fill_rule(state_->cairo, CAIRO_FILL_RULE_EVEN_ODD);
    for (const Ring& ring : rings)
        trace(state_->cairo, ring.points, true);
    cairo_set_source_rgb(state_->cairo, fill_grey, fill_grey, fill_grey);
    if (width_mm <= 0) {
        cairo_fill(state_->cairo);
        return;
    }
    cairo_fill_preserve(state_->cairo);
    set_stroke(state_->cairo, width_mm, Stroke::solid);
    cairo_stroke(state_->cairo);
}

void Ink::rect(const Rect& r, double width_mm) {
    polyline(
        {{r.x, r.y}, {r.x + r.width, r.y}, {r.x + r.width, r.y + r.height}, {r.x, r.y + r.height}},
        true, width_mm);
}

void Ink::fill_rect(const Rect& r, double grey) {
    cairo_set_source_rgb(state_->cairo, grey, grey, grey);
    cairo_rectangle(state_->cairo, pt(r.x), pt(r.y), pt(r.width), pt(r.height));
    cairo_fill(state_->cairo);
}

void Ink::circle(glm::dvec2 centre, double radius_mm, double fill_grey, double width_mm) {
    cairo_new_path(state_->cairo);
    cairo_arc(state_->cairo, pt(centre.x), pt(centre.y), pt(radius_mm), 0, 2 * 3.14159265358979);
    cairo_set_source_rgb(state_->cairo, fill_grey, fill_grey, fill_grey);
    cairo_fill_preserve(state_->cairo);
    set_stroke(state_->cairo, width_mm, Stroke::solid);
    cairo_stroke(state_->cairo);
}

void Ink::clip(const Rect& r) {
    cairo_save(state_->cairo);
    cairo_rectangle(state_->cairo, pt(r.x), pt(r.y), pt(r.width), pt(r.height));
    cairo_clip(state_->cairo);
}

void Ink::unclip() {
    cairo_restore(state_->cairo);
}

Rect Ink::measure(const std::string& text, const TextStyle& style, double wrap_mm) {
    const Layout layout = layout_of(state_->cairo, text, style, wrap_mm);
    return rect_of(layout.get(), {0, 0}, style, wrap_mm);
}

Rect Ink::text(glm::dvec2 at, const std::string& text, const TextStyle& style, double wrap_mm) {
    const Layout layout = layout_of(state_->cairo, text, style, wrap_mm);
    const Rect rect = rect_of(layout.get(), at, style, wrap_mm);
    if (!state_->error && pango_layout_get_unknown_glyphs_count(layout.get()) > 0)
        state_->error =
            input_error("sheets", fmt::format("found \"{}\", which has a letter that no "
                                              "installed font can print; install a "
                                              "font that has it",
                                              text));
    cairo_set_source_rgb(state_->cairo, style.grey, style.grey, style.grey);
    cairo_move_to(state_->cairo, pt(wrap_mm > 0 ? at.x : rect.x), pt(rect.y));
    pango_cairo_show_layout(state_->cairo, layout.get());
    // The path's current point would join the next shape.
    cairo_new_path(state_->cairo);
    if (!text.empty()) state_->records.push_back({state_->page, rect, text});
    return rect;
}

void Ink::reserve(const Rect& rect) {
    state_->records.push_back({state_->page, rect, {}});
}

const std::vector<InkRecord>& Ink::records() const {
    return state_->records;
}

} // namespace standpoint
