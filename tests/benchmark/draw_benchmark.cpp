// Times of the window's frames, drawn without a display: `standpoint_draw_benchmark [SCENE]`.
// A frame is everything from the pointer's move to the finished picture, but for showing it.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <functional>
#include <string>
#include <thread>
#include <vector>

#include <backends/imgui_impl_opengl3.h>
#include <epoxy/gl.h>
#include <imgui.h>

#include "window/actions.h"
#include "window/answers.h"
#include "window/frame.h"
#include "window/gl_screen.h"
#include "window/offscreen.h"

using namespace standpoint;

namespace {

using Clock = std::chrono::steady_clock;
constexpr int width = 1440, height = 900;

// Of all threads of the program, the drawing library's among them. On a machine that others use as
// well it tells more than the clock.
double cpu_ms() {
    return static_cast<double>(std::clock()) * 1000 / CLOCKS_PER_SEC;
}

double ms_since(Clock::time_point start) {
    return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

struct Times {
    std::vector<double> ms, cpu;
    void add(double time, double worked) {
        ms.push_back(time);
        cpu.push_back(worked);
    }
    static double at(std::vector<double> of, double share) {
        std::sort(of.begin(), of.end());
        return of[static_cast<std::size_t>(share * static_cast<double>(of.size() - 1) + 0.5)];
    }
    void print(const std::string& what) const {
        std::printf("| %-44s | %7.1f | %7.1f | %7.1f | %7.1f | %5zu |\n", what.c_str(), at(ms, 0.5),
                    at(ms, 0.95), at(ms, 1), at(cpu, 0.5), ms.size());
        std::fflush(stdout);
    }
};

// What a piece of work took, as one row.
struct Once {
    Clock::time_point start = Clock::now();
    double cpu = cpu_ms();
    void print(const std::string& what) const {
        Times once;
        once.add(ms_since(start), cpu_ms() - cpu);
        once.print(what);
    }
};

// The window's loop on a page of its own, the pointer put in.
class Bench {
  public:
    explicit Bench(bool checks) : screen_({width, height}) {
        ImGui::CreateContext();
        ImGuiIO& io = ImGui::GetIO();
        io.IniFilename = nullptr;
        io.DisplaySize = {width, height};
        io.DeltaTime = 1 / 60.0f;
        io.MousePos = {-1000, -1000};
        apply_style(light_palette(), 1);
        add_fonts(1);
        ImGui_ImplOpenGL3_Init("#version 330 core");
        const Once start;
        Result<std::unique_ptr<SceneDrawing>> made = SceneDrawing::create();
        STANDPOINT_CHECK(made.ok());
        drawing_ = std::move(*made);
        glFinish();
        start.print("shaders and buffers");
        shell.drawing = drawing_.get();
        if (checks) shell.check = std::make_unique<BackgroundCheck>();
    }
    ~Bench() {
        drawing_.reset();
        ImGui_ImplOpenGL3_Shutdown();
        ImGui::DestroyContext();
    }

    void frame(Times* times = nullptr) {
        const Once start;
        ImGui_ImplOpenGL3_NewFrame();
        ImGui::NewFrame();
        shell.clock += 1 / 60.0;
        const Ui ui = {&light_palette(), ImGui::GetFontSize(), &tags_, &typing_};
        draw_frame(shell, ui);
        ImGui::Render();
        panels.add(ms_since(start.start), cpu_ms() - start.cpu);
        if (kept_.draw(*ImGui::GetDrawData(), {width, height}, drawing_.get()))
            kept_.show(screen_.page());
        glFinish();
        if (times) times->add(ms_since(start.start), cpu_ms() - start.cpu);
    }
    void frames(const std::string& what, int count) {
        Times times;
        panels = {};
        for (int i = 0; i < count; ++i)
            frame(&times);
        times.print(what);
        panels.print("- before the toolkit draws");
    }

    // Frames until no picture gets better; their times, and the whole.
    void refine(const std::string& what) {
        const Once start;
        Times times;
        for (int quiet = 0; quiet < 3 && ms_since(start.start) < 60'000;) {
            frame(&times);
            quiet = drawing_->unfinished() ? 0 : quiet + 1;
        }
        times.print(what + ": frames until finished");
        start.print("- all of them");
    }

    glm::vec2 middle_of(int view) const {
        const View& v = shell.views[static_cast<std::size_t>(view)];
        return (v.low + v.high) * 0.5f;
    }
    int view_of(ViewKind kind) const {
        for (int i = 0; i < most_views; ++i)
            if (shell.views[static_cast<std::size_t>(i)].camera.kind == kind) return i;
        return 0;
    }
    // A drag in a slow circle.
    void drag(const std::string& what, const glm::vec2& from, int button, int count) {
        ImGuiIO& io = ImGui::GetIO();
        Times times;
        io.MousePos = {from.x, from.y};
        frame();
        io.MouseDown[button] = true;
        frame();
        panels = {};
        for (int i = 0; i < count; ++i) {
            const float turn = static_cast<float>(i) * 0.06f;
            io.MousePos = {from.x + 70 * std::sin(turn), from.y + 30 * (1 - std::cos(turn))};
            frame(&times);
        }
        io.MouseDown[button] = false;
        frame();
        times.print(what);
        panels.print("- before the toolkit draws");
    }

    Shell shell;
    Times panels; // all of a frame but the toolkit's own drawing

  private:
    Offscreen screen_;
    Screen kept_;
    std::unique_ptr<SceneDrawing> drawing_;
    Tags tags_;
    Typing typing_;
};

void print_scene(const Shell& shell) {
    std::size_t triangles = 0;
    for (const StagedPiece& piece : shell.desk->shown->pieces)
        triangles += piece.mesh->triangles.size();
    std::printf("\n%zu solids, %zu triangles, %d x %d, %s\n\n", shell.desk->shown->pieces.size(),
                triangles, width, height, reinterpret_cast<const char*>(glGetString(GL_RENDERER)));
    std::printf("| %-44s | %7s | %7s | %7s | %7s | %5s |\n|---|---|---|---|---|---|\n", "ms",
                "median", "p95", "worst", "cpu", "times");
}

// A piece that shows in a view, dragged there.
void measure_piece(Bench& bench, const std::string& views, int view, const std::string& id) {
    bench.shell.desk->selected.clear();
    const StagedPiece* piece = find_staged(*bench.shell.desk->shown, id);
    if (!piece) return;
    const View& v = bench.shell.views[static_cast<std::size_t>(view)];
    const Box box = piece->box;
    const auto pixel = pixel_of(v.camera, glm::ivec2(v.high - v.low),
                                {box.centre().x, box.centre().y, box.high.z});
    bench.drag(views + ": " + id + " dragged", v.low + glm::vec2(*pixel), 0, 150);
    act(bench.shell, Action::undo);
    bench.refine(views + ", piece put back");
}

void measure_views(Bench& bench, const std::string& views) {
    bench.refine(views);
    bench.frames(views + ": nothing changes", 200);
    bench.drag(views + ": round one turned", bench.middle_of(bench.view_of(ViewKind::round)), 1,
               150);
    bench.refine(views + ", let go");
}

enum class Which { all, first_frame, drags };

void measure(const std::string& file, bool checks, Which which) {
    Bench bench(checks);
    Shell& shell = bench.shell;
    bench.frame();
    bench.frame();
    const Once loading;
    open_file(shell, file);
    STANDPOINT_CHECK(shell.desk.has_value());
    loading.print("load");
    print_scene(shell);
    bench.frames("first frame after load, four views", 1);
    if (which == Which::first_frame) return;
    if (which == Which::all)
        measure_views(bench, "four views");
    else
        bench.refine("four views");
    measure_piece(bench, "four views", bench.view_of(ViewKind::plan), "suitcase");
    measure_piece(bench, "four views", bench.view_of(ViewKind::plan), "girl");
    shell.active_view = bench.view_of(ViewKind::round);
    act(shell, Action::one_view);
    if (which == Which::all) {
        bench.frames("one view: its first frame", 1);
        measure_views(bench, "one view");
    }
    act(shell, Action::plan);
    bench.refine("one plan");
    measure_piece(bench, "one plan", shell.active_view, "suitcase");
}

} // namespace

int main(int count, char** arguments) {
    std::string file = STANDPOINT_SOURCE_DIR "/assets-demo/low-water.scene.json";
    bool checks = false;
    Which which = Which::all;
    for (int i = 1; i < count; ++i) {
        const std::string word = arguments[i];
        checks = checks || word == "--checks"; // run behind, as in the window
        if (word == "--first") which = Which::first_frame;
        if (word == "--drags") which = Which::drags;
        if (!word.starts_with("--")) file = word;
    }
    measure(file, checks, which);
    return 0;
}
