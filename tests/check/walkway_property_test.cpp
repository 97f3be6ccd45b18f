// What must hold of every layout: turning, order, an independent answer from a fine grid.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <queue>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "check/staged_scene.h"
#include "check/walkway.h"
#include "support/random.h"

using namespace standpoint;
using support::Random;
using support::round_mesh;
using support::rules_of;
using support::StagedScene;

namespace {

constexpr double promised_mm = 0.01;

Walkway walk(const StagedScene& scene) {
    return check_walkway(scene.staging, rules_of({"ada-2010"}), 1, {}).value();
}

std::vector<glm::dvec2> turned_box(const glm::dvec2& centre, const glm::dvec2& half, double angle) {
    const glm::dvec2 u(std::cos(angle), std::sin(angle)), v(-u.y, u.x);
    return {centre - u * half.x - v * half.y, centre + u * half.x - v * half.y,
            centre + u * half.x + v * half.y, centre - u * half.x + v * half.y};
}

struct Layout {
    std::vector<glm::dvec2> path;
    double width = 2000;
    std::vector<std::vector<glm::dvec2>> outlines; // convex

    StagedScene scene() const {
        StagedScene made(path, width);
        for (std::size_t i = 0; i < outlines.size(); ++i)
            made.add("piece-" + std::to_string(i), support::prism(outlines[i], 0, 900));
        return made;
    }
};

Layout random_layout(std::uint64_t seed) {
    Random random(seed);
    Layout layout;
    layout.path = seed % 2 == 0 ? std::vector<glm::dvec2>{{0, 0}, {6000, 0}}
                                : std::vector<glm::dvec2>{{0, 0}, {4000, 0}, {4000, 4000}};
    const auto count = random.integer(2, 12);
    if (seed % 6 == 0) layout.outlines.push_back(turned_box({2500, 100}, {90, 1300}, 0.4));
    for (std::int64_t i = 0; i < count; ++i) {
        const double along = random.uniform(500, 3600);
        const bool second = layout.path.size() > 2 && i % 2 == 0;
        const double off = random.uniform(-1300, 1300);
        const glm::dvec2 centre = second ? glm::dvec2(4000 + off, along) : glm::dvec2(along, off);
        layout.outlines.push_back(turned_box(centre,
                                             {random.uniform(20, 450), random.uniform(20, 450)},
                                             random.uniform(0, std::numbers::pi)));
    }
    return layout;
}

double distance_to_polygon(const std::vector<glm::dvec2>& polygon, const glm::dvec2& p) {
    bool inside = true;
    double best = 1e18;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const glm::dvec2 a = polygon[i], b = polygon[(i + 1) % polygon.size()], run = b - a;
        if (run.x * (p.y - a.y) - run.y * (p.x - a.x) < 0) inside = false;
        const double t = std::clamp(glm::dot(p - a, run) / glm::dot(run, run), 0.0, 1.0);
        best = std::min(best, glm::distance(p, a + run * t));
    }
    return inside ? 0 : best;
}

// The slow twin: clearances on a fine grid of the floor, and the widest way over its cells. It
// knows nothing of outlines in plan, unions or the medial axis. Edge of the band: distance from a
// point inside it to the nearest point outside, by the path's legs and corners.
class GridTwin {
  public:
    GridTwin(const Layout& layout, double cell) : layout_(layout), cell_(cell) {
        low_ = {-2000, -2000};
        columns_ = static_cast<int>(10000 / cell);
        rows_ = static_cast<int>(8500 / cell);
    }

    double width() {
        std::vector<double> clear(static_cast<std::size_t>(columns_) * rows_, -1);
        std::vector<double> best(clear.size(), -1);
        using Entry = std::pair<double, std::size_t>;
        std::priority_queue<Entry> open;
        for (int i = 0; i < rows_; ++i)
            for (int j = 0; j < columns_; ++j) {
                const std::size_t at = static_cast<std::size_t>(i) * columns_ + j;
                clear[at] = clearance(place(i, j));
                if (before_start(place(i, j)) && clear[at] > 0) open.emplace(clear[at], at);
            }
        while (!open.empty()) {
            const auto [radius, at] = open.top();
            open.pop();
            if (best[at] >= 0) continue;
            best[at] = radius;
            const int i = static_cast<int>(at) / columns_, j = static_cast<int>(at) % columns_;
            if (past_end(place(i, j))) return 2 * radius;
            for (int di = -1; di <= 1; ++di)
                for (int dj = -1; dj <= 1; ++dj) {
                    const int ni = i + di, nj = j + dj;
                    if (ni < 0 || nj < 0 || ni >= rows_ || nj >= columns_) continue;
                    const std::size_t next = static_cast<std::size_t>(ni) * columns_ + nj;
                    if (best[next] < 0 && clear[next] > 0)
                        open.emplace(std::min(radius, clear[next]), next);
                }
        }
        return 0;
    }

  private:
    glm::dvec2 place(int i, int j) const { return low_ + glm::dvec2(j + 0.5, i + 0.5) * cell_; }
    bool before_start(const glm::dvec2& p) const { return p.x < -1200 && std::abs(p.y) < 50; }
    bool past_end(const glm::dvec2& p) const {
        return layout_.path.size() == 2 ? p.x > 7200 && std::abs(p.y) < 50
                                        : p.y > 5200 && std::abs(p.x - 4000) < 50;
    }

    // Distance to the edge of the band, its ends left open; 0 outside.
    double to_edge(const glm::dvec2& p) const {
        const double h = layout_.width / 2;
        if (layout_.path.size() == 2) return std::max(0.0, h - std::abs(p.y));
        // An L about the corner (4000, 0), its outer corner round about that point.
        const double x = p.x - 4000, y = p.y;
        const bool in_first = x <= 0 && std::abs(y) < h, in_second = y >= 0 && std::abs(x) < h;
        const bool in_corner = std::hypot(x, y) < h;
        if (!in_first && !in_second && !in_corner) return 0;
        double best = 1e18;
        const auto segment = [&](glm::dvec2 a, glm::dvec2 b) {
            best = std::min(best, distance_to_polygon({a, b}, {x, y}));
        };
        segment({-99999, -h}, {0, -h});
        segment({h, 0}, {h, 99999});
        segment({-99999, h}, {-h, h});
        segment({-h, h}, {-h, 99999});
        if (x >= 0 && y <= 0) best = std::min(best, h - std::hypot(x, y));
        return best;
    }

    double clearance(const glm::dvec2& p) const {
        double best = to_edge(p);
        for (const auto& outline : layout_.outlines)
            if (best > 0) best = std::min(best, distance_to_polygon(outline, p));
        return best;
    }

    const Layout& layout_;
    double cell_;
    glm::dvec2 low_;
    int columns_ = 0, rows_ = 0;
};

} // namespace

TEST_CASE("a fine grid of the floor agrees on random layouts") {
    constexpr double cell = 25;
    int open = 0, closed = 0;
    for (std::uint64_t seed = 1; seed <= 18; ++seed) {
        const Layout layout = random_layout(seed);
        const double exact = walk(layout.scene()).width;
        const double grid = std::min(GridTwin(layout, cell).width(), layout.width);
        CAPTURE(seed);
        CAPTURE(exact);
        CAPTURE(grid);
        // Cell centres lie within half a cell's diagonal of any way, which costs that much radius;
        // between neighbours the grid may cut a corner by no more.
        CHECK(std::abs(exact - grid) <= std::numbers::sqrt2 * cell + 0.1);
        ++(exact > 0 ? open : closed);
    }
    CHECK(open >= 8);
    CHECK(closed >= 1);
}

namespace {

double distance_between(const std::vector<glm::dvec2>& p, const std::vector<glm::dvec2>& q) {
    double best = 1e18;
    for (const glm::dvec2& corner : p)
        best = std::min(best, distance_to_polygon(q, corner));
    for (const glm::dvec2& corner : q)
        best = std::min(best, distance_to_polygon(p, corner));
    const auto cross = [](const glm::dvec2& a, const glm::dvec2& b) {
        return a.x * b.y - a.y * b.x;
    };
    for (std::size_t i = 0; i < p.size(); ++i)
        for (std::size_t j = 0; j < q.size(); ++j) {
            const glm::dvec2 a = p[i], u = p[(i + 1) % p.size()] - a;
            const glm::dvec2 b = q[j], v = q[(j + 1) % q.size()] - b;
            const double s = cross(b - a, v) / cross(u, v), t = cross(b - a, u) / cross(u, v);
            if (s >= 0 && s <= 1 && t >= 0 && t <= 1) return 0;
        }
    return best;
}

// The widest disc that passes a straight corridor, from the other side: it is stopped by a chain of
// pieces from wall to wall whose gaps are all narrower, so it is the least over all chains of the
// widest gap in the chain. Exact, and without a route.
double width_by_chains(const Layout& layout) {
    const double half = layout.width / 2;
    std::vector<std::vector<glm::dvec2>> nodes = layout.outlines;
    nodes.push_back({{-9e4, half}, {9e4, half}, {9e4, 2 * half}, {-9e4, 2 * half}});
    nodes.push_back({{-9e4, -2 * half}, {9e4, -2 * half}, {9e4, -half}, {-9e4, -half}});
    const std::size_t n = nodes.size();
    std::vector<std::vector<double>> gap(n, std::vector<double>(n, 0));
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < n; ++j)
            if (i != j) gap[i][j] = distance_between(nodes[i], nodes[j]);
    for (std::size_t k = 0; k < n; ++k)
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t j = 0; j < n; ++j)
                gap[i][j] = std::min(gap[i][j], std::max(gap[i][k], gap[k][j]));
    return gap[n - 2][n - 1];
}

} // namespace

TEST_CASE("the chains of gaps from wall to wall give the very same width") {
    int open = 0, closed = 0;
    for (std::uint64_t seed = 1; seed <= 96; ++seed) {
        Random random(seed * 77);
        Layout layout;
        layout.path = {{-2000, 0}, {8000, 0}};
        const auto count = random.integer(1, 14);
        for (std::int64_t i = 0; i < count; ++i)
            layout.outlines.push_back(
                turned_box({random.uniform(500, 5500), random.uniform(-1300, 1300)},
                           {random.uniform(5, 400), random.uniform(5, 400)},
                           random.uniform(0, std::numbers::pi)));
        if (seed % 8 == 0) { // two bars that close the way together
            layout.outlines.push_back(turned_box({3000, 600}, {60, 700}, 0.2));
            layout.outlines.push_back(turned_box({3050, -600}, {60, 700}, -0.1));
        }
        const double by_chains = width_by_chains(layout);
        StagedScene scene = layout.scene();
        scene.turn(random.uniform(0, 6.28), {random.uniform(-5e4, 5e4), 1e3});
        const double width = walk(scene).width;
        CAPTURE(seed);
        CAPTURE(by_chains);
        CAPTURE(width);
        CHECK(std::abs(width - by_chains) <= promised_mm);
        ++(by_chains > 0 ? open : closed);
    }
    CHECK(open >= 48);
    CHECK(closed >= 5);
}

TEST_CASE("turning and moving the whole layout changes nothing") {
    for (std::uint64_t seed = 1; seed <= 10; ++seed) {
        const Layout layout = random_layout(seed);
        const Walkway before = walk(layout.scene());
        for (const double angle : {0.3, 1.7, std::numbers::pi / 2, 4.44}) {
            StagedScene turned = layout.scene();
            turned.turn(angle, {1234.567, -987.654});
            const Walkway after = walk(turned);
            CAPTURE(seed);
            CAPTURE(angle);
            CHECK(std::abs(before.width - after.width) <= promised_mm);
            CHECK(before.narrowest->left == after.narrowest->left);
            CHECK(before.narrowest->right == after.narrowest->right);
            REQUIRE(before.widths.size() == after.widths.size());
            for (std::size_t i = 0; i < before.widths.size(); ++i) {
                CHECK(std::abs(before.widths[i].width - after.widths[i].width) <= promised_mm);
            }
            REQUIRE(before.findings.size() == after.findings.size());
            for (std::size_t i = 0; i < before.findings.size(); ++i)
                CHECK(before.findings[i].pieces == after.findings[i].pieces);
        }
    }
}

TEST_CASE("the order of pieces does not matter") {
    for (std::uint64_t seed = 1; seed <= 10; ++seed) {
        const StagedScene scene = random_layout(seed).scene();
        StagedScene reversed = scene;
        std::reverse(reversed.staging.pieces.begin(), reversed.staging.pieces.end());
        const Walkway one = walk(scene), two = walk(reversed);
        CHECK(std::abs(one.width - two.width) <= promised_mm);
        for (std::size_t i = 0; i < one.widths.size(); ++i)
            CHECK(std::abs(one.widths[i].width - two.widths[i].width) <= promised_mm);
    }
}

TEST_CASE("taking a piece away never narrows the way") {
    for (std::uint64_t seed = 1; seed <= 10; ++seed) {
        Layout layout = random_layout(seed);
        double width = walk(layout.scene()).width;
        while (!layout.outlines.empty()) {
            layout.outlines.pop_back();
            const double wider = walk(layout.scene()).width;
            CHECK(wider >= width - promised_mm);
            width = wider;
        }
        CHECK(std::abs(width - layout.width) <= promised_mm);
    }
}

TEST_CASE("the least width over all stations is never under the width of the path") {
    for (std::uint64_t seed = 1; seed <= 24; ++seed) {
        const Walkway walkway = walk(random_layout(seed).scene());
        REQUIRE(walkway.narrowest);
        CHECK(walkway.narrowest->width == walkway.width);
        for (const WidthAt& width : walkway.widths)
            CHECK(width.width >= walkway.width - promised_mm);
    }
}

TEST_CASE("hostile shapes: slivers, needles, points, pieces inside one another, the same twice") {
    StagedScene scene({{0, 0}, {6000, 0}}, 2000);
    Mesh rubble;
    rubble.positions = {{1000, 900, 100},  {1000, 900, 100},      {1000, 900, 100},
                        {2000, 1000, 0},   {2000, 400, 900},      {2000.0000001, 700, 450},
                        {2500, 950, 500},  {2500, 600, 500},      {2500, 700, 500},
                        {3000, 1000, 300}, {3000.0004, 500, 300}, {3000, 750, 300.0001}};
    rubble.triangles = {{0, 1, 2}, {3, 4, 5}, {6, 7, 8}, {9, 10, 11}, {0, 0, 0}, {3, 3, 4}};
    scene.add("rubble", rubble);
    for (const char* id : {"twin-a", "twin-b"})
        scene.add(id, support::box_mesh({4000, -1000, 0}, {4500, -300, 900}));
    scene.add("inner", support::box_mesh({4100, -900, 0}, {4200, -400, 900}));
    scene.add("touching", support::box_mesh({4500, -1000, 0}, {4700, -300, 900}));
    scene.add("across", support::box_mesh({3900, -600, 0}, {4800, -350, 900}));
    const Walkway walkway = walk(scene);
    // From the needle's end at (3000, 500) to the corner of what lies across at (3900, -350).
    CHECK(std::abs(walkway.width - std::hypot(900, 850)) <= promised_mm);
    CHECK(walkway.narrowest->left == "rubble");
    CHECK(walkway.narrowest->right == "across");
    const auto by_needle =
        std::find_if(walkway.widths.begin(), walkway.widths.end(),
                     [](const WidthAt& w) { return std::abs(w.distance - 2000) < 1; });
    REQUIRE(by_needle != walkway.widths.end());
    CHECK(std::abs(by_needle->width - 1400) <= promised_mm);
    CHECK(by_needle->left == "rubble");
}

TEST_CASE("a body of many facets seen at every height is cut and seen as one outline") {
    // A ball that stands on the floor: its widest is its outline, whatever its facets.
    StagedScene scene({{0, 0}, {6000, 0}}, 2000);
    Mesh ball;
    constexpr int rings = 24, sides = 48;
    for (int i = 0; i <= rings; ++i)
        for (int j = 0; j < sides; ++j) {
            const double up = std::numbers::pi * i / rings,
                         round = 2 * std::numbers::pi * j / sides;
            ball.positions.emplace_back(3000 + 400 * std::sin(up) * std::cos(round),
                                        -600 + 400 * std::sin(up) * std::sin(round),
                                        400 - 400 * std::cos(up));
        }
    for (int i = 0; i < rings; ++i)
        for (int j = 0; j < sides; ++j) {
            const auto at = [&](int ring, int side) {
                return static_cast<std::uint32_t>(ring * sides + side % sides);
            };
            ball.triangles.emplace_back(at(i, j), at(i + 1, j + 1), at(i, j + 1));
            ball.triangles.emplace_back(at(i, j), at(i + 1, j), at(i + 1, j + 1));
        }
    scene.add("ball", ball);
    CHECK(std::abs(walk(scene).width - (1000 + 200)) <= promised_mm);
}

TEST_CASE("a path without length or width gives no numbers and no findings") {
    for (const StagedScene& scene :
         {StagedScene({{0, 0}, {0, 0}}, 2000), StagedScene({{0, 0}, {5000, 0}}, 0)}) {
        const Walkway walkway = walk(scene);
        CHECK(walkway.widths.empty());
        CHECK(walkway.findings.empty());
    }
}

TEST_CASE("a path that spans more than plan geometry holds is refused by name") {
    const StagedScene scene({{0, 0}, {2e6, 0}}, 2000);
    const auto result = check_walkway(scene.staging, rules_of({}), 1, {});
    REQUIRE(!result.ok());
    CHECK(result.error().where == "/path/points");
}
