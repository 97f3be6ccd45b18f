// The keys of a pose file.
#pragma once

#include "figure/pose.h"
#include "scene/fields.h"

namespace standpoint {

template <> struct NamesOf<Stance> { static constexpr auto& names = stance_names; };

template <> struct Fields<Pose> {
    using F = Pose;
    static constexpr auto list = std::tuple{
        need("name", &F::name), have("description", &F::description), have("stance", &F::stance),
        have("seat_on_ground", &F::seat_on_ground), need("angles", &F::angles)};
};

} // namespace standpoint
