// Small pictures of meshes, drawn by the processor: from the front, a little from the left and from
// above, without perspective, on nothing.
#pragma once

#include "desk/library.h"
#include "shape/mesh.h"

namespace standpoint {

// The frame of such a picture in the axes of the mesh, each of unit length.
struct PictureAxes {
    glm::dvec3 right{0.0}, up{0.0}, towards{0.0}; // `towards` leads from the mesh to the eye
};
PictureAxes picture_axes();

// Linear light on a surface of that unit normal, 0..1. Lightest from above, darkest from below.
double picture_light(const glm::dvec3& normal);

inline constexpr double picture_margin = 0.06; // of the side, left free on each

// Square, sRGB with straight alpha; `pixels` 1 to 1024 a side. The mesh fills it up to the margin
// and is in the middle. Surfaces seen from behind are drawn as their front. What lets light through
// is drawn as a screen of dots. A mesh without extent leaves the picture empty.
Image mesh_picture(const Mesh& mesh, int pixels);

// Of what a piece of the entry would be. Errors: those of the model file or the figure.
Result<Image> entry_picture(const LibraryEntry& entry, const std::string& scene_file,
                            const FileAccess& files, int pixels);

} // namespace standpoint
