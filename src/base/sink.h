// Where writers put their bytes: a string, or a file that is written whole or not at all.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"

namespace standpoint {

class Sink {
  public:
    virtual ~Sink() = default;
    virtual Status write(std::string_view bytes) = 0;
};

class StringSink : public Sink {
  public:
    std::string bytes;
    Status write(std::string_view more) override;
};

} // namespace standpoint
