// The cautions that go wherever a result is shown.
#include "check/run.h"

namespace standpoint {

const std::vector<std::string>& cautions() {
    static const std::vector<std::string> sentences = {
        "These checks help planning; they approve nothing.",
        "The local building, fire and accessibility authority decides what may be built and "
        "opened, and which edition of a code holds.",
        "Stability, rigging and fixing are for a licensed engineer to judge.",
        "Lamps, wiring and effects are for a licensed electrician.",
        "Lifting follows the employer's own rules.",
        "A limit marked \"common practice\" or \"default, from memory\" quotes no clause.",
    };
    return sentences;
}

} // namespace standpoint
