// Goals as rows of a linear problem.
#include "figure/goals.h"

#include <algorithm>
#include <cmath>

#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

namespace standpoint {

namespace {

// A radian of a direction weighs as much as this many mm of a place, on a figure of 1.7 m.
constexpr double arm_share = 0.2; // of the stature

double arm_of(const Chain& chain) {
    return arm_share * chain.scale * chain.skeleton->stature;
}

glm::dvec3 place_of(const Chain& chain, const ChainPlaces& places, const Goal& goal) {
    return to_outer(places.segments[goal.segment], chain.scale * goal.point);
}

glm::dvec3 unit_or(const glm::dvec3& v, const glm::dvec3& otherwise) {
    const double length = glm::length(v);
    return length > 1e-9 ? v / length : otherwise;
}

double degrees_between(const glm::dvec3& a, const glm::dvec3& b) {
    return glm::degrees(std::atan2(glm::length(glm::cross(a, b)), glm::dot(a, b)));
}

// An elbow or knee: its place, the line it stands out from, and how.
struct Bend {
    glm::dvec3 start{0.0}, line{0, 0, 1}; // unit
    glm::dvec3 middle{0.0}, out{0.0};     // of the joint from the line, mm
    glm::dvec3 wanted{0.0};               // unit, square to the line; 0: along it
};

Bend bend_of(const Chain& chain, const ChainPlaces& places, const Goal& goal) {
    const Skeleton& skeleton = *chain.skeleton;
    Bend bend;
    const int parent = skeleton.joints[chain.joint_of[goal.segment]].parent;
    bend.middle = places.segments[goal.segment].origin;
    bend.start = places.segments[std::max(parent, 0)].origin;
    const glm::dvec3 tip =
        to_outer(places.segments[goal.segment], chain.scale * skeleton.segments[goal.segment].tip);
    bend.line = unit_or(tip - bend.start, {0, 0, 1});
    const glm::dvec3 across = bend.middle - bend.start;
    bend.out = across - glm::dot(across, bend.line) * bend.line;
    bend.wanted = unit_or(goal.to - glm::dot(goal.to, bend.line) * bend.line, glm::dvec3(0.0));
    return bend;
}

class Rows {
  public:
    Rows(const Chain& chain, const ChainPlaces& places, const Goal& goal, double* by, int columns)
        : chain_(chain), places_(places), goal_(goal), by_(by), columns_(columns) {
        std::fill(by, by + rows_of(goal.kind) * columns, 0.0);
    }

    GoalRows place() {
        const glm::dvec3 at = place_of(chain_, places_, goal_);
        for (const int i : movers())
            set(i, glm::cross(places_.about[i], at - places_.through[i]), 3);
        root(glm::dvec3(1.0), 3);
        return {3, at - goal_.to};
    }
    GoalRows direction(const glm::dvec3& to) {
        const double arm = arm_of(chain_);
        const glm::dvec3 now = places_.segments[goal_.segment].rotation * goal_.along;
        for (const int i : movers())
            set(i, arm * glm::cross(places_.about[i], now), 3);
        drop_along(now + to);
        return {3, arm * (now - to)};
    }
    // What is wrong between two unit vectors is square to their middle, and has to stay so: a
    // change along it is of second order, and would be bought with large turns against each other.
    void drop_along(const glm::dvec3& middle) {
        const double length = glm::length(middle);
        if (length < 1e-9) return;
        const glm::dvec3 along = middle / length;
        for (const int i : movers()) {
            const glm::dvec3 column(by_[i], by_[columns_ + i], by_[2 * columns_ + i]);
            set(i, column - glm::dot(column, along) * along, 3);
        }
    }
    GoalRows look() {
        const double arm = arm_of(chain_);
        const glm::dvec3 eye = place_of(chain_, places_, goal_), line = goal_.to - eye;
        const double distance = std::max(glm::length(line), 1e-6);
        const glm::dvec3 to = line / distance;
        const GoalRows rows = direction(to);
        for (const int i : movers()) { // the line turns back as the eye moves
            const glm::dvec3 moves = glm::cross(places_.about[i], eye - places_.through[i]);
            const glm::dvec3 turns = (moves - glm::dot(moves, to) * to) / distance;
            for (int r = 0; r < 3; ++r)
                by_[r * columns_ + i] += arm * turns[r];
        }
        drop_along(places_.segments[goal_.segment].rotation * goal_.along + to);
        return rows;
    }
    GoalRows bend() {
        const double arm = arm_of(chain_);
        const Bend bend = bend_of(chain_, places_, goal_);
        const double out = glm::length(bend.out), least = 0.02 * arm; // a straight limb has no bend
        if (out < least || bend.wanted == glm::dvec3(0.0)) return {3, glm::dvec3(0.0)};
        const glm::dvec3 now = bend.out / out;
        for (const int i : movers()) {
            const glm::dvec3 about = places_.about[i], through = places_.through[i];
            const glm::dvec3 moves =
                glm::cross(about, bend.middle - through) - glm::cross(about, bend.start - through);
            const glm::dvec3 square = moves - glm::dot(moves, bend.line) * bend.line;
            set(i, arm / out * (square - glm::dot(square, now) * now), 3);
        }
        return {3, arm * (now - bend.wanted)};
    }
    GoalRows balance() {
        const glm::dvec3 centre = places_.carried_moment.front();
        for (std::size_t i = 0; i < chain_.axes.size(); ++i) {
            const int joint = chain_.axes[i].joint;
            const glm::dvec3 moment =
                places_.carried_moment[joint] - chain_.carried[joint] * places_.through[i];
            set(static_cast<int>(i), glm::cross(places_.about[i], moment), 2);
        }
        root(glm::dvec3(chain_.carried.front()), 2);
        return {2, centre - goal_.to};
    }

  private:
    const std::vector<int>& movers() const { return chain_.movers[goal_.segment]; }
    void set(int column, const glm::dvec3& value, int count) {
        for (int r = 0; r < count; ++r)
            by_[r * columns_ + column] = value[r];
    }
    void root(const glm::dvec3& value, int count) {
        const int first = static_cast<int>(chain_.axes.size());
        for (int r = 0; r < count && first + r < columns_; ++r)
            by_[r * columns_ + first + r] = value[r];
    }

    const Chain& chain_;
    const ChainPlaces& places_;
    const Goal& goal_;
    double* by_;
    int columns_;
};

} // namespace

double tolerance_of(GoalKind kind) {
    constexpr double place_mm = 1, turn_deg = 0.5;
    return kind == GoalKind::place || kind == GoalKind::balance ? place_mm : turn_deg;
}

int rows_of(GoalKind kind) {
    return kind == GoalKind::balance ? 2 : 3;
}

double miss_of(const Chain& chain, const ChainPlaces& places, const Goal& goal) {
    const glm::dvec3 now = places.segments[goal.segment].rotation * goal.along;
    switch (goal.kind) {
    case GoalKind::place:
        return glm::length(place_of(chain, places, goal) - goal.to);
    case GoalKind::direction:
        return degrees_between(now, goal.to);
    case GoalKind::look:
        return degrees_between(now, goal.to - place_of(chain, places, goal));
    case GoalKind::bend: {
        const Bend bend = bend_of(chain, places, goal);
        return degrees_between(bend.out, bend.wanted);
    }
    case GoalKind::balance: {
        const glm::dvec3 off = places.carried_moment.front() - goal.to;
        return std::hypot(off.x, off.y);
    }
    }
    return 0;
}

GoalRows goal_rows(const Chain& chain, const ChainPlaces& places, const Goal& goal, double* by,
                   int columns) {
    Rows rows(chain, places, goal, by, columns);
    switch (goal.kind) {
    case GoalKind::place:
        return rows.place();
    case GoalKind::direction:
        return rows.direction(goal.to);
    case GoalKind::look:
        return rows.look();
    case GoalKind::bend:
        return rows.bend();
    case GoalKind::balance:
        return rows.balance();
    }
    return {};
}

} // namespace standpoint
