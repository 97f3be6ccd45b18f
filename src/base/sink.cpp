// The sink that keeps its bytes in memory.
#include "base/sink.h"

namespace standpoint {

Status StringSink::write(std::string_view more) {
    bytes.append(more);
    return Done{};
}

} // namespace standpoint
