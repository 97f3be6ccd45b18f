// Places of pieces by id.
#include "desk/places.h"

#include "base/check.h"

namespace standpoint {

Places::Places(const Document& document)
    : document_(document), hosts_(host_indices(document)), placed_(placements(document)) {
    for (std::size_t i = 0; i < document.pieces->size(); ++i)
        index_.emplace((*document.pieces)[i]->id, i);
}

std::size_t Places::index(std::string_view id) const {
    const auto found = index_.find(id);
    STANDPOINT_CHECK(found != index_.end());
    return found->second;
}

Frame Places::host_frame(std::string_view id) const {
    const std::size_t i = index(id);
    if (hosts_[i] >= 0) return placed_[static_cast<std::size_t>(hosts_[i])].frame;
    return standpoint::host_frame(document_, piece_at(i));
}

} // namespace standpoint
