// The figures that come with the program.
#include "desk/library_figures.h"

#include "figure/figures.h"

namespace standpoint {

std::vector<FigureChoice> figure_choices() {
    std::vector<FigureChoice> choices;
    for (const auto& skeleton : built_in_skeletons())
        choices.push_back({skeleton->name, "", skeleton->stature});
    return choices;
}

} // namespace standpoint
