// Keys that go down and up between two frames.
#include "window/key_queue.h"

#include <doctest/doctest.h>

using namespace standpoint;

TEST_CASE("each key changes at most once a frame and nothing is lost or overtaken") {
    KeyQueue queue;
    CHECK(queue.take().empty());
    // Ctrl down, S down, S up, Ctrl up, then S twice.
    const int ctrl = 341, s = 'S';
    for (const auto& [key, action] :
         {std::pair(ctrl, 1), {s, 1}, {s, 0}, {ctrl, 0}, {s, 1}, {s, 0}})
        queue.put({key, 0, action, 0});
    std::vector<std::vector<KeyEvent>> frames;
    while (!queue.empty())
        frames.push_back(queue.take());
    REQUIRE(frames.size() == 4);
    CHECK(frames[0].size() == 2); // Ctrl and S are down together
    CHECK(frames[1].size() == 1);
    CHECK(frames[2].size() == 2); // Ctrl is up before S goes down again
    CHECK(frames[3].size() == 1);
    CHECK(frames[1][0].key == s);
    CHECK(frames[1][0].action == 0);
}

TEST_CASE("a key is read with the Ctrl it was pressed with, though Ctrl went up right after") {
    KeyQueue queue;
    const int ctrl = 341, s = 'S';
    for (const auto& [key, action] : {std::pair(ctrl, 1), {s, 1}, {ctrl, 0}, {s, 0}})
        queue.put({key, 0, action, 0});
    const std::vector<KeyEvent> first = queue.take(), second = queue.take();
    REQUIRE(first.size() == 2);
    CHECK(first[1].key == s);
    REQUIRE(second.size() == 2);
    CHECK(second[0].key == ctrl);
    CHECK(queue.empty());
}
