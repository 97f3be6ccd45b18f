// Prints the cells of a row in the scene's units.
#include "sheet/cells.h"

#include <cmath>

#include <fmt/format.h>

#include "measure/angle.h"
#include "measure/ratio.h"

namespace standpoint {
namespace {

// Finer than a crew can turn a piece by hand (placing tolerance 2 degrees, common practice).
constexpr double angle_step_deg = 0.5;

std::string angle_cell(double deg) {
    const double rounded = std::round(deg / angle_step_deg) * angle_step_deg;
    return print_exact(rounded == 0 ? 0 : rounded);
}

// A ratio worked out from two sizes has more digits than anybody builds by.
std::string ratio_cell(double ratio) {
    constexpr std::size_t longest = 9; // "12.3456:1"
    const std::string exact = print_ratio(ratio);
    return exact.size() <= longest ? exact : print_ratio(std::stod(fmt::format("{:.6g}", ratio)));
}

} // namespace

LengthStyle sheet_style(const Settings& settings) {
    LengthStyle style;
    style.system = settings.units;
    style.inch_denominator = settings.inch_denominator;
    style.with_unit = false;
    return style;
}

std::string unit_note(const Settings& settings) {
    if (settings.units == UnitSystem::metric) return "mm";
    return fmt::format("ft and in to 1/{}", settings.inch_denominator);
}

std::string course_text(const PlacementRow& row, const Document& document) {
    const Settings& settings = *document.settings;
    if (!settings.course || !(settings.course->mm > 0)) return {};
    double deck = 0;
    for (const Section& section : *document.sections)
        if (section.name == row.section || section.id == row.section) deck = section.height.mm;
    const double course = settings.course->mm;
    const LengthStyle style = sheet_style(settings);
    // Rounded before it is split, so that the parts add up to what the Z column says.
    const double above = round_to_step(row.at.z - deck, style);
    const double whole = std::floor(above / course + 1e-9);
    return fmt::format("{:.0f} + {}", whole, print_length(above - whole * course, style));
}

RowCells cells_of(const PlacementRow& row, const Document& document) {
    const LengthStyle style = sheet_style(*document.settings);
    RowCells cells;
    cells.number = std::to_string(row.number);
    cells.id = row.id;
    cells.name = row.name;
    cells.kind = row.kind;
    cells.section = row.section;
    cells.x = print_length(row.at.x, style);
    cells.y = print_length(row.at.y, style);
    cells.z = print_length(row.at.z, style);
    cells.course = course_text(row, document);
    cells.facing = angle_cell(
        std::round(row.facing / angle_step_deg) * angle_step_deg == 360 ? 0 : row.facing);
    cells.tilt = angle_cell(row.tilt);
    cells.roll = angle_cell(row.roll);
    cells.ratio = ratio_cell(row.ratio);
    cells.width = print_length(row.built_size.x, style);
    cells.depth = print_length(row.built_size.y, style);
    cells.height = print_length(row.built_size.z, style);
    cells.support = row.support;
    return cells;
}

MarkCells cells_of(const MarkRow& mark, const Settings& settings) {
    const LengthStyle style = sheet_style(settings);
    return {mark.name, print_length(mark.scene.x, style), print_length(mark.scene.y, style),
            print_length(mark.scene.z, style)};
}

} // namespace standpoint
