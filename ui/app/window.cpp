#include "ui/app/window.hpp"

#include <imgui.h>
// GLFW includes OpenGL's own header.
#include <GLFW/glfw3.h>
#include <backends/imgui_impl_opengl3.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace crossarm::ui {
namespace {

std::string g_last_error; // GLFW reports through a function without context

bool is_set(const char* variable) {
    const char* const value = std::getenv(variable);
    return value != nullptr && *value != '\0';
}

model::Problem no_window(std::string what) {
    return {"display", std::move(what),
            "start it in an X11 session (also under Wayland with XWayland running) with OpenGL 3"};
}

} // namespace

struct Window::Inside {
    GLFWwindow* window = nullptr;
    WindowSettings settings;
    ImGuiContext* context = nullptr;
    Pacer pacer;
    Face* face = nullptr;
    const Face* sized = nullptr; // the face that was told the size last
    std::uint64_t frames = 0;
    Point pointer;
    bool down = false;
    bool resized = true;
    double zero_s = 0;

    [[nodiscard]] double now_s() const { return glfwGetTime() - zero_s; }

    ~Inside() {
        if (context != nullptr) {
            ImGui::SetCurrentContext(context);
            if (ImGui::GetIO().BackendRendererUserData != nullptr) {
                ImGui_ImplOpenGL3_Shutdown();
            }
            ImGui::DestroyContext(context);
        }
        if (window != nullptr) {
            glfwDestroyWindow(window);
        }
        glfwTerminate();
    }

    /// From now on this face is shown; one that is new here hears of the size first.
    void meet(Face& shown) {
        resized = resized || face != &shown;
        face = &shown;
        pacer.event();
    }

    void feed() {
        if (sized == face && face != nullptr) { // a face that has no letters yet feels nothing
            face->touch().feed({now_s(), pointer, down});
        }
        pacer.event();
    }

    /// Pixels of the frame buffer for one unit of the window system, which the pointer is told in.
    [[nodiscard]] float pointer_scale() const {
        int wide = 0;
        int pixels = 0;
        glfwGetWindowSize(window, &wide, nullptr);
        glfwGetFramebufferSize(window, &pixels, nullptr);
        return wide > 0 && pixels > 0 ? static_cast<float>(pixels) / static_cast<float>(wide) : 1.0F;
    }

    [[nodiscard]] GLFWmonitor* monitor() const {
        GLFWmonitor* const shown_on = glfwGetWindowMonitor(window);
        return shown_on != nullptr ? shown_on : glfwGetPrimaryMonitor();
    }

    [[nodiscard]] float px_per_mm() const {
        int width_mm = 0;
        int width_px = 0;
        if (GLFWmonitor* const screen = monitor()) {
            glfwGetMonitorPhysicalSize(screen, &width_mm, nullptr);
            if (const GLFWvidmode* const mode = glfwGetVideoMode(screen)) {
                width_px = static_cast<int>(std::lround(static_cast<float>(mode->width) * pointer_scale()));
            }
        }
        float scale = 1;
        glfwGetWindowContentScale(window, &scale, nullptr);
        return pixels_per_mm(settings.px_per_mm, width_px, width_mm, scale);
    }

    void resize() {
        int width = 0;
        int height = 0;
        glfwGetFramebufferSize(window, &width, &height);
        if (width <= 0 || height <= 0) {
            return;
        }
        resized = false;
        ImGui_ImplOpenGL3_DestroyFontsTexture();
        face->resized(width, height, px_per_mm());
        sized = face;
        ImGui_ImplOpenGL3_CreateFontsTexture();
        pacer.event();
    }

    /// The frame rendered last, into the buffer behind the one that is seen.
    void paint(int width, int height) const {
        glViewport(0, 0, width, height);
        glClearColor(1, 1, 1, 1);
        glClear(GL_COLOR_BUFFER_BIT);
        if (ImDrawData* const data = ImGui::GetDrawData()) {
            ImGui_ImplOpenGL3_RenderDrawData(data);
        }
    }

    void frame() {
        if (resized) {
            resize();
        }
        int width = 0;
        int height = 0;
        glfwGetFramebufferSize(window, &width, &height);
        if (width <= 0 || height <= 0 || resized) {
            pacer.drawn(/*moving=*/false, kNever);
            return;
        }
        ImGuiIO& io = ImGui::GetIO();
        io.DisplaySize = {static_cast<float>(width), static_cast<float>(height)};
        io.DeltaTime = 1.0F / 60; // nothing asks ImGui for time
        ImGui_ImplOpenGL3_NewFrame();
        ImGui::NewFrame();
        face->draw(now_s());
        ImGui::Render();
        paint(width, height);
        glfwSwapBuffers(window);
        ++frames;
        pacer.drawn(face->moving(), face->next_due_s());
    }

    void listen() {
        glfwSetWindowUserPointer(window, this);
        glfwSetCursorPosCallback(window, [](GLFWwindow* w, double x, double y) {
            Inside& in = of(w);
            const float scale = in.pointer_scale();
            in.pointer = {static_cast<float>(x) * scale, static_cast<float>(y) * scale};
            if (in.down) { // a pointer that merely passes over changes nothing
                in.feed();
            }
        });
        glfwSetMouseButtonCallback(window, [](GLFWwindow* w, int button, int action, int) {
            if (button != GLFW_MOUSE_BUTTON_LEFT) {
                return;
            }
            Inside& in = of(w);
            double x = 0;
            double y = 0;
            glfwGetCursorPos(w, &x, &y);
            const float scale = in.pointer_scale();
            in.pointer = {static_cast<float>(x) * scale, static_cast<float>(y) * scale};
            in.down = action == GLFW_PRESS;
            in.feed();
        });
        glfwSetFramebufferSizeCallback(window, [](GLFWwindow* w, int, int) {
            of(w).resized = true;
            of(w).pacer.event();
        });
        glfwSetWindowContentScaleCallback(window, [](GLFWwindow* w, float, float) {
            of(w).resized = true;
            of(w).pacer.event();
        });
        glfwSetWindowRefreshCallback(window, [](GLFWwindow* w) { of(w).pacer.event(); });
        glfwSetWindowFocusCallback(window, [](GLFWwindow* w, int focused) {
            Inside& in = of(w);
            // GLFW reports the button as released when the focus goes; that must not count as a tap.
            if (focused == GLFW_FALSE && in.face != nullptr && in.sized == in.face) {
                in.face->touch().drop_finger();
            }
            in.pacer.event();
        });
        glfwSetWindowIconifyCallback(
            window, [](GLFWwindow* w, int hidden) { of(w).pacer.hidden(hidden == GLFW_TRUE); });
    }

    static Inside& of(GLFWwindow* w) { return *static_cast<Inside*>(glfwGetWindowUserPointer(w)); }
};

Window::Window(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Window::~Window() = default;

model::Result<std::unique_ptr<Window>> Window::open(const WindowSettings& settings) {
    if (!is_set("DISPLAY")) {
        return no_window(is_set("WAYLAND_DISPLAY")
                             ? "this is a Wayland session without X; fingers would not be felt here"
                             : "there is no display");
    }
    glfwSetErrorCallback([](int, const char* text) { g_last_error = text; });
#if GLFW_VERSION_MAJOR > 3 || GLFW_VERSION_MINOR >= 4
    glfwInitHint(GLFW_PLATFORM, GLFW_PLATFORM_X11); // taps arrive there only
#endif
    if (glfwInit() == GLFW_FALSE) {
        return no_window("the display cannot be used: " + g_last_error);
    }
    auto inside = std::make_unique<Inside>();
    inside->settings = settings;
    glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
    glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 0);
    GLFWmonitor* screen = nullptr;
    int width = settings.width_px;
    int height = settings.height_px;
    if (settings.full_screen) {
        screen = glfwGetPrimaryMonitor();
        if (const GLFWvidmode* const mode = screen != nullptr ? glfwGetVideoMode(screen) : nullptr) {
            width = mode->width;
            height = mode->height;
        }
    }
    inside->window = glfwCreateWindow(width, height, settings.title.c_str(), screen, nullptr);
    if (inside->window == nullptr) {
        return no_window("no window could be opened: " + g_last_error);
    }
    glfwMakeContextCurrent(inside->window);
    glfwSwapInterval(1);
    inside->context = ImGui::CreateContext();
    ImGui::SetCurrentContext(inside->context);
    ImGui::GetIO().IniFilename = nullptr;
    ImGui::GetIO().LogFilename = nullptr;
    if (!ImGui_ImplOpenGL3_Init("#version 130")) {
        return no_window("OpenGL 3 is missing");
    }
    inside->zero_s = glfwGetTime();
    inside->listen();
    return std::unique_ptr<Window>(new Window(std::move(inside)));
}

void Window::run(Face& face) {
    Inside& in = *inside_;
    in.meet(face);
    for (;;) {
        const double wait = in.pacer.wait_s(in.now_s());
        if (wait <= 0) {
            glfwPollEvents();
        } else if (std::isinf(wait)) {
            glfwWaitEvents();
        } else {
            glfwWaitEventsTimeout(wait);
        }
        if (glfwWindowShouldClose(in.window) == GLFW_TRUE) {
            if (face.may_close()) {
                break;
            }
            glfwSetWindowShouldClose(in.window, GLFW_FALSE);
            in.pacer.event();
        }
        // Waiting may end early or for events that are not ours: the clock decides, not the return.
        if (in.pacer.due(in.now_s())) {
            in.frame();
        }
    }
}

void Window::settle(Face& face, int most_frames) {
    Inside& in = *inside_;
    in.meet(face);
    for (int i = 0; i < most_frames; ++i) {
        glfwPollEvents();
        in.frame();
        if (in.pacer.owed() == 0 && !face.moving()) {
            break;
        }
    }
}

Picture Window::read_pixels() const {
    Picture picture;
    glfwGetFramebufferSize(inside_->window, &picture.width, &picture.height);
    const auto width = static_cast<std::size_t>(picture.width);
    const auto height = static_cast<std::size_t>(picture.height);
    picture.rgba.resize(4 * width * height);
    // What the front holds after a swap is the driver's affair: paint the last frame behind it once more.
    inside_->paint(picture.width, picture.height);
    glReadBuffer(GL_BACK);
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadPixels(0, 0, picture.width, picture.height, GL_RGBA, GL_UNSIGNED_BYTE, picture.rgba.data());
    for (std::size_t y = 0; y < height / 2; ++y) { // OpenGL's rows run from the bottom
        std::swap_ranges(picture.rgba.begin() + static_cast<std::ptrdiff_t>(4 * width * y),
                         picture.rgba.begin() + static_cast<std::ptrdiff_t>(4 * width * (y + 1)),
                         picture.rgba.begin() + static_cast<std::ptrdiff_t>(4 * width * (height - 1 - y)));
    }
    for (std::size_t i = 3; i < picture.rgba.size(); i += 4) {
        picture.rgba[i] = 255;
    }
    return picture;
}

std::uint64_t Window::frames() const {
    return inside_->frames;
}

void Window::wake() {
    glfwPostEmptyEvent();
}

void Window::close() {
    glfwSetWindowShouldClose(inside_->window, GLFW_TRUE);
    wake();
}

} // namespace crossarm::ui
