// The program: hands its arguments and streams to the command line.
#include <csignal>
#include <cstdio>
#include <unistd.h>

#include "command/command.h"

namespace {

bool put(std::FILE* file, std::string_view text) {
    return std::fwrite(text.data(), 1, text.size(), file) == text.size() && std::fflush(file) == 0;
}

} // namespace

int main(int count, char** values) {
    // A reader that goes away (`| head`) is an error of writing, not a reason to die.
    std::signal(SIGPIPE, SIG_IGN);
    standpoint::Streams streams;
    streams.out = [](std::string_view text) { return put(stdout, text); };
    streams.err = [](std::string_view text) { return put(stderr, text); };
    streams.terminal = isatty(STDERR_FILENO) == 1;
    return standpoint::run_command({values + 1, values + count}, streams);
}
