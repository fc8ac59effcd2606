#include "app/window.h"

#include <SDL.h>
#include <imgui.h>
#include <backends/imgui_impl_opengl3.h>
#include <backends/imgui_impl_sdl.h>

#include <algorithm>
#include <chrono>
#include <cfloat>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <utility>

#include "app/desk.h"
#include "app/input_queue.h"
#include "app/keeper.h"
#include "app/report.h"
#include "view/gl.h"
#include "view/moving_things.h"

namespace linefall {

namespace {

using Clock = std::chrono::steady_clock;

double secondsSince(Clock::time_point start) { return std::chrono::duration<double>(Clock::now() - start).count(); }

int refuse(const std::string& words) {
    std::fprintf(stderr, "Linefall: %s\n", words.c_str());
    return 1;
}

/// SDL, a window and an OpenGL context; undone in the right order.
struct Screen {
    SDL_Window* window = nullptr;
    SDL_GLContext context = nullptr;
    bool interface_ready = false;

    ~Screen() {
        if (interface_ready) {
            ImGui_ImplOpenGL3_Shutdown();
            ImGui_ImplSDL2_Shutdown();
            ImGui::DestroyContext();
        }
        if (context != nullptr) SDL_GL_DeleteContext(context);
        if (window != nullptr) SDL_DestroyWindow(window);
        SDL_Quit();
    }
    /// What is wrong, or an empty text.
    std::string open(const WindowOptions& options) {
        if (SDL_Init(SDL_INIT_VIDEO) != 0) return std::string("no display could be opened (") + SDL_GetError() + "). Without a screen, use 'linefall form'.";
        const char *driver = SDL_GetCurrentVideoDriver(), *asked = SDL_getenv("SDL_VIDEODRIVER");
        const auto is = [](const char* name, const char* other) { return name != nullptr && std::strcmp(name, other) == 0; };
        // SDL falls back to a window that nobody sees; whoever asks for it by name measures frames without a screen.
        const bool unseen = is(driver, "offscreen") && is(asked, "offscreen");
        if (!unseen && (driver == nullptr || is(driver, "offscreen") || is(driver, "dummy"))) {
            return "no display was found: neither X11 nor Wayland answers. Without a screen, use 'linefall form', or start it under xvfb-run.";
        }
        SDL_GL_SetAttribute(SDL_GL_CONTEXT_PROFILE_MASK, SDL_GL_CONTEXT_PROFILE_CORE);
        SDL_GL_SetAttribute(SDL_GL_CONTEXT_MAJOR_VERSION, 3);
        SDL_GL_SetAttribute(SDL_GL_CONTEXT_MINOR_VERSION, 3);
        SDL_GL_SetAttribute(SDL_GL_DOUBLEBUFFER, 1);
        SDL_Rect room{0, 0, options.width, options.height};  // no larger than the screen
        const bool known = !unseen && SDL_GetDisplayUsableBounds(0, &room) == 0;
        const int width = known ? std::min(options.width, room.w) : options.width, height = known ? std::min(options.height, room.h) : options.height;
        window = SDL_CreateWindow("Linefall", SDL_WINDOWPOS_CENTERED, SDL_WINDOWPOS_CENTERED, width, height,
                                  SDL_WINDOW_OPENGL | SDL_WINDOW_RESIZABLE | SDL_WINDOW_ALLOW_HIGHDPI);
        if (window == nullptr) return std::string("no window with OpenGL could be opened: ") + SDL_GetError();
        SDL_SetWindowMinimumSize(window, 640, 400);
        context = SDL_GL_CreateContext(window);
        if (context == nullptr) return std::string("OpenGL 3.3 is needed and this display does not offer it: ") + SDL_GetError();
        SDL_GL_MakeCurrent(window, context);
        SDL_GL_SetSwapInterval(0);  // frames are capped here: a virtual screen never waits
        return loadGl([](const char* name) { return SDL_GL_GetProcAddress(name); });
    }
    void startInterface() {
        ImGui::CreateContext();
        ImGui::GetIO().IniFilename = nullptr;
        ImGui::GetIO().LogFilename = nullptr;
        ImGui_ImplSDL2_InitForOpenGL(window, context);
        ImGui_ImplOpenGL3_Init("#version 330 core");
        interface_ready = true;
    }
};

std::string shaderFolder() {
    const std::filesystem::path beside = std::filesystem::path(scenesFolder()).parent_path() / "shaders";
    if (std::filesystem::exists(beside)) return beside.string();
    return LINEFALL_SOURCE_DIR "/shaders";
}

class Window {
public:
    explicit Window(const WindowOptions& options) : options_(options), desk_(options.request), report_(options.report), start_(Clock::now()) {
        desk_.night = options.theme == "night";
        desk_.lecture = options.lecture;
        desk_.text_scale = static_cast<float>(std::clamp(options.text_scale, 0.8, 2.0));
        desk_.reduced_motion = options.reduced_motion;
    }

    int run() {
        if (const std::string wrong = screen_.open(options_); !wrong.empty()) {
            report_.error(secondsSince(start_), wrong);
            return refuse(wrong);
        }
        screen_.startInterface();
        try {
            desk_.world = std::make_unique<WorldView>(shaderFolder());
        } catch (const std::exception& error) {
            report_.error(secondsSince(start_), error.what());
            return refuse(error.what());
        }
        software_ = glIsSoftware();
        if (!software_) desk_.session.setFinestDrape(2048);
        desk_.keep.folder = options_.out;
        desk_.keep.left = last_state_.left();
        if (options_.restore && desk_.keep.left) {
            SceneRequest request;
            request.state = *desk_.keep.left;
            desk_.session.open(request);
            desk_.keep.forget_left = true;
            desk_.keep.left.reset();
        }
        report_.started(secondsSince(start_), glRenderer(), options_.width, options_.height);
        loop();
        report_.state(secondsSince(start_), "end", desk_, 0.0);
        desk_.world.reset();
        desk_.pictures.clear();
        return 0;
    }

private:
    void loop() {
        Clock::time_point before = Clock::now();
        while (!quit_) {
            const bool hidden = (SDL_GetWindowFlags(screen_.window) & (SDL_WINDOW_MINIMIZED | SDL_WINDOW_HIDDEN)) != 0;
            // Nothing moves: sleep until something happens. A few frames after each event let hover and focus settle.
            if (hidden) wait(500);
            else if (waitsForLand()) wait(8);
            else if (stands_) wait(400);
            else if (idle()) wait(settling_ > 0 ? 30 : 400);
            takeEvents();
            if (quit_) break;
            if (stands_ && desk_.frozen && !hidden) {  // the last page stands, whatever is done; only its size may be another
                present();
                tell();
                continue;
            }
            stands_ = false;
            if (hidden != hidden_ && first_frame_ && hidden) report_.state(secondsSince(start_), "hidden", desk_, 0.0);
            const bool shown = hidden_ && !hidden;
            hidden_ = hidden;
            const double seconds = secondsSince(before);
            before = Clock::now();
            if (waitsForLand() && !warm_) {
                desk_.world->warmUp();
                warm_ = true;
            }
            if (hidden || waitsForLand()) continue;
            frame(desk_.blank || desk_.frozen ? 0.0 : std::min(seconds, 0.1));
            if (shown) report_.state(secondsSince(start_), "shown", desk_, 0.0);
            stands_ = desk_.frozen;
            if (settling_ > 0) --settling_;
            const double used = secondsSince(before);
            constexpr double shortest = 1.0 / 60.0;
            if (used < shortest) SDL_Delay(static_cast<Uint32>(1000.0 * (shortest - used)));
        }
    }

    bool idle() {
        if (desk_.blank) return input_.empty();
        const bool refining = desk_.world && desk_.session.loaded() && !desk_.world->refined();
        return input_.empty() && !desk_.session.busy() && !desk_.study.busy() && !desk_.cause_places.busy() && !desk_.maps.busy() && !desk_.animating && !refining && !desk_.ui.typing();
    }

    /// The page stands still until the land is there, and drawing it again would take the processors from making the land.
    bool waitsForLand() { return first_frame_ && settling_ == 0 && input_.empty() && desk_.session.raising(); }

    void wait(int milliseconds) {
        SDL_Event event;
        if (input_.empty() && SDL_WaitEventTimeout(&event, milliseconds) != 0) input_.push(event);
    }

    void takeEvents() {
        SDL_Event event;
        while (SDL_PollEvent(&event) != 0) input_.push(event);
        input_.turn();
        while (const std::optional<SDL_Event> next = input_.next(desk_.ui.typing())) take(*next);
    }

    void take(const SDL_Event& event) {
        const bool deaf = desk_.frozen || desk_.blank;
        if (!deaf || event.type == SDL_WINDOWEVENT || event.type == SDL_KEYUP || event.type == SDL_MOUSEBUTTONUP) hear(event);
        if (desk_.blank && event.type == SDL_MOUSEBUTTONDOWN) desk_.blank = false;
        settling_ = 4;
        const bool acted = event.type == SDL_KEYDOWN || event.type == SDL_MOUSEBUTTONDOWN || event.type == SDL_MOUSEBUTTONUP || event.type == SDL_MOUSEWHEEL;
        if (acted) (acted_ > 0 ? acted_again_ : acted_) = told_after;
        if (event.type == SDL_DROPFILE) {
            openFile(desk_, event.drop.file);
            SDL_free(event.drop.file);
        }
        if (event.type == SDL_QUIT) quit_ = true;
        if (event.type == SDL_WINDOWEVENT && event.window.event == SDL_WINDOWEVENT_CLOSE) quit_ = true;
        if (event.type == SDL_KEYDOWN) key(event.key);
    }

    /// Hands an event to the interface as it was when it happened, not as the keys and the pointer are now.
    void hear(const SDL_Event& event) {
        ImGui_ImplSDL2_ProcessEvent(&event);
        ImGuiIO& io = ImGui::GetIO();
        if (event.type == SDL_KEYDOWN || event.type == SDL_KEYUP) {
            io.KeyShift = (event.key.keysym.mod & KMOD_SHIFT) != 0;
            io.KeyCtrl = (event.key.keysym.mod & KMOD_CTRL) != 0;
            io.KeyAlt = (event.key.keysym.mod & KMOD_ALT) != 0;
        }
        if (event.type == SDL_MOUSEMOTION) pointer_ = {static_cast<float>(event.motion.x), static_cast<float>(event.motion.y)};
        if (event.type == SDL_MOUSEBUTTONDOWN || event.type == SDL_MOUSEBUTTONUP) {
            pointer_ = {static_cast<float>(event.button.x), static_cast<float>(event.button.y)};
            const unsigned bit = SDL_BUTTON(event.button.button);
            buttons_ = event.type == SDL_MOUSEBUTTONDOWN ? buttons_ | bit : buttons_ & ~bit;
        }
    }

    void placePointer() {
        ImGuiIO& io = ImGui::GetIO();
        if (input_.empty()) {  // nothing waits: pointer warps reach no event, and a button let go elsewhere none either
            int x = 0, y = 0;
            buttons_ &= SDL_GetMouseState(&x, &y);
            pointer_ = {static_cast<float>(x), static_cast<float>(y)};
        }
        const bool here = SDL_GetKeyboardFocus() == screen_.window || SDL_GetMouseFocus() == screen_.window;
        io.MousePos = desk_.frozen || desk_.blank || !here ? ImVec2{-FLT_MAX, -FLT_MAX} : pointer_;
        io.MouseDown[0] = (buttons_ & SDL_BUTTON_LMASK) != 0;
        io.MouseDown[1] = (buttons_ & SDL_BUTTON_RMASK) != 0;
        io.MouseDown[2] = (buttons_ & SDL_BUTTON_MMASK) != 0;
    }

    void key(const SDL_KeyboardEvent& event) {
        if (desk_.ui.typing()) return;
        const bool control = (event.keysym.mod & (KMOD_CTRL | KMOD_GUI)) != 0;
        const bool shift = (event.keysym.mod & KMOD_SHIFT) != 0;
        if (desk_.blank) {  // any key comes back, and does nothing else
            if (event.repeat == 0) desk_.blank = false;
            return;
        }
        const KeyRow* row = rowOf(event.keysym.scancode, control, shift, desk_.lecture);
        if (desk_.frozen) {
            if (event.repeat == 0 && row != nullptr && (row->act == Act::freeze || row->act == Act::close)) desk_.frozen = false;
            return;
        }
        if (row != nullptr && (event.repeat == 0 || repeats(row->act))) act(desk_, row->act);
    }

    void rescale(int width, int height) {
        const float scale = scaleFor(desk_, static_cast<float>(width), static_cast<float>(height));
        if (!desk_.rescale && scale == desk_.ui.s && desk_.ui.fonts.body != nullptr && night_ == desk_.night) return;
        desk_.rescale = false;
        if (scale != desk_.ui.s || desk_.ui.fonts.body == nullptr) {
            desk_.ui.fonts = loadFonts(scale);
            ImGui_ImplOpenGL3_DestroyFontsTexture();
            ImGui_ImplOpenGL3_CreateFontsTexture();
            if (!desk_.ui.fonts.missing.empty()) desk_.notice = "Better type: install " + desk_.ui.fonts.missing + ".";
        }
        desk_.ui.s = scale;
        desk_.ui.p = palette(desk_.night);
        night_ = desk_.night;
        applyStyle(desk_.ui.p, scale);
    }

    /// The one turn of the loop.
    void frame(double seconds) {
        desk_.seconds = seconds;
        desk_.animating = false;
        desk_.session.follow(desk_.ui.dragging() && !desk_.causes.difference);
        // A difference is formed beside the image: both have half of the time.
        desk_.session.frame(seconds, desk_.causes.difference ? 0.5 * form_budget_ms_ : form_budget_ms_);
        desk_.study.frame(desk_.session, seconds, 0.5 * form_budget_ms_);
        desk_.cause_places.frame(desk_.session);
        desk_.maps.frame(desk_.session, seconds);
        takeScene();
        if (options_.rebuild_gl_every > 0 && desk_.session.loaded() && ++since_rebuilt_ >= options_.rebuild_gl_every) {
            since_rebuilt_ = 0;
            rebuildGl();
        }
        uploadPictures();
        uploadCauses(desk_);
        uploadWorld();

        int width = 0, height = 0;
        SDL_GetWindowSize(screen_.window, &width, &height);
        rescale(width, height);
        ImGui_ImplOpenGL3_NewFrame();
        ImGui_ImplSDL2_NewFrame();
        placePointer();
        ImGui::NewFrame();
        const Layout places = layoutOf(desk_, static_cast<float>(width), static_cast<float>(height));
        moveCamera(desk_);
        renderWorld(places);
        drawPage(desk_, places);
        ImGui::Render();
        present();
        count();
    }

    void present() {
        int pixels_w = 0, pixels_h = 0;
        SDL_GL_GetDrawableSize(screen_.window, &pixels_w, &pixels_h);
        glViewport(0, 0, pixels_w, pixels_h);
        const ImVec4 paper = ImGui::ColorConvertU32ToFloat4(desk_.ui.p.paper);
        glClearColor(paper.x, paper.y, paper.z, 1.0f);
        glClear(GL_COLOR_BUFFER_BIT);
        ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
        SDL_GL_SwapWindow(screen_.window);
    }

    /// Another scene flies: its land, and pictures of its own sizes.
    void takeScene() {
        if (desk_.session.generation() == generation_) return;
        generation_ = desk_.session.generation();
        desk_.world->setTerrain(desk_.session.scene().place->ground);
        takeGeneration(desk_);
        report_.state(secondsSince(start_), "loaded", desk_, 0.0);
    }

    /// As after the loss of all that OpenGL held: everything that the window drew with is destroyed and made again.
    void rebuildGl() {
        desk_.world->rebuild();
        for (std::size_t i = 0; i < desk_.pictures.size() && i < desk_.session.crafts().size(); ++i) {
            desk_.pictures[i] = std::make_unique<Picture>();
            desk_.picture_versions[i] = -1;
            desk_.session.crafts()[i]->fallAgain();
        }
        desk_.differences.clear();
        desk_.map_pictures.clear();
        ImGui_ImplOpenGL3_Shutdown();  // whole: it remembers sizes of buffers beyond their destruction
        ImGui_ImplOpenGL3_Init("#version 330 core");
        ImGui_ImplOpenGL3_CreateDeviceObjects();
        ++desk_.rebuilt;
    }

    void uploadPictures() {
        if (!desk_.session.loaded()) return;
        auto& crafts = desk_.session.crafts();
        while (desk_.pictures.size() < crafts.size()) {
            desk_.pictures.push_back(std::make_unique<Picture>());
            desk_.picture_versions.push_back(-1);
        }
        desk_.pictures.resize(crafts.size());
        desk_.picture_versions.resize(crafts.size());
        desk_.picture_views.resize(crafts.size());
        desk_.active = std::clamp(desk_.active, 0, static_cast<int>(crafts.size()) - 1);
        if (crafts.size() < 2) desk_.blink.end();
        for (std::size_t i = 0; i < crafts.size(); ++i) {
            Craft& craft = *crafts[i];
            if (desk_.picture_versions[i] != craft.version()) {
                desk_.pictures[i]->reset(craft.formation().samples(), craft.formation().lines());
                desk_.picture_versions[i] = craft.version();
            }
            for (const Fallen& line : craft.takeFallen()) desk_.pictures[i]->put(craft.formation().image(), craft.look(), line.line, line.height);
        }
    }

    static void dropFile(const std::string& path) {
        SDL_Event event{};
        event.type = SDL_DROPFILE;
        event.drop.file = SDL_strdup(path.c_str());
        SDL_PushEvent(&event);
    }

    void uploadWorld() {
        if (const std::optional<Drape> drape = desk_.session.takeDrape()) {
            desk_.world->setDrape(*drape);
            desk_.world->setSky(desk_.session.lightNow());
        }
        if (const std::optional<Mesh> objects = desk_.session.takeObjects()) desk_.world->setObjects(*objects);
        uploadMovers();
    }

    /// Things that move stand where they do at the clock's time.
    void uploadMovers() {
        const Session& session = desk_.session;
        movers_went_ = false;
        if (!session.loaded()) return;
        if (session.scene().place->ground->movers().empty()) {
            if (movers_) desk_.world->setMovers({});
            movers_.reset();
            return;
        }
        const double time_s = session.clock().time_s();
        if (!movers_ || movers_version_ != session.sceneVersion()) movers_.emplace(session.scene());
        else if (time_s == movers_time_s_) return;
        movers_version_ = session.sceneVersion();
        movers_went_ = true;
        movers_time_s_ = time_s;
        desk_.world->setMovers(movers_->at(time_s));
    }

    /// Forming gets what drawing leaves of a frame. With a graphics processor a frame is short. Without one it is 36 ms while
    /// lines fall, 58 ms while pictures are lit again, and 30 ms while a hand drags something that light depends on.
    [[nodiscard]] double formBudget_ms() const {
        bool settled = true;
        for (const auto& craft : desk_.session.crafts()) settled = settled && craft->settled();
        if (!software_) return std::clamp(15.0 - frame_ms_, 5.0, 12.0);
        if (settled) return std::clamp(36.0 - frame_ms_, 10.0, 26.0);
        return desk_.ui.dragging() ? std::clamp(30.0 - frame_ms_, 6.0, 20.0) : std::clamp(58.0 - frame_ms_, 14.0, 40.0);
    }

    void renderWorld(const Layout& places) {
        if (!desk_.session.loaded()) return;
        const float top = headingHeight(desk_.ui.s);
        const bool calm = desk_.view.still_s > 0.25 && !desk_.ui.dragging() && !movers_went_ && desk_.session.drapeSettled();
        desk_.world->render(desk_.view.camera, static_cast<int>(places.flight.w), static_cast<int>(places.flight.h - top), calm);
        form_budget_ms_ = formBudget_ms();
    }

    void count() {
        const double now = secondsSince(start_);
        frame_ms_ = 0.8 * frame_ms_ + 0.2 * std::min(40.0, 1000.0 * (now - last_frame_s_) - form_budget_ms_);
        last_frame_s_ = now;
        ++frames_;
        if (!first_frame_) report_.state(now, "first-frame", desk_, 0.0);
        first_frame_ = true;
        if (!first_line_ && desk_.session.loaded() && desk_.session.crafts().front()->shown() > 0) {
            first_line_ = true;
            if (!options_.drop.empty()) dropFile(options_.drop);
            report_.state(now, "first-line", desk_, 0.0);
        }
        tell();
    }

    /// Reports what was done, where the controls stand, and every second how things are.
    void tell() {
        const double now = secondsSince(start_);
        const bool settled = acted_ > 0 && --acted_ == 0;
        if (report_.on() && (settled || now - controls_s_ >= 0.1)) {
            report_.controls(now, desk_);
            controls_s_ = now;
        }
        if (settled) {
            acted_ = std::exchange(acted_again_, 0);
            report_.state(now, "acted", desk_, desk_.frames_per_s);
        }
        if (now - second_s_ >= 1.0) {
            desk_.frames_per_s = frames_ / (now - second_s_);
            report_.state(now, "second", desk_, desk_.frames_per_s);
            report_.words(now, desk_);
            second_s_ = now;
            keepState(now);
            frames_ = 0;
        }
    }

    /// Every few seconds, so that a killed session can be taken up again.
    void keepState(double now) {
        if (!desk_.session.loaded() || desk_.session.opening() || now - kept_s_ < 2.0) return;
        kept_s_ = now;
        last_state_.keep(stateText(sceneToKeep(desk_), ""));
        // What was left goes when it was refused, or once this session has written what it took from it.
        if (desk_.keep.forget_left) last_state_.forget();
        desk_.keep.forget_left = false;
    }

    WindowOptions options_;
    Screen screen_;
    Desk desk_;
    Report report_;
    LastState last_state_;
    Clock::time_point start_;
    double form_budget_ms_ = 12.0, frame_ms_ = 15.0, second_s_ = 0.0, last_frame_s_ = 0.0, controls_s_ = 0.0, kept_s_ = 0.0;
    InputQueue input_;
    static constexpr int told_after = 3;   // frames: the page has settled about what was done
    int acted_ = 0, acted_again_ = 0;      // frames until it is told
    ImVec2 pointer_{-FLT_MAX, -FLT_MAX};   // as the page has seen them so far
    unsigned buttons_ = 0;
    std::optional<MovingThings> movers_;
    int movers_version_ = 0;
    double movers_time_s_ = 0.0;
    bool movers_went_ = false;             // in this frame
    bool software_ = true;                 // OpenGL without a graphics processor
    int frames_ = 0, settling_ = 0, since_rebuilt_ = 0, generation_ = 0;
    bool quit_ = false, first_frame_ = false, first_line_ = false, night_ = false, warm_ = false, stands_ = false, hidden_ = false;
};

}  // namespace

int runWindow(const WindowOptions& options) { return Window(options).run(); }

}  // namespace linefall
