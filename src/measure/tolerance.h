// Every tolerance of the program, with its reason. Numerical epsilons keep arithmetic honest and
// are nobody's choice; user tolerances are choices, and a scene or a rule may override them.
#pragma once

namespace standpoint {

// -- numerical epsilons --
// Rays start and end this far short of their ends, so that the surface they leave does not hide
// itself. Single precision at 20 m resolves 0.002 mm; a float ray index needs about 0.1 mm.
inline constexpr double ray_end_mm = 0.1;
// Crossings closer than this along a ray count as equally far and are ordered by piece.
inline constexpr double equal_distance_mm = 0.05;
// Two triangles of one piece that share an edge or a corner, face the same way along the ray and are
// crossed this close to that edge or corner and to each other are one crossing of the surface, the
// nearer of the two: a ray through a seam goes in once. A ray in single precision strays less than
// this from its line in any hall.
inline constexpr double same_crossing_mm = 0.01;
// Ray queries reach this far past what counts, and what they find is judged in double. A float
// corner is off by up to 0.001 mm, which moves a crossing along the ray by that over the sine of the
// angle at which it meets the face: this covers all but faces seen edge on.
inline constexpr double float_reach_mm = 5;
// Share of the way to the middle of its triangle that a surface sample is pulled, off edges and
// corners, where rays cannot tell one face from the next.
inline constexpr double sample_inset = 1e-3;
// Plan geometry is snapped to this grid before it goes to integer libraries.
inline constexpr double plan_grid_mm = 0.001;
// Two vertices closer than this are one when a mesh is tested for being closed.
inline constexpr double weld_mm = 0.001;

// -- user tolerances (defaults) --
// How far from its place a crew lands a piece by tape: common practice, no source.
inline constexpr double placing_tolerance_mm = 10;
inline constexpr double placing_tolerance_deg = 2;
// A gap under a piece up to this is taken up by shims: common practice, no source.
inline constexpr double floating_gap_mm = 3;
// Pieces may press into each other this far before it is an overlap: common practice, no source.
inline constexpr double overlap_depth_mm = 5;
// A hand this near to what it touches reads as touching it: common practice, no source.
inline constexpr double touch_gap_mm = 5;
// How far over the base's edge a piece may reach before it is a finding.
inline constexpr double outside_base_mm = 1;

} // namespace standpoint
