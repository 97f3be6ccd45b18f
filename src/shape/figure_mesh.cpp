// The body of a figure.
#include "shape/figure_mesh.h"

#include "shape/primitives.h"

namespace standpoint {

Result<Mesh> figure_mesh(const FigureForm& form) {
    const double height = form.stature ? form.stature->mm : 1700.0;
    Mesh whole;
    STANDPOINT_TRY(body, mesh_of(CapsuleForm{0.26 * height, 0.86 * height}));
    STANDPOINT_TRY(face, mesh_of(SphereForm{0.14 * height}));
    transform(face, glm::dmat3(1.0), {0, 0, 0.86 * height}, 1);
    body.parts[0].name = "coat";
    face.parts[0].name = "face";
    append(whole, body);
    append(whole, face);
    return whole;
}

} // namespace standpoint
