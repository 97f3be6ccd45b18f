// Where every piece of a document is, looked up by id; made once for an edit of many pieces.
#pragma once

#include <cstddef>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "figure/placement.h"
#include "scene/document.h"

namespace standpoint {

class Places {
  public:
    explicit Places(const Document& document); // which must outlive it

    bool has(std::string_view id) const { return index_.contains(id); }
    std::size_t index(std::string_view id) const; // has(id)
    const Piece& piece(std::string_view id) const { return piece_at(index(id)); }
    const Piece& piece_at(std::size_t i) const { return *(*document_.pieces)[i]; }
    const Frame& frame(std::string_view id) const { return placed_[index(id)].frame; }
    const Placement& placement(std::string_view id) const { return placed_[index(id)]; }
    Frame host_frame(std::string_view id) const;                   // its place is given in
    std::ptrdiff_t host(std::size_t i) const { return hosts_[i]; } // -1: no piece
    std::size_t count() const { return placed_.size(); }

  private:
    const Document& document_;
    std::vector<std::ptrdiff_t> hosts_;
    std::vector<Placement> placed_;
    std::unordered_map<std::string_view, std::size_t> index_;
};

} // namespace standpoint
