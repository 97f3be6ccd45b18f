// The text of the shaders. Lines of `#define` are put before them when they are built.
//
// A picture is drawn in steps: surfaces into colour, normal and depth (surface), light and edges
// once a pixel (light), see-through things over that (glass), steps averaged (copy), and the
// average made sRGB with tints and outlines over it (finish).
#pragma once

namespace standpoint {

extern const char* const surface_vertex;   // TEXTURED: with uvs; GLASS: with its place
extern const char* const surface_fragment; // TEXTURED, CAP: what a cut shows
extern const char* const shadow_vertex;    // TEXTURED: cut-out leaves cast cut-out shadows
extern const char* const shadow_fragment;
extern const char* const glass_fragment;
extern const char* const page_vertex;    // one triangle over the whole picture; NEAREST
extern const char* const light_fragment; // FULL 1 or 0
extern const char* const copy_fragment;
extern const char* const finish_fragment; // TINTS 1 or 0

} // namespace standpoint
