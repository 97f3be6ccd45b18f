// Drawing only what changed of the window gives what drawing all of it gives.
#include <algorithm>
#include <fstream>

#include <backends/imgui_impl_opengl3.h>
#include <doctest/doctest.h>
#include <epoxy/gl.h>
#include <imgui.h>

#include "drawn.h"
#include "drawn_window.h"
#include "scene/json.h"
#include "support/random.h"
#include "support/scenes.h"
#include "support/temporary_folder.h"
#include "window/actions.h"
#include "window/answers.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

constexpr glm::ivec2 window_size{1000, 640};

// The window drawn twice: kept from frame to frame, and whole each time.
struct TwoWindows : DrawnWindow {
    TwoWindows() : DrawnWindow(window_size) {}

    // False: nothing was drawn.
    bool draw_kept(const glm::ivec2& size = window_size) {
        return kept.draw(*ImGui::GetDrawData(), size, drawing.get());
    }
    int differing_pixels() {
        kept.show(page.page());
        const Pixels some = pixels_of_texture(page.colour());
        glBindFramebuffer(GL_FRAMEBUFFER, page.page());
        glViewport(0, 0, window_size.x, window_size.y);
        glDisable(GL_SCISSOR_TEST);
        glClearColor(0, 0, 0, 0);
        glClear(GL_COLOR_BUFFER_BIT);
        ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
        const Pixels whole = pixels_of_texture(page.colour());
        REQUIRE(glGetError() == GL_NO_ERROR);
        int differing = 0;
        for (std::size_t i = 0; i < whole.at_all.size(); ++i)
            differing += some.at_all[i] == whole.at_all[i] ? 0 : 1;
        return differing;
    }
};

void open_crates(TwoWindows& windows, const TemporaryFolder& folder) {
    Document document = with_piece(bare_scene(), box_piece("crate", 600, 2600, 0, 500, 500, 400));
    document = with_piece(document, box_piece("barrel", 2100, 2900, 0, 400, 400, 900));
    const std::string file = folder.path() + "/small.scene.json";
    std::ofstream(file) << write_document(document);
    open_file(windows.hand.shell, file);
    REQUIRE(windows.hand.shell.desk);
}

double pixels_in(const std::vector<ScreenArea>& areas) {
    double sum = 0;
    for (const ScreenArea& area : areas)
        sum += static_cast<double>(area.high.x - area.low.x) * (area.high.y - area.low.y);
    return sum;
}

} // namespace

TEST_CASE("the kept window is the whole one to the bit, whatever the pointer does") {
    const TemporaryFolder folder;
    TwoWindows windows;
    open_crates(windows, folder);
    Hand& hand = windows.hand;
    ImGuiIO& io = ImGui::GetIO();
    Random random(7);
    for (int i = 0; i < 60; ++i) {
        CAPTURE(i);
        const auto at = [&](float most) { return static_cast<float>(random.uniform(0, 1)) * most; };
        io.MousePos = {at(window_size.x), at(window_size.y)};
        const int button = i % 9 == 0 ? 1 : 0;
        io.MouseDown[button] = i % 3 != 2;
        if (i % 3 == 2) io.MouseDown[0] = io.MouseDown[1] = false;
        io.MouseWheel = i % 7 == 0 ? 1.0f : 0.0f;
        hand.frame();
        windows.draw_kept();
        REQUIRE(windows.differing_pixels() == 0);
    }
}

TEST_CASE("a frame in which nothing changes draws nothing; one view's turn draws that view") {
    const TemporaryFolder folder;
    TwoWindows windows;
    open_crates(windows, folder);
    Hand& hand = windows.hand;
    hand.frame(3);
    CHECK(windows.draw_kept());
    windows.settle();
    windows.draw_kept();
    hand.frame();
    CHECK_FALSE(windows.draw_kept());
    CHECK(windows.differing_pixels() == 0);
    windows.kept.forget();
    CHECK(windows.draw_kept());

    const View& round = hand.shell.views[3];
    REQUIRE(round.camera.kind == ViewKind::round);
    hand.move_to((round.low + round.high) * 0.5f);
    hand.press(1);
    hand.move_to((round.low + round.high) * 0.5f + glm::vec2(10, 0));
    windows.draw_kept();
    hand.move_to((round.low + round.high) * 0.5f + glm::vec2(30, 5));
    CHECK(windows.draw_kept());
    const glm::vec2 size = round.high - round.low;
    CHECK(pixels_in(windows.kept.drawn_areas()) > 0.9 * size.x * size.y);
    CHECK(pixels_in(windows.kept.drawn_areas()) < 1.3 * size.x * size.y);
    hand.let_go(1);
}

TEST_CASE("with fonts made anew the window looks as before") {
    TwoWindows windows;
    const TemporaryFolder folder;
    open_crates(windows, folder);
    windows.settle();
    const Pixels before = windows.picture();
    for (int i = 0; i < 2; ++i) {
        add_fonts(1);
        windows.kept.fonts_changed();
        windows.hand.frame();
        CHECK(windows.picture().at_all == before.at_all);
    }
}

TEST_CASE("a window without room is not drawn, and one that gets room is") {
    const TemporaryFolder folder;
    TwoWindows windows;
    open_crates(windows, folder);
    windows.hand.frame(2);
    CHECK_FALSE(windows.draw_kept({0, 0}));
    CHECK_FALSE(windows.draw_kept({0, 300}));
    CHECK(windows.draw_kept({1, 1}));
    CHECK(windows.draw_kept());
    CHECK(windows.differing_pixels() == 0);
}

TEST_CASE("areas that differ are told, none overlaps another, and a new order is a new window") {
    const ScreenArea page{{0, 0}, {100, 100}};
    const DrawnCommand a{1, {{0, 0}, {10, 10}}}, b{2, {{50, 50}, {70, 60}}},
        c{3, {{60, 55}, {80, 90}}}, out{4, {{90, 90}, {200, 300}}};
    CHECK(changed_areas({a, b}, {a, b}, page).empty());
    CHECK(changed_areas({}, {}, page).empty());
    CHECK(changed_areas({a}, {a, b}, page) == std::vector{b.area});
    CHECK(changed_areas({a, b}, {a}, page) == std::vector{b.area});
    CHECK(changed_areas({b}, {c}, page) ==
          std::vector<ScreenArea>{{{50, 50}, {80, 90}}}); // both, as one
    CHECK(changed_areas({a}, {a, out}, page) == std::vector<ScreenArea>{{{90, 90}, {100, 100}}});
    CHECK(changed_areas({a, b}, {b, a}, page) == std::vector{page});
    CHECK(changed_areas({a, a}, {a}, page) == std::vector{a.area});
    Random random(3);
    for (int i = 0; i < 200; ++i) {
        Drawn now;
        for (int k = 0; k < 20; ++k) {
            const glm::ivec2 low(random.uniform(0, 90), random.uniform(0, 90));
            const glm::ivec2 size(random.uniform(1, 20), random.uniform(1, 20));
            now.push_back({static_cast<std::uint64_t>(100 + k), {low, low + size}});
        }
        const std::vector<ScreenArea> areas = changed_areas({}, now, page);
        CHECK(areas.size() <= 8);
        CHECK(pixels_in(areas) <= 100 * 100); // so none overlaps another
        for (const DrawnCommand& command : now)
            CHECK(std::any_of(areas.begin(), areas.end(), [&](const ScreenArea& area) {
                const glm::ivec2 high(std::min(command.area.high.x, 100),
                                      std::min(command.area.high.y, 100));
                return area.low.x <= command.area.low.x && area.low.y <= command.area.low.y &&
                       area.high.x >= high.x && area.high.y >= high.y;
            }));
    }
}
