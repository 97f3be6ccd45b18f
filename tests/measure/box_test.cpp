// Boxes: empty until a point is added; touching is meeting.
#include "measure/box.h"

#include <initializer_list>

#include <doctest/doctest.h>

using namespace standpoint;

TEST_CASE("a box is empty until a point is added") {
    Box box;
    CHECK(box.empty());
    CHECK(box.size() == glm::dvec3(0.0));
    box = grown(box, {1, 2, 3});
    CHECK_FALSE(box.empty());
    CHECK(box.size() == glm::dvec3(0.0));
    CHECK(box.centre() == glm::dvec3(1, 2, 3));
    box = grown(box, {-1, 4, 3});
    CHECK(box.low == glm::dvec3(-1, 2, 3));
    CHECK(box.high == glm::dvec3(1, 4, 3));
    CHECK(box.size() == glm::dvec3(2, 2, 0));
}

TEST_CASE("joining with nothing changes nothing") {
    const Box box{{0, 0, 0}, {1, 2, 3}};
    CHECK(joined(box, Box{}).low == box.low);
    CHECK(joined(Box{}, box).high == box.high);
    CHECK(joined(Box{}, Box{}).empty());
    const Box both = joined(box, Box{{5, -1, 1}, {6, 0, 2}});
    CHECK(both.low == glm::dvec3(0, -1, 0));
    CHECK(both.high == glm::dvec3(6, 2, 3));
}

TEST_CASE("boxes meet when they touch, and within the slack") {
    const Box box{{0, 0, 0}, {10, 10, 10}};
    for (int axis = 0; axis < 3; ++axis) {
        for (const double side : {-1.0, 1.0}) {
            const auto moved = [&](double by) {
                Box other = box;
                other.low[axis] += side * by;
                other.high[axis] += side * by;
                return other;
            };
            CHECK(meet(box, moved(9)));
            CHECK(meet(box, moved(10)));
            CHECK_FALSE(meet(box, moved(10.001)));
            CHECK(meet(box, moved(10.5), 0.5));
            CHECK_FALSE(meet(box, moved(10.501), 0.5));
            CHECK(meet(moved(10), box));
        }
    }
    CHECK_FALSE(meet(box, Box{}));
    CHECK_FALSE(meet(Box{}, Box{}, 1e9));
}
