// How high a piece is to be built.
#include "desk/built_height.h"

#include "desk/form_fields.h"
#include "desk/piece_fields.h"

namespace standpoint {

namespace {

template <class T> std::optional<double> height_of(const T& form) {
    if constexpr (requires { form.height; } && !std::is_same_v<T, FenceForm>)
        return form.height.mm;
    else
        return std::nullopt;
}

} // namespace

std::optional<double> made_height(const Piece& piece) {
    if (piece.parts.size() != 1) return std::nullopt;
    const Part& part = piece.parts.front();
    if (part.at.tilt.deg != 0 || part.at.roll.deg != 0) return std::nullopt;
    return std::visit([](const auto& form) { return height_of(form); }, part.form);
}

Result<Edit> set_built_height(const Document& document, const std::string& id, double original_mm,
                              const Length& built) {
    STANDPOINT_TRY_STATUS(check_movable(document, {id}));
    const Piece& piece = *find_piece(document, id);
    if (!(built.mm > 0))
        return input_error("", "found a height of nothing, expected one above 0 mm");
    if (made_height(piece))
        return set_form_length(document, id, 0, "height",
                               Length(built.mm / ratio_of(document, piece)));
    STANDPOINT_TRY(ratio, ratio_from_sizes(original_mm, built.mm));
    return set_ratio(document, {id}, ratio);
}

} // namespace standpoint
