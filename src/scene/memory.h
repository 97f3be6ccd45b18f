// How many bytes the blocks of a document take, for histories with a budget.
#pragma once

#include <cstddef>
#include <functional>

#include "scene/document.h"

namespace standpoint {

// One allocation that documents share, by address, and how to count its bytes with all it owns.
struct Block {
    const void* address = nullptr;
    std::function<std::size_t()> bytes;
};
using BlockVisit = std::function<void(const Block&)>;

// Every block of the document once, in a fixed order.
void each_block(const Document& document, const BlockVisit& visit);

} // namespace standpoint
