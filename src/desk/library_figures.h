// The figures that come with the program, as a library offers them.
#pragma once

#include <string>
#include <vector>

namespace standpoint {

struct FigureChoice {
    std::string skeleton; // its name
    std::string pose;     // to begin with; "": the skeleton's stance
    double stature_mm = 0;
};
std::vector<FigureChoice> figure_choices();

} // namespace standpoint
