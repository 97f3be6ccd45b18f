// The command line in process: exit codes and where its words go.
#include <doctest/doctest.h>

#include "command/command.h"
#include "command/progress.h"

using namespace standpoint;

namespace {

struct Heard {
    std::string out, err;
    int code = -1;
};

Heard heard(const std::vector<std::string>& arguments, bool out_works = true) {
    Heard heard;
    Streams streams;
    streams.out = [&](std::string_view text) {
        if (out_works) heard.out += text;
        return out_works;
    };
    streams.err = [&](std::string_view text) {
        heard.err += text;
        return true;
    };
    heard.code = run_command(arguments, streams);
    return heard;
}

} // namespace

TEST_CASE("usage errors exit 2 with one line on stderr") {
    for (const std::vector<std::string>& arguments :
         {std::vector<std::string>{},
          {"check"},
          {"nonsense"},
          {"check", "a", "b"},
          {"check", "a", "--threads", "-1"},
          {"sheets", "a"},
          {"picture", "a", "-o", "b", "--samples", "65"}}) {
        const Heard said = heard(arguments);
        CHECK(said.code == exit_wrong);
        CHECK(said.out.empty());
        CHECK(said.err.rfind("standpoint: ", 0) == 0);
        CHECK(said.err.find('\n') == said.err.size() - 1);
    }
}

TEST_CASE("help and version go to stdout and say when they cannot") {
    CHECK(heard({"--help"}).code == exit_done);
    CHECK(heard({"check", "--help"}).out.find("--json") != std::string::npos);
    CHECK(heard({"--version"}).err.empty());
    CHECK(heard({"--version"}, false).code == exit_wrong);
    CHECK(heard({"--help"}, false).code == exit_wrong);
}

TEST_CASE("a scene that is not there is named") {
    const Heard said = heard({"check", "no-such.scene.json"});
    CHECK(said.code == exit_wrong);
    CHECK(said.err.find("no-such.scene.json") != std::string::npos);
}

TEST_CASE("progress is shown on a terminal only, once a percent, and taken away") {
    std::string err;
    Streams streams;
    streams.out = [](std::string_view) { return true; };
    streams.err = [&](std::string_view text) {
        err += text;
        return true;
    };
    {
        const ProgressLine line(streams, "checking");
        CHECK(!line.progress().report);
    }
    CHECK(err.empty());
    streams.terminal = true;
    {
        const ProgressLine line(streams, "checking");
        const Progress progress = line.progress();
        progress.report(0.421, "");
        progress.report(0.422, "");
        CHECK(err == "\r\x1b[Kchecking 42 %");
        progress.report(7, "");
        CHECK(err.find("100 %") != std::string::npos);
    }
    CHECK(err.substr(err.size() - 4) == "\r\x1b[K");
}
