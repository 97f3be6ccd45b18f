// Meshes of the primitive forms, closed and outward, in original's size.
#pragma once

#include "base/result.h"
#include "scene/form.h"
#include "shape/mesh.h"

namespace standpoint {

// Facets of a round thing. Its corners lie on the true circle, so that it is widest where the
// circle is and falls short by at most 0.0013 of the radius between them; a corner lies on each
// axis. Balls have half as many from pole to pole.
inline constexpr int round_facets = 64;
inline constexpr int rail_facets = 16;   // of a rail or rope
inline constexpr int rope_segments = 16; // of a rope that sags, post to post

// One part named "", one material, unit normals: smooth on round things and on the top of a
// terrain, flat elsewhere. Errors (input): an outline that crosses itself, openings that meet or
// leave their wall, a profile with negative radius, a fence without length, ... The message says
// which; the caller adds the place. ModelForm and FigureForm are programmer errors here.
//
// Extrusion: the outline keeps its own place in plan, its foot is at height 0.
// Turning: a profile whose last point is its first is a ring; otherwise each end is joined to the
// axis by a flat cap, or closed to a point where its radius is 0. Only ends may lie on the axis.
// Stairs: one solid to the floor, as deep as all goings.
// Fence: the posts between two points of the run are evenly apart, at most post_spacing. Rails and
// ropes run from post to post, each a solid of its own that ends inside the posts, so volumes
// count what posts and rails share twice. A sagging rope is a parabola.
// Terrain: each field is cut from its left front to its right back corner; where all of it is 0
// high there is no solid.
Result<Mesh> mesh_of(const Form& form);

} // namespace standpoint
