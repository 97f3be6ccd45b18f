// The tables of sheets and scales, and the choice among them.
#include "sheet/sheet_size.h"

#include "base/check.h"

namespace standpoint {
namespace {

// Reductions up to this leave a figure's footprint large enough to carry its number.
constexpr double readable_reduction = 50;

double in(double inches) {
    return inches * mm_per_inch;
}

bool fits(const SheetSize& size, const DrawingScale& scale, double width_mm, double depth_mm,
          double taken_height_mm) {
    const double room_width = size.width - left_border_mm - other_border_mm;
    const double room_height = size.height - 2 * other_border_mm - taken_height_mm;
    return width_mm / scale.reduction <= room_width && depth_mm / scale.reduction <= room_height;
}

} // namespace

const std::vector<SheetSize>& sheet_sizes(UnitSystem system) {
    static const std::vector<SheetSize> iso = {
        {"A3", 420, 297}, {"A2", 594, 420}, {"A1", 841, 594}};
    static const std::vector<SheetSize> ansi = {
        {"ANSI B", in(17), in(11)}, {"ANSI C", in(22), in(17)}, {"ANSI D", in(34), in(22)}};
    return system == UnitSystem::metric ? iso : ansi;
}

const std::vector<DrawingScale>& drawing_scales(UnitSystem system) {
    static const std::vector<DrawingScale> metric = {{5, "1:5"},   {10, "1:10"},   {20, "1:20"},
                                                     {50, "1:50"}, {100, "1:100"}, {200, "1:200"}};
    static const std::vector<DrawingScale> imperial = {{12, "1\" = 1'-0\""},
                                                       {24, "1/2\" = 1'-0\""},
                                                       {48, "1/4\" = 1'-0\""},
                                                       {96, "1/8\" = 1'-0\""},
                                                       {192, "1/16\" = 1'-0\""}};
    return system == UnitSystem::metric ? metric : imperial;
}

SheetChoice choose_sheet(UnitSystem system, double extent_width_mm, double extent_depth_mm,
                         double taken_height_mm) {
    STANDPOINT_CHECK(extent_width_mm >= 0 && extent_depth_mm >= 0);
    const auto& sizes = sheet_sizes(system);
    const auto& scales = drawing_scales(system);
    for (const SheetSize& size : sizes)
        for (const DrawingScale& scale : scales)
            if (scale.reduction <= readable_reduction &&
                fits(size, scale, extent_width_mm, extent_depth_mm, taken_height_mm))
                return {size, scale};
    for (const DrawingScale& scale : scales)
        if (fits(sizes.back(), scale, extent_width_mm, extent_depth_mm, taken_height_mm))
            return {sizes.back(), scale};
    return {sizes.back(), scales.back()};
}

} // namespace standpoint
