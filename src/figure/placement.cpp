// placements(document): hosts are resolved once, each before what it carries.
#include "figure/placement.h"

#include "base/check.h"

namespace standpoint {

namespace {

glm::dvec3 position(const Pose6& at) {
    return {at.x.mm, at.y.mm, at.z.mm};
}

Frame own_frame(const Pose6& at) {
    return {rotation_of(at.facing.deg, at.tilt.deg, at.roll.deg), position(at)};
}

Frame on_section(const Document& document, const std::string& id) {
    const Section* section = find_section(document, id);
    STANDPOINT_CHECK(section != nullptr);
    Frame frame;
    frame.origin.z = section->height.mm;
    return frame;
}

// The frame of a piece that no piece carries.
Frame root_frame(const Document& document, const Piece& piece) {
    if (piece.support == Support::none) return {};
    STANDPOINT_CHECK(piece.support == Support::section);
    return on_section(document, piece.host);
}

} // namespace

std::vector<Placement> placements(const Document& document) {
    const auto& pieces = *document.pieces;
    const std::vector<std::ptrdiff_t> hosts = host_indices(document);
    std::vector<Placement> placed(pieces.size());
    std::vector<bool> done(pieces.size(), false);
    std::vector<std::size_t> climb;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        for (auto at = static_cast<std::ptrdiff_t>(i); at >= 0 && !done[at]; at = hosts[at]) {
            climb.push_back(static_cast<std::size_t>(at));
            STANDPOINT_CHECK(climb.size() <= pieces.size()); // else a cycle
        }
        for (; !climb.empty(); climb.pop_back()) {
            const std::size_t at = climb.back();
            const Frame outer =
                hosts[at] >= 0 ? placed[hosts[at]].frame : root_frame(document, *pieces[at]);
            placed[at].frame = compose(outer, own_frame(pieces[at]->at));
            placed[at].scale = ratio_of(document, *pieces[at]);
            done[at] = true;
        }
    }
    return placed;
}

Frame host_frame(const Document& document, const Piece& piece) {
    if (piece.support == Support::none || piece.support == Support::section)
        return root_frame(document, piece);
    const auto& pieces = *document.pieces;
    const std::vector<std::ptrdiff_t> hosts = host_indices(document);
    std::ptrdiff_t at = 0;
    while (at < static_cast<std::ptrdiff_t>(pieces.size()) && pieces[at]->id != piece.host)
        ++at;
    STANDPOINT_CHECK(at < static_cast<std::ptrdiff_t>(pieces.size()));
    std::vector<std::ptrdiff_t> climb; // innermost first
    for (; at >= 0; at = hosts[at])
        climb.push_back(at);
    Frame frame = root_frame(document, *pieces[climb.back()]);
    for (; !climb.empty(); climb.pop_back())
        frame = compose(frame, own_frame(pieces[climb.back()]->at));
    return frame;
}

} // namespace standpoint
