// Solving for a pose: bounded damped least squares, level by level, with fresh starts.
#include "figure/solve.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include "base/check.h"

namespace standpoint {

namespace {

using Vector = Eigen::VectorXd;
using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

// How many mm of a goal a radian of turning away from the given pose is worth: the goals are met
// to about a hundredth of a millimetre, what they leave open stays as it was.
constexpr double stay_mm = 0.3;
constexpr double root_stay = 0.003; // mm of a goal a mm the root moves
constexpr double held = 100;        // weight of levels before, over the one being solved
constexpr double round_turn = 2;    // radians
constexpr int most_steps = 40;
constexpr int most_attempts = 24;
constexpr double longest_turn = 1.0;   // radians a step, in which the linear problem is believed
constexpr double first_damping = 1e-3; // share of the cost
// A descent is given up when so many steps have not brought the cost below this share of it.
constexpr int patience = 6;
constexpr double enough_gained = 0.7, enough_settled = 0.9999;
// With the goals met this well, mm squared, a step that leaves this share of the cost is the last.
constexpr double good = 0.01, almost = 0.8;

// A sequence that fills the unit interval evenly (van der Corput, base b).
double radical_inverse(int index, int base) {
    double value = 0, digit = 1.0 / base;
    for (; index > 0; index /= base, digit /= base)
        value += digit * (index % base);
    return value;
}

bool is_finite(const glm::dvec3& v) {
    return std::isfinite(v.x) && std::isfinite(v.y) && std::isfinite(v.z);
}

bool is_sound(const Chain& chain, const Goal& goal) {
    return goal.segment >= 0 && goal.segment < static_cast<int>(chain.movers.size()) &&
           goal.level >= 0 && goal.weight > 0 && is_finite(goal.point) && is_finite(goal.along) &&
           is_finite(goal.to);
}

// Where each unknown may go, and how little it should move.
struct Bounds {
    Vector least, most, stay;
};

class Solver {
  public:
    Solver(const Chain& chain, const SolveRequest& request) : chain_(chain), request_(request) {
        axes_ = static_cast<int>(chain.axes.size());
        unknowns_ = axes_ + (request.root_moves ? 3 : 0);
        make_bounds();
        reference_ = clamped(packed(request.from));
        weights_.resize(request.goals.size());
        reached_.resize(request.goals.size());
        int rows = 0;
        for (const Goal& goal : request.goals)
            rows += rows_of(goal.kind);
        wrong_.resize(rows);
        by_.resize(rows, unknowns_);
        by_before_.resize(rows, unknowns_);
        wrong_before_.resize(rows);
        scaled_.resize(rows, unknowns_);
    }

    Solved run() {
        Vector best = attempt(reference_);
        double best_cost = rank(best);
        int attempts = 1;
        while (request_.search == Search::wide && attempts < most_attempts && !first_met(best)) {
            const Vector other = attempt(fresh_start(attempts));
            ++attempts;
            const double cost = rank(other);
            if (cost >= best_cost) continue;
            best = other;
            best_cost = cost;
        }
        if (!all_met(best)) best = settled(best, best_cost);
        return outcome(best, attempts);
    }

  private:
    void make_bounds() {
        const double far = std::numeric_limits<double>::infinity();
        bounds_.least = Vector::Constant(unknowns_, -far);
        bounds_.most = Vector::Constant(unknowns_, far);
        bounds_.stay = Vector::Constant(unknowns_, root_stay);
        const Vector from = packed(request_.from);
        for (int i = 0; i < axes_; ++i) {
            const ChainAxis& axis = chain_.axes[i];
            bounds_.least[i] = axis.least;
            bounds_.most[i] = axis.most;
            bounds_.stay[i] = stay_mm * axis.stiffness;
            if (request_.locked.empty() || !request_.locked[i]) continue;
            bounds_.least[i] = bounds_.most[i] = std::clamp(from[i], axis.least, axis.most);
        }
    }

    Vector packed(const ChainState& state) const {
        Vector x(unknowns_);
        for (int i = 0; i < axes_; ++i)
            x[i] = state.angles[i];
        for (int i = axes_; i < unknowns_; ++i)
            x[i] = state.root[i - axes_];
        return x;
    }
    void unpack(const Vector& x, ChainState& state) const {
        state.angles.assign(x.data(), x.data() + axes_);
        state.root = request_.from.root;
        for (int i = axes_; i < unknowns_; ++i)
            state.root[i - axes_] = x[i];
    }
    Vector clamped(const Vector& x) const {
        return x.cwiseMax(bounds_.least).cwiseMin(bounds_.most);
    }

    void place(const Vector& x) {
        unpack(x, state_);
        find_places(chain_, state_, places_);
    }

    // What is wrong and how it changes, at x. Goals of later levels weigh nothing.
    void linearise(const Vector& x) {
        place(x);
        int row = 0;
        for (std::size_t g = 0; g < request_.goals.size(); ++g) {
            const int count = rows_of(request_.goals[g].kind);
            const GoalRows rows = goal_rows(chain_, places_, request_.goals[g],
                                            by_.data() + row * unknowns_, unknowns_);
            for (int r = 0; r < count; ++r)
                wrong_[row + r] = weights_[g] * (rows.wrong[r] - reached_[g][r]);
            by_.middleRows(row, count) *= weights_[g];
            row += count;
        }
    }
    double cost(const Vector& x) const {
        return wrong_.squaredNorm() +
               (bounds_.stay.array() * (x - reference_).array()).square().sum();
    }

    // The least of the linear problem with damping, within the bounds: what meets a bound stays
    // there and the rest is solved again.
    Vector step(const Vector& x, double damping) {
        Vector free = Vector::Ones(unknowns_), fixed = Vector::Zero(unknowns_);
        const Vector low = (bounds_.least - x).cwiseMax(-longest_turn_of()),
                     high = (bounds_.most - x).cwiseMin(longest_turn_of());
        for (int i = 0; i < unknowns_; ++i)
            if (high[i] - low[i] <= 0) free[i] = 0;
        const Vector stay = bounds_.stay.array().square();
        const Vector weight = stay + damping * stay / (stay_mm * stay_mm);
        Vector made = fixed;
        for (int pass = 0; pass < 4; ++pass) {
            made = free_step(x, stay, weight, free, fixed);
            bool left = false;
            for (int i = 0; i < unknowns_; ++i) {
                if (free[i] == 0 || (made[i] >= low[i] && made[i] <= high[i])) continue;
                fixed[i] = made[i] < low[i] ? low[i] : high[i];
                free[i] = 0;
                left = true;
            }
            if (!left) break;
        }
        return made.cwiseMax(low).cwiseMin(high);
    }
    Vector longest_turn_of() const {
        Vector most = Vector::Constant(unknowns_, longest_turn);
        most.tail(unknowns_ - axes_).setConstant(std::numeric_limits<double>::infinity());
        return most;
    }

    // In the space of the rows, which are fewer than the unknowns (Woodbury's identity).
    Vector free_step(const Vector& x, const Vector& stay, const Vector& weight, const Vector& free,
                     const Vector& fixed) {
        const Vector right = wrong_ + by_ * fixed;
        const Vector pull =
            by_.transpose() * right + (stay.array() * (x + fixed - reference_).array()).matrix();
        const Vector root = free.array() / weight.array().sqrt();
        scaled_.noalias() = by_ * root.asDiagonal();
        Eigen::MatrixXd square = Eigen::MatrixXd::Identity(wrong_.size(), wrong_.size());
        square.selfadjointView<Eigen::Lower>().rankUpdate(scaled_);
        const Vector eased = root.array() * pull.array();
        const Vector solved = Eigen::LLT<Eigen::MatrixXd>(square).solve(scaled_ * eased);
        const Vector change = eased - scaled_.transpose() * solved;
        return fixed - (root.array() * change.array()).matrix();
    }

    Vector descend(Vector x) {
        linearise(x);
        double now = cost(x), damping = first_damping * now;
        std::array<double, patience> before;
        before.fill(std::numeric_limits<double>::infinity());
        for (int i = 0; i < most_steps; ++i) {
            double& then_before = before[i % patience];
            if (now > enough_ * then_before) break;
            then_before = now;
            ++steps_;
            const Vector next = clamped(x + step(x, damping));
            by_.swap(by_before_);
            wrong_.swap(wrong_before_);
            linearise(next);
            const double then = cost(next);
            if (then < now) {
                const bool ends = wrong_.squaredNorm() < good && then > almost * now;
                x = next;
                now = then;
                damping /= 4;
                if (ends) break;
            } else {
                by_.swap(by_before_);
                wrong_.swap(wrong_before_);
                damping *= 6;
            }
        }
        return x;
    }

    // Level after level; what levels before have reached is held.
    Vector attempt(Vector x) {
        int level = -1, last = -1;
        for (const Goal& goal : request_.goals)
            last = std::max(last, goal.level);
        std::fill(reached_.begin(), reached_.end(), glm::dvec3(0.0));
        while (level < last) {
            int next = last;
            for (const Goal& goal : request_.goals)
                if (goal.level > level) next = std::min(next, goal.level);
            hold_levels(x, level, next);
            x = descend(x);
            level = next;
        }
        return request_.goals.empty() ? reference_ : x;
    }
    void hold_levels(const Vector& x, int done, int now) {
        place(x);
        for (std::size_t g = 0; g < request_.goals.size(); ++g) {
            const Goal& goal = request_.goals[g];
            weights_[g] = goal.level > now    ? 0
                          : goal.level == now ? goal.weight
                                              : held * goal.weight;
            if (goal.level > done) continue;
            reached_[g] = goal_rows(chain_, places_, goal, by_.data(), unknowns_).wrong;
        }
    }

    // Misses over what is let pass, levels apart by far.
    double rank(const Vector& x) {
        place(x);
        double sum = 0;
        for (const Goal& goal : request_.goals) {
            const double share = miss_of(chain_, places_, goal) / tolerance_of(goal.kind);
            sum += share * share * std::pow(1e-4, std::min(goal.level, 8));
        }
        return sum;
    }
    bool met_up_to(const Vector& x, int level) {
        place(x);
        return std::all_of(request_.goals.begin(), request_.goals.end(), [&](const Goal& goal) {
            return goal.level > level || miss_of(chain_, places_, goal) <= tolerance_of(goal.kind);
        });
    }
    bool first_met(const Vector& x) { return met_up_to(x, 0); }
    bool all_met(const Vector& x) { return met_up_to(x, std::numeric_limits<int>::max()); }

    // What cannot be met is missed by as little as can be.
    Vector settled(const Vector& x, double cost) {
        enough_ = enough_settled;
        const Vector finer = attempt(x);
        return rank(finer) < cost ? finer : x;
    }

    // Spread evenly over the ranges, of which those that go round are cut short.
    Vector fresh_start(int index) const {
        Vector x = reference_;
        constexpr int bases[] = {2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37};
        for (int i = 0; i < axes_; ++i) {
            const double least = std::max(bounds_.least[i], -round_turn),
                         most = std::min(bounds_.most[i], round_turn);
            if (!(most > least)) continue;
            const int turn = i / 12;
            const double share = radical_inverse(index + 17 * turn, bases[i % 12]);
            x[i] = least + share * (most - least);
        }
        return clamped(x);
    }

    Solved outcome(const Vector& x, int attempts) {
        Solved solved;
        place(x);
        solved.state = state_;
        for (const Goal& goal : request_.goals) {
            const double miss = miss_of(chain_, places_, goal);
            solved.goals.push_back({miss, miss <= tolerance_of(goal.kind)});
        }
        solved.attempts = attempts;
        solved.steps = steps_;
        return solved;
    }

    const Chain& chain_;
    const SolveRequest& request_;
    int axes_ = 0, unknowns_ = 0, steps_ = 0;
    double enough_ = enough_gained;
    Bounds bounds_;
    Vector reference_, wrong_;
    Vector wrong_before_;
    Matrix by_, by_before_, scaled_;
    std::vector<double> weights_;
    std::vector<glm::dvec3> reached_; // what earlier levels could not mend, by goal
    ChainState state_;
    ChainPlaces places_;
};

} // namespace

bool Solved::all_met() const {
    return std::all_of(goals.begin(), goals.end(),
                       [](const GoalOutcome& goal) { return goal.met; });
}

Solved solve(const Chain& chain, const SolveRequest& request) {
    STANDPOINT_CHECK(request.from.angles.size() == chain.axes.size());
    STANDPOINT_CHECK(request.locked.empty() || request.locked.size() == chain.axes.size());
    for (const Goal& goal : request.goals)
        STANDPOINT_CHECK(is_sound(chain, goal));
    return Solver(chain, request).run();
}

} // namespace standpoint
