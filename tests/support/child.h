// Runs a piece of a test in a child process, for what ends a process or changes it for good.
#pragma once

#include <cerrno>
#include <csignal>
#include <stdexcept>

#include <fcntl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

namespace standpoint::support {

// How a child ended: by a signal, or with the code that its body returned.
struct ChildEnd {
    int signal = 0;
    int code = 0;
};

inline ChildEnd wait_for(pid_t child) {
    int status = 0;
    while (::waitpid(child, &status, 0) < 0) {
        if (errno != EINTR) throw std::runtime_error("cannot wait for the child");
    }
    if (WIFSIGNALED(status)) return {WTERMSIG(status), 0};
    return {0, WEXITSTATUS(status)};
}

// Starts `body() -> int` in a child whose stderr goes nowhere; an exception ends it with 99.
template <class Body> pid_t start_child(Body body) {
    const pid_t child = ::fork();
    if (child < 0) throw std::runtime_error("cannot fork");
    if (child > 0) return child;
    // The test framework's handlers would report the signal as a crash of the whole program.
    for (const int number : {SIGABRT, SIGSEGV, SIGTERM, SIGINT})
        ::signal(number, SIG_DFL);
    const rlimit no_core{0, 0};
    ::setrlimit(RLIMIT_CORE, &no_core);
    const int nowhere = ::open("/dev/null", O_WRONLY);
    if (nowhere >= 0) ::dup2(nowhere, STDERR_FILENO);
    int code = 99;
    try {
        code = body();
    } catch (...) {
        code = 99;
    }
    ::_exit(code);
}

template <class Body> ChildEnd run_child(Body body) {
    return wait_for(start_child(body));
}

} // namespace standpoint::support
