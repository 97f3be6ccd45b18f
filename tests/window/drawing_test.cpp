// Pictures of boxes, compared with what can be worked out by hand.
#include <chrono>
#include <cmath>
#include <thread>

#include <doctest/doctest.h>
#include <epoxy/gl.h>

#include "drawn.h"

using namespace standpoint;

namespace {

const glm::vec3 red{0.6f, 0.02f, 0.02f}, blue{0.02f, 0.02f, 0.6f}, grey{0.4f, 0.4f, 0.4f};

std::unique_ptr<SceneDrawing> drawing_here() {
    auto made = SceneDrawing::create();
    REQUIRE(made.ok());
    return std::move(*made);
}

double light_of(const Pixel& p) {
    return 0.2126 * p.r + 0.7152 * p.g + 0.0722 * p.b;
}

double linear(int channel) {
    return static_cast<double>(linear_of_srgb(static_cast<std::uint8_t>(channel)));
}

// Spread of brightness inside a rectangle, away from outlines.
double spread(const Pixels& pixels, const glm::ivec2& low, const glm::ivec2& high) {
    double least = 255, most = 0;
    for (int y = low.y; y < high.y; ++y)
        for (int x = low.x; x < high.x; ++x) {
            least = std::min(least, light_of(pixels.at(x, y)));
            most = std::max(most, light_of(pixels.at(x, y)));
        }
    return most - least;
}

// Triangles the GL took in while something was done.
template <class Do> unsigned primitives_of(Do act) {
    unsigned query = 0, count = 0;
    glGenQueries(1, &query);
    glBeginQuery(GL_PRIMITIVES_GENERATED, query);
    act();
    glEndQuery(GL_PRIMITIVES_GENERATED);
    glGetQueryObjectuiv(query, GL_QUERY_RESULT, &count);
    glDeleteQueries(1, &query);
    return count;
}

} // namespace

TEST_CASE("a box covers in plan, front and side the pixels worked out by hand, at each scale") {
    const Offscreen screen;
    const auto drawing = drawing_here();
    const auto staging = staging_of({drawn_box({100, -60, 0}, {400, 300, 200}, grey)});
    // Sides fall between pixels at these scales, so no pixel is covered in part.
    for (const double scale : {25.0, 10.0, 5.0, 2.0})
        for (const ViewKind kind : {ViewKind::plan, ViewKind::front, ViewKind::side}) {
            CAPTURE(scale);
            CAPTURE(static_cast<int>(kind));
            DrawRequest request = plan_of(staging, {320, 240}, scale);
            request.camera.kind = kind;
            request.camera.middle = {100, -60, 100};
            const Pixels pixels = settled(*drawing, 0, request);
            REQUIRE(pixels.size == glm::ivec2(320, 240));
            const double across = kind == ViewKind::side ? 150 : 200;
            const double up = kind == ViewKind::plan ? 150 : 100;
            int wrong = 0;
            for (int y = 0; y < 240; ++y)
                for (int x = 0; x < 320; ++x) {
                    const bool inside = std::abs((x + 0.5 - 160) * scale) < across &&
                                        std::abs((y + 0.5 - 120) * scale) < up;
                    wrong += pixels.at(x, y).a != (inside ? 255 : 0) ? 1 : 0;
                }
            CHECK(wrong == 0);
        }
}

TEST_CASE("a side between pixels covers its share of them") {
    const Offscreen screen;
    const auto drawing = drawing_here();
    const auto staging = staging_of({drawn_box({0, 0, 0}, {400, 300, 200}, grey)});
    const double scale = 7;
    const Pixels pixels = settled(*drawing, 0, plan_of(staging, {100, 80}, scale));
    double covered = 0;
    for (const Pixel& pixel : pixels.at_all)
        covered += pixel.a / 255.0;
    const double wanted = 400 / scale * 300 / scale, round = 2 * (400 + 300) / scale;
    // Eight samples a pixel: each side is wrong by an eighth of a pixel at most.
    CHECK(std::abs(covered - wanted) < round / 8);
}

TEST_CASE("what is nearer hides what is farther, in whatever order they are given") {
    const Offscreen screen;
    const auto drawing = drawing_here();
    const StagedPiece low = drawn_box({0, 0, 0}, {400, 400, 100}, red),
                      high = drawn_box({0, 0, 200}, {200, 200, 100}, blue);
    int slot = 0;
    for (const auto& pieces : {std::vector{low, high}, std::vector{high, low}}) {
        const Pixels plan = settled(*drawing, slot++, plan_of(staging_of(pieces), {80, 80}, 10));
        CHECK(plan.at(40, 40).b > plan.at(40, 40).r + 60);
        CHECK(plan.at(25, 40).r > plan.at(25, 40).b + 60);
        DrawRequest request = plan_of(staging_of(pieces), {80, 80}, 10);
        request.camera.kind = ViewKind::round;
        request.camera.above_deg = -5; // from below only the lower one shows in the middle
        request.camera.middle = {0, 0, 50};
        const Pixels round = settled(*drawing, slot++, request);
        CHECK(round.at(40, 40).r > round.at(40, 40).b + 30);
    }
}

TEST_CASE("a cut leaves out what lies above and hatches what it passes through") {
    const Offscreen screen;
    const auto drawing = drawing_here();
    const auto staging = staging_of({drawn_box({-300, 0, 0}, {200, 200, 1000}, grey),
                                     drawn_box({0, 0, 0}, {200, 200, 300}, grey),
                                     drawn_box({300, 0, 700}, {200, 200, 100}, grey)});
    DrawRequest request = plan_of(staging, {240, 80}, 4);
    const Pixels whole = settled(*drawing, 0, request);
    // Insides of the three boxes, off their outlines.
    const glm::ivec2 size(30, 30), cut{30, 25}, below{105, 25}, above{180, 25};
    CHECK(spread(whole, cut, cut + size) < 8);
    request.cut_height = 500;
    const Pixels pixels = settled(*drawing, 0, request);
    CHECK(spread(pixels, cut, cut + size) > 40); // a hatch
    CHECK(spread(pixels, below, below + size) < 8);
    CHECK(light_of(pixels.at(45, 40)) < light_of(whole.at(45, 40)));
    for (int x = above.x; x < above.x + size.x; ++x)
        CHECK(pixels.at(x, 40).a == 0);
    for (int x = 21; x < 69; ++x) // the section is filled from side to side
        CHECK(pixels.at(x, 40).a == 255);
    request.cut_height = 1001; // just above everything: nothing is cut
    CHECK(spread(settled(*drawing, 0, request), cut, cut + size) < 8);
}

TEST_CASE("a pane mixes with what lies behind it by the share it lets through") {
    const Offscreen screen;
    const auto drawing = drawing_here();
    const auto seen = [&](float lets_through) {
        std::vector<StagedPiece> pieces = {drawn_box({0, 0, 0}, {400, 400, 100}, blue)};
        if (lets_through < 1)
            pieces.push_back(drawn_box({0, 0, 200}, {200, 200, 10}, red, lets_through));
        return settled(*drawing, 0, plan_of(staging_of(pieces), {80, 80}, 10)).at(40, 40);
    };
    // A closed pane has two sides but only the one that is turned to the eye is drawn; its own
    // light follows from one picture and must give the others.
    const Pixel behind = seen(1), quarter = seen(0.25f);
    for (const float share : {0.5f, 0.75f}) {
        const Pixel pixel = seen(share);
        const auto wanted = [&](int own, int back) {
            return (linear(own) - 0.25 * linear(back)) / 0.75 * (1 - share) + share * linear(back);
        };
        CAPTURE(share);
        CHECK(std::abs(linear(pixel.r) - wanted(quarter.r, behind.r)) < 0.02);
        CHECK(std::abs(linear(pixel.b) - wanted(quarter.b, behind.b)) < 0.02);
        CHECK(pixel.r > behind.r);
        CHECK(pixel.r < quarter.r);
    }
}

TEST_CASE("the shadow falls on the side away from the lamp, and nowhere when it is off") {
    const Offscreen screen;
    const auto drawing = drawing_here();
    DrawRequest request =
        plan_of(staging_of({drawn_box({0, 0, 0}, {400, 400, 800}, grey)}), {200, 200}, 15);
    request.camera.kind = ViewKind::round;
    request.camera.above_deg = 80;
    const auto floor_at = [&](const Pixels& pixels, double x, double y) {
        const auto pixel = pixel_of(request.camera, request.size, {x, y, 0});
        REQUIRE(pixel);
        return light_of(pixels.at(static_cast<int>(pixel->x), static_cast<int>(pixel->y)));
    };
    // The lamp stands to the left and in front: -X, -Y.
    const Pixels lit = settled(*drawing, 0, request);
    CHECK(floor_at(lit, 400, 450) + 25 < floor_at(lit, -400, -450));
    CHECK(floor_at(lit, 400, 450) + 25 < floor_at(lit, -700, 450));
    request.shadows = false;
    const Pixels without = settled(*drawing, 0, request);
    CHECK(std::abs(floor_at(without, 400, 450) - floor_at(without, -400, -450)) < 8);
}

TEST_CASE("a picture that is asked for again draws nothing; one changed piece brings one mesh") {
    const Offscreen screen;
    const auto drawing = drawing_here();
    std::vector<StagedPiece> pieces;
    for (int i = 0; i < 5; ++i)
        pieces.push_back(drawn_box({i * 300.0, 0, 0}, {200, 200, 200}, grey));
    for (const ViewKind kind : {ViewKind::plan, ViewKind::round}) {
        DrawRequest request = plan_of(staging_of(pieces), {160, 120}, 20);
        request.camera.kind = kind;
        const Pixels first = settled(*drawing, 1, request);
        const unsigned texture = drawing->picture(1, request);
        const std::uint64_t edition = drawing->edition(texture);
        CHECK(primitives_of([&] { drawing->picture(1, request); }) == 0);
        CHECK_FALSE(drawing->facts().redrawn);
        CHECK_FALSE(drawing->unfinished());
        CHECK(drawing->edition(texture) == edition);
        // The same pieces elsewhere need no mesh.
        const std::size_t uploads = drawing->facts().uploads;
        pieces[2].placement.frame.origin.y += 100;
        pieces[2].box.low.y += 100;
        pieces[2].box.high.y += 100;
        request.staging = staging_of(pieces);
        CHECK(primitives_of([&] { drawing->picture(1, request); }) > 0);
        CHECK(drawing->facts().redrawn);
        CHECK(mean_difference(settled(*drawing, 1, request), first) > 0);
        CHECK(drawing->facts().uploads == uploads);
        pieces[3] = drawn_box({900, 0, 0}, {150, 250, 200}, red);
        request.staging = staging_of(pieces);
        settled(*drawing, 1, request);
        CHECK(drawing->facts().uploads == uploads + 1);
    }
}

TEST_CASE("a tint changes its piece alone and goes without a trace") {
    const Offscreen screen;
    const auto drawing = drawing_here();
    DrawRequest request = plan_of(staging_of({drawn_box({-300, 0, 0}, {200, 200, 200}, grey),
                                              drawn_box({300, 0, 0}, {200, 200, 200}, grey)}),
                                  {160, 80}, 10);
    const Pixels before = settled(*drawing, 0, request);
    request.tints = {{1, {1, 0, 0}, 0.8f, true}};
    const Pixels tinted = at_once(*drawing, 0, request);
    CHECK(tinted.at(110, 40).r > tinted.at(110, 40).b + 60);
    for (int y = 0; y < 80; ++y)
        for (int x = 0; x < 80; ++x)
            if (!(tinted.at(x, y) == before.at(x, y))) FAIL_CHECK("changed at " << x << ", " << y);
    request.tints.clear();
    CHECK(at_once(*drawing, 0, request).at_all == before.at_all);
}

TEST_CASE("a moving picture is like the fine one, and the fine one comes back to the bit") {
    const Offscreen screen;
    const auto drawing = drawing_here();
    std::vector<StagedPiece> pieces;
    for (int i = 0; i < 12; ++i)
        pieces.push_back(drawn_ball({i % 4 * 500.0, i / 4 * 500.0, 250}, 240, 70));
    DrawRequest request = plan_of(staging_of(pieces), {400, 300}, 6);
    request.camera.middle = {750, 500, 200};
    for (const ViewKind kind : {ViewKind::plan, ViewKind::front, ViewKind::round}) {
        CAPTURE(static_cast<int>(kind));
        request.camera.kind = kind;
        request.moving = true;
        const Pixels moving = at_once(*drawing, 0, request);
        request.moving = false;
        // Coarser meshes are made beside the drawing: until they are there a picture may differ.
        for (int i = 0; i < 3; ++i)
            settled(*drawing, 0, request);
        const Pixels fine = settled(*drawing, 0, request);
        CHECK(mean_difference(moving, fine) > 0);
        CHECK(mean_difference(moving, fine) < 14);
        CHECK(settled(*drawing, 0, request).at_all == fine.at_all);
    }
    std::vector<Pixels> twice;
    for (int i = 0; i < 2; ++i) {
        DrawRequest away = request;
        away.moving = true;
        away.camera.around_deg += 20;
        at_once(*drawing, 0, away);
        twice.push_back(settled(*drawing, 0, request));
    }
    CHECK(mean_difference(twice[0], twice[1]) == 0);
}

TEST_CASE("a piece that moves is drawn in part, and the picture is the whole one to the bit") {
    const Offscreen screen;
    const auto drawing = drawing_here();
    std::vector<StagedPiece> pieces;
    for (int i = 0; i < 9; ++i)
        pieces.push_back(
            drawn_box({i % 3 * 700.0, i / 3 * 700.0, 0}, {300, 300, 200.0 + 60 * i}, grey));
    pieces.push_back(drawn_box({700, 350, 0}, {500, 40, 900}, red, 0.5f)); // a pane in the way
    // What is learnt of the pane beside the drawing is waited for, without a still picture.
    DrawRequest first = plan_of(staging_of(pieces), {96, 72}, 33);
    first.moving = first.leading = true;
    for (int i = 0; i < 20; ++i) {
        at_once(*drawing, 15, first);
        std::this_thread::sleep_for(std::chrono::milliseconds(3));
    }
    int slot = 0, compared = 0;
    for (const ViewKind kind : {ViewKind::plan, ViewKind::front, ViewKind::round}) {
        CAPTURE(static_cast<int>(kind));
        DrawRequest request = plan_of(staging_of(pieces), {96, 72}, 33);
        request.camera.kind = kind;
        request.camera.middle = {700, 700, 200};
        request.moving = request.leading = true;
        const int moving_slot = slot++;
        int in_part = 0;
        for (int i = 0; i < 4; ++i) {
            CAPTURE(i);
            for (double* y :
                 {&pieces[4].placement.frame.origin.y, &pieces[4].box.low.y, &pieces[4].box.high.y})
                *y += i == 2 ? 0 : -90; // once not at all
            request.staging = staging_of(pieces);
            request.tints = {{4, {1, 0, 0}, 0.5f, true}};
            const Pixels some = at_once(*drawing, moving_slot, request);
            const SceneDrawing::Facts facts = drawing->facts();
            in_part += facts.in_part ? 1 : 0;
            const glm::vec4 changed =
                drawing->changed_since(drawing->picture(moving_slot, request),
                                       drawing->edition(drawing->picture(moving_slot, request)));
            CHECK(changed == glm::vec4(0.0f));
            const Pixels whole = at_once(*drawing, slot++, request);
            CHECK_FALSE(drawing->facts().in_part);
            // A machine that is busy with other things may draw one of the two smaller.
            if (drawing->facts().size != facts.size) continue;
            ++compared;
            CHECK(some.at_all == whole.at_all);
        }
        CHECK(in_part > 0);
    }
    CHECK(compared > 6);
}

TEST_CASE("any size, no piece at all, and thousands of them") {
    const Offscreen screen;
    const auto drawing = drawing_here();
    const auto boxes = staging_of({drawn_box({0, 0, 0}, {400, 400, 400}, grey)});
    const auto nothing = staging_of({});
    for (const ViewKind kind : {ViewKind::plan, ViewKind::front, ViewKind::round, ViewKind::eye})
        for (const glm::ivec2& size : {glm::ivec2(1, 1), glm::ivec2(1, 37), glm::ivec2(211, 97)})
            for (const auto& staging : {boxes, nothing}) {
                DrawRequest request = plan_of(staging, size, 10);
                request.camera.kind = kind;
                request.camera.eye = {0, -3000, 1500};
                const Pixels pixels = settled(*drawing, 3, request);
                CHECK(pixels.size == size);
                const bool flat = kind == ViewKind::plan || kind == ViewKind::front;
                if (staging == nothing || !flat) CHECK(pixels.at(0, 0).a == (flat ? 0 : 255));
            }
    DrawRequest large = plan_of(boxes, {4000, 3000}, 1);
    const Pixels pixels = at_once(*drawing, 3, large);
    CHECK(pixels.at(pixels.size.x / 2, pixels.size.y / 2).a == 255);
    for (int i = 0; i < 20; ++i)
        at_once(*drawing, 3, large);

    std::vector<StagedPiece> many;
    for (int i = 0; i < 2000; ++i)
        many.push_back(drawn_box({i % 50 * 100.0, i / 50 * 100.0, 0}, {60, 60, 60}, grey));
    DrawRequest request = plan_of(staging_of(many), {520, 420}, 10);
    request.camera.middle = {2450, 1950, 0};
    const Pixels crowd = settled(*drawing, 4, request);
    int covered = 0;
    for (const Pixel& pixel : crowd.at_all)
        covered += pixel.a == 255 ? 1 : 0;
    CHECK(covered == 2000 * 36);
}

TEST_CASE("a drawing that is let go leaves nothing, and another draws the same") {
    const Offscreen screen;
    DrawRequest request =
        plan_of(staging_of({drawn_box({0, 0, 0}, {400, 300, 200}, red)}), {90, 70}, 10);
    std::vector<Pixels> pictures;
    for (int i = 0; i < 2; ++i) {
        unsigned texture = 0;
        {
            const auto drawing = drawing_here();
            pictures.push_back(settled(*drawing, 0, request));
            texture = drawing->picture(0, request);
            CHECK(glIsTexture(texture));
        }
        CHECK_FALSE(glIsTexture(texture));
        CHECK(glGetError() == GL_NO_ERROR);
    }
    CHECK(pictures[0].at_all == pictures[1].at_all);
}

TEST_CASE("views take turns when time is short, and every one gets there") {
    const Offscreen screen;
    const auto drawing = drawing_here();
    std::vector<StagedPiece> pieces;
    for (int i = 0; i < 12; ++i)
        pieces.push_back(drawn_ball({i % 4 * 500.0, i / 4 * 500.0, 250}, 240, 90));
    DrawRequest request = plan_of(staging_of(pieces), {300, 200}, 9);
    request.moving = true;
    std::vector<std::uint64_t> editions(4, 0);
    for (int frame = 0; frame < 40; ++frame) {
        pieces[0].placement.frame.origin.x += 10;
        request.staging = staging_of(pieces);
        for (int slot = 0; slot < 4; ++slot) {
            request.leading = slot == 2;
            const unsigned texture = drawing->picture(slot, request);
            if (slot == 2) CHECK(drawing->facts().redrawn); // in every frame
            editions[static_cast<std::size_t>(slot)] = drawing->edition(texture);
        }
    }
    CHECK(editions[2] >= 40);
    for (const std::uint64_t edition : editions)
        CHECK(edition >= 3);
    request.moving = false;
    for (int round = 0; round < 20'000 && (round == 0 || drawing->unfinished()); ++round) {
        for (int slot = 0; slot < 4; ++slot)
            drawing->picture(slot, request);
        std::this_thread::sleep_for(std::chrono::microseconds(200));
    }
    CHECK_FALSE(drawing->unfinished());
}
