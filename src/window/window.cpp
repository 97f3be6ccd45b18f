// GLFW, OpenGL and the toolkit's loop round draw_frame.
#include "window/window.h"

#include <chrono>
#include <csignal>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <spawn.h>
#include <sys/wait.h>

#include <epoxy/gl.h>

#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>
#include <fmt/format.h>
#include <imgui.h>

#include "base/save.h"
#include "base/sink.h"
#include "desk/state_folders.h"
#include "picture/picture.h"
#include "window/answers.h"
#include "window/frame.h"
#include "window/gl_picture.h"
#include "window/gl_screen.h"
#include "window/key_queue.h"
#include "window/panels.h"

extern char** environ;

namespace standpoint {

namespace {

volatile std::sig_atomic_t asked_to_end = 0;

struct Glfw { // starts and ends the window library
    bool up = false;
    GLFWwindow* window = nullptr;
    ~Glfw() {
        if (window) glfwDestroyWindow(window);
        if (up) glfwTerminate();
    }
};

Status open_display(Glfw& glfw, const WindowArguments& arguments) {
    glfwSetErrorCallback([](int, const char*) {});
    if (!glfwInit())
        return io_error("window", "found no display, expected one; every other command works "
                                  "without (see standpoint --help)");
    glfw.up = true;
    glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
    glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
    glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
    glfw.window =
        glfwCreateWindow(arguments.width, arguments.height, "Standpoint", nullptr, nullptr);
    if (!glfw.window) return io_error("window", "found no OpenGL 3.3 on this display, expected it");
    glfwMakeContextCurrent(glfw.window);
    glfwSwapInterval(1);
    return Done{};
}

std::string time_now() {
    const std::time_t now = std::time(nullptr);
    std::tm parts{};
    localtime_r(&now, &parts);
    char text[32];
    std::strftime(text, sizeof text, "%Y-%m-%d %H:%M:%S", &parts);
    return text;
}

// The demo where the program is installed, or beside the sources it was built in.
std::string find_demo() {
    namespace fs = std::filesystem;
    std::error_code error;
    fs::path folder = fs::read_symlink("/proc/self/exe", error).parent_path();
    if (error) return "";
    const fs::path scene = "low-water.scene.json";
    for (; !folder.empty() && folder != folder.root_path(); folder = folder.parent_path()) {
        for (const fs::path& place : {folder / "share" / "standpoint" / "low-water" / scene,
                                      folder / "assets-demo" / scene})
            if (fs::exists(place, error)) return place.string();
    }
    return "";
}

void prepare(Shell& shell, const WindowArguments& arguments) {
    const Environment environment = process_environment();
    shell.settings_file = settings_path(environment);
    if (!shell.settings_file.empty()) {
        const SettingsRead read = read_settings(shell.settings_file);
        shell.settings = read.settings;
        if (!read.message.empty()) say_done(shell, read.message);
    }
    look_for_scenes(shell.settings);
    shell.demo_file = find_demo();
    const std::string state = state_folder(environment);
    if (!state.empty()) {
        const std::string folder = state + "/recovery";
        Result<RecoverySession> session = RecoverySession::open(folder);
        if (session.ok())
            shell.recovery = std::move(*session);
        else
            say_error(shell, session.error());
        Result<std::vector<Recovery>> left = recoveries(folder);
        if (left.ok()) shell.left_behind = std::move(*left);
    }
    shell.check = std::make_unique<BackgroundCheck>();
    shell.panels.shelf = std::make_unique<LibraryShelf>();
    shell.panels.upload = upload_picture;
    if (!arguments.scene.empty()) open_file(shell, arguments.scene);
}

struct Session { // what the window's callbacks reach
    Shell shell;
    KeyQueue keys;
    Screen screen;
    bool uncovered = false; // the window has to be shown again, though nothing in it changed
};

void drop_callback(GLFWwindow* window, int count, const char** paths) {
    auto* session = static_cast<Session*>(glfwGetWindowUserPointer(window));
    glm::dvec2 at(0);
    glfwGetCursorPos(window, &at.x, &at.y);
    for (int i = 0; i < count; ++i)
        drop_file(session->shell, paths[i], at);
}

void key_callback(GLFWwindow* window, int key, int scancode, int action, int mods) {
    static_cast<Session*>(glfwGetWindowUserPointer(window))
        ->keys.put({key, scancode, action, mods});
}

void refresh_callback(GLFWwindow* window) {
    static_cast<Session*>(glfwGetWindowUserPointer(window))->uncovered = true;
}

// Shows a file with whatever the machine shows it with; no shell is involved.
void open_outside(Shell& shell) {
    std::string file = std::exchange(shell.open_outside, "");
    if (file.empty()) return;
    char program[] = "xdg-open";
    char* arguments[] = {program, file.data(), nullptr};
    pid_t child = 0;
    if (posix_spawnp(&child, program, nullptr, nullptr, arguments, environ) != 0)
        say_done(shell, "There is no program to show it with; the file is " + file);
}

Result<Image> window_picture(int width, int height) {
    Image image;
    image.width = width;
    image.height = height;
    const auto row = static_cast<std::size_t>(width) * 4;
    std::vector<std::uint8_t> bottom_up(row * static_cast<std::size_t>(height));
    glReadPixels(0, 0, width, height, GL_RGBA, GL_UNSIGNED_BYTE, bottom_up.data());
    image.rgba.resize(bottom_up.size());
    for (std::size_t y = 0; y < static_cast<std::size_t>(height); ++y)
        std::copy_n(bottom_up.data() + y * row, row,
                    image.rgba.data() + (static_cast<std::size_t>(height) - 1 - y) * row);
    for (std::size_t i = 3; i < image.rgba.size(); i += 4)
        image.rgba[i] = 255;
    return image;
}

Status keep_picture(const std::string& file, int width, int height) {
    STANDPOINT_TRY(image, window_picture(width, height));
    StringSink png;
    STANDPOINT_TRY_STATUS(write_png(image, png));
    return save_file(file, png.bytes);
}

struct Toolkit { // the panels' toolkit and its two backends
    explicit Toolkit(GLFWwindow* window) {
        IMGUI_CHECKVERSION();
        ImGui::CreateContext();
        ImGui::GetIO().IniFilename = nullptr;
        ImGui_ImplGlfw_InitForOpenGL(window, true);
        ImGui_ImplOpenGL3_Init("#version 330 core");
    }
    ~Toolkit() {
        ImGui_ImplOpenGL3_Shutdown();
        ImGui_ImplGlfw_Shutdown();
        ImGui::DestroyContext();
    }
};

void restyle(Shell& shell, Screen& screen) {
    const float scale = static_cast<float>(shell.settings.text_scale) * shell.display_scale;
    apply_style(shell.settings.dark ? dark_palette() : light_palette(), scale);
    add_fonts(scale);
    screen.fonts_changed();
    shell.font_changed = false;
}

bool is_busy(const Shell& shell) {
    return (shell.drawing && shell.drawing->unfinished()) || shell.job ||
           (shell.check && shell.check->progress().running) || shell.pointer.drag != Drag::none ||
           (shell.desk && shell.panels.shelf && shell.panels.shelf->working());
}

// True when the picture that was asked for is taken and the window can close.
bool is_settled(const Shell& shell, int frames) {
    return frames > 12 && !is_busy(shell) &&
           (!shell.desk ||
            (shell.answers.full && shell.answers.full->revision == shell.desk->revision));
}

// The backend asks the keyboard how it is now; what counts is how it was at the events handed over.
void modifiers_as_queued() {
    ImGuiIO& io = ImGui::GetIO();
    const auto down = [&](int left, int right) { return io.KeysDown[left] || io.KeysDown[right]; };
    io.KeyCtrl = down(GLFW_KEY_LEFT_CONTROL, GLFW_KEY_RIGHT_CONTROL);
    io.KeyShift = down(GLFW_KEY_LEFT_SHIFT, GLFW_KEY_RIGHT_SHIFT);
    io.KeyAlt = down(GLFW_KEY_LEFT_ALT, GLFW_KEY_RIGHT_ALT);
}

// True when there is something new to show.
bool one_frame(Session& session, GLFWwindow* window, Tags& tags, Typing& typing) {
    Shell& shell = session.shell;
    if (shell.font_changed) {
        restyle(shell, session.screen);
    }
    ImGui_ImplOpenGL3_NewFrame();
    ImGui_ImplGlfw_NewFrame();
    modifiers_as_queued();
    ImGui::NewFrame();
    shell.clock = glfwGetTime();
    shell.now_text = time_now();
    const Ui ui = {shell.settings.dark ? &dark_palette() : &light_palette(), ImGui::GetFontSize(),
                   &tags, &typing};
    draw_frame(shell, ui);
    ImGui::Render();
    int width = 0, height = 0;
    glfwGetFramebufferSize(window, &width, &height);
    const bool drawn = session.screen.draw(*ImGui::GetDrawData(), {width, height}, shell.drawing);
    if (!std::exchange(session.uncovered, false) && !drawn) return false;
    session.screen.show(0);
    return true;
}

constexpr double pause_s = 0.004; // between frames that have nothing to show

constexpr int settling_frames = 4; // after an event: one panel learns of another a frame later
constexpr double nap_s = 0.25, longest_nap_s = 2; // a caret blinks; the clock and autosave go on

// Waits until there is something to draw: false when the wait ended and there was nothing.
bool wait_for_work(const Session& session, bool at_once, int& settling, double drawn) {
    if (at_once || is_busy(session.shell) || !session.keys.empty()) {
        settling = settling_frames;
        glfwPollEvents();
        return true;
    }
    if (settling > 0) {
        --settling;
        glfwPollEvents();
        return true;
    }
    const double before = glfwGetTime();
    glfwWaitEventsTimeout(nap_s);
    const double now = glfwGetTime();
    if (now - before < nap_s * 0.98) settling = settling_frames;
    // Work not saved aside yet waits for frames to be so.
    const double longest = session.shell.autosave.edits > 0 ? nap_s : longest_nap_s;
    return settling > 0 || ImGui::GetIO().WantTextInput || now - drawn > longest;
}

// The window's own title bar, once a frame of that scene is on the screen.
void show_title(const Shell& shell, GLFWwindow* window, std::string& shown) {
    const std::string title =
        shell.desk ? title_of(shell) + "  \xe2\x80\x93  Standpoint" : "Standpoint";
    if (title == shown) return;
    glfwSetWindowTitle(window, title.c_str());
    shown = title;
}

Status run_frames(Session& session, GLFWwindow* window, const WindowArguments& arguments) {
    Shell& shell = session.shell;
    Tags tags;
    Typing typing;
    std::string title;
    int settling = settling_frames;
    double drawn = 0;
    for (int frames = 0; !shell.quit; ++frames) {
        const bool worth_it =
            wait_for_work(session, !arguments.picture.empty(), settling, drawn);
        if (asked_to_end) break;
        if (!worth_it && !glfwWindowShouldClose(window)) continue;
        drawn = glfwGetTime();
        if (glfwWindowShouldClose(window)) {
            glfwSetWindowShouldClose(window, GLFW_FALSE);
            ask_then(shell, After::quit);
        }
        for (const KeyEvent& event : session.keys.take())
            ImGui_ImplGlfw_KeyCallback(window, event.key, event.scancode, event.action, event.mods);
        const bool shows = one_frame(session, window, tags, typing);
        int width = 0, height = 0;
        glfwGetFramebufferSize(window, &width, &height);
        if (!arguments.picture.empty() && is_settled(shell, frames)) {
            session.screen.show(0);
            return keep_picture(arguments.picture, width, height);
        }
        shows ? glfwSwapBuffers(window) : glfwWaitEventsTimeout(pause_s);
        show_title(shell, window, title);
        open_outside(shell);
    }
    return Done{};
}

} // namespace

Status run_window(const WindowArguments& arguments) {
    Glfw glfw;
    STANDPOINT_TRY_STATUS(open_display(glfw, arguments));
    const Toolkit toolkit(glfw.window);
    Session session;
    Shell& shell = session.shell;
    STANDPOINT_TRY(drawing, SceneDrawing::create());
    shell.drawing = drawing.get();
    float scale_x = 1, scale_y = 1;
    glfwGetWindowContentScale(glfw.window, &scale_x, &scale_y);
    shell.display_scale = std::max(1.0f, scale_x);
    glfwSetWindowUserPointer(glfw.window, &session);
    glfwSetKeyCallback(glfw.window, key_callback);
    glfwSetDropCallback(glfw.window, drop_callback);
    glfwSetWindowRefreshCallback(glfw.window, refresh_callback);
    std::signal(SIGTERM, [](int) { asked_to_end = 1; });
    std::signal(SIGINT, [](int) { asked_to_end = 1; });
    prepare(shell, arguments);
    restyle(shell, session.screen);
    if (!arguments.scene.empty() && !shell.desk) return input_error("", shell.message);
    const Status status = run_frames(session, glfw.window, arguments);
    if (!shell.settings_file.empty()) {
        const Status kept = write_settings(shell.settings_file, shell.settings);
        if (!kept.ok()) return kept.error();
    }
    // Ended from outside with work unsaved: what was saved aside stays and is offered next time.
    if (shell.recovery && asked_to_end && shell.desk && is_unsaved(*shell.desk)) {
        const Status aside = shell.recovery->write(shell.desk->history.now(), shell.desk->file,
                                                   shell.desk->revision, time_now());
        return aside.ok() ? status : aside;
    }
    if (shell.recovery) shell.recovery->leave();
    return status;
}

} // namespace standpoint
