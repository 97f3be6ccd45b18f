// A line of progress on a terminal, rewritten in place; nothing where there is none.
#pragma once

#include <memory>
#include <string>

#include "base/parallel.h"
#include "command/command.h"

namespace standpoint {

class ProgressLine {
  public:
    ProgressLine(const Streams& streams, std::string what);
    ~ProgressLine();
    ProgressLine(const ProgressLine&) = delete;
    ProgressLine& operator=(const ProgressLine&) = delete;

    Progress progress() const;
    void clear() const; // takes the line away, so that results do not mix with it

  private:
    struct State;
    std::shared_ptr<State> state_;
};

} // namespace standpoint
