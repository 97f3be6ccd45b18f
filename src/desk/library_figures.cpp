// The figures that come with the program.
#include "desk/library_figures.h"

#include "figure/figures.h"

namespace standpoint {

namespace {

// A skeleton smaller than any person is that of a small original, and is built about so tall.
constexpr double small_original_mm = 300;
constexpr double built_display_mm = 1100;

} // namespace

std::vector<FigureChoice> figure_choices() {
    std::vector<FigureChoice> choices;
    for (const auto& skeleton : built_in_skeletons())
        choices.push_back(
            {skeleton->name, "",
             skeleton->stature < small_original_mm ? built_display_mm : skeleton->stature});
    return choices;
}

} // namespace standpoint
