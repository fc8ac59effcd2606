#include "app/window.h"

#include <SDL.h>
#include <imgui.h>
#include <backends/imgui_impl_opengl3.h>
#include <backends/imgui_impl_sdl.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <filesystem>

#include "app/desk.h"
#include "app/input.h"
#include "app/keeper.h"
#include "app/movers_shown.h"
#include "app/report.h"
#include "app/screen.h"
#include "view/gl.h"

namespace linefall {

namespace {

using Clock = std::chrono::steady_clock;

double secondsSince(Clock::time_point start) { return std::chrono::duration<double>(Clock::now() - start).count(); }

int refuse(const std::string& words) {
    std::fprintf(stderr, "Linefall: %s\n", words.c_str());
    return 1;
}

std::string shaderFolder() {
    const std::filesystem::path beside = std::filesystem::path(scenesFolder()).parent_path() / "shaders";
    if (std::filesystem::exists(beside)) return beside.string();
    return LINEFALL_SOURCE_DIR "/shaders";
}

/// As a hand would drop it.
void dropFile(const std::string& path) {
    SDL_Event event{};
    event.type = SDL_DROPFILE;
    event.drop.file = SDL_strdup(path.c_str());
    SDL_PushEvent(&event);
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
        while (!input_.quit()) {
            const bool hidden = screen_.hidden();
            // Nothing moves: sleep until something happens. A few frames after each event let hover and focus settle.
            if (hidden) input_.wait(500);
            else if (waitsForLand()) input_.wait(8);
            else if (stands_) input_.wait(400);
            else if (idle()) input_.wait(input_.settling() ? 30 : 400);
            input_.takeEvents();
            if (input_.quit()) break;
            if (stands_ && desk_.frozen && !hidden) {  // the last page stands, whatever is done; only its size may be another
                screen_.present(desk_.ui.p.paper);
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
            input_.frameDrawn();
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
    bool waitsForLand() { return first_frame_ && !input_.settling() && input_.empty() && desk_.session.raising(); }

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
            rebuildGl(desk_);
        }
        uploadPictures(desk_);
        uploadCauses(desk_);
        uploadWorld(desk_);
        movers_.show(desk_);

        int width = 0, height = 0;
        SDL_GetWindowSize(screen_.window, &width, &height);
        rescale(width, height);
        ImGui_ImplOpenGL3_NewFrame();
        ImGui_ImplSDL2_NewFrame();
        input_.placePointer(screen_.window);
        ImGui::NewFrame();
        const Layout places = layoutOf(desk_, static_cast<float>(width), static_cast<float>(height));
        moveCamera(desk_);
        renderWorld(places);
        drawPage(desk_, places);
        ImGui::Render();
        screen_.present(desk_.ui.p.paper);
        count();
    }

    /// Another scene flies: its land, and pictures of its own sizes.
    void takeScene() {
        if (desk_.session.generation() == generation_) return;
        generation_ = desk_.session.generation();
        desk_.world->setTerrain(desk_.session.scene().place->ground);
        takeGeneration(desk_);
        report_.state(secondsSince(start_), "loaded", desk_, 0.0);
    }

    /// Forming gets what drawing leaves of a frame. With a graphics processor a frame is short. Without one it is 36 ms while
    /// lines fall, 58 ms while pictures are lit again, and 30 ms while a hand drags something that light depends on.
    [[nodiscard]] double formBudget_ms() const {
        bool settled = true;
        for (const auto& craft : desk_.session.crafts()) settled = settled && craft->settled();
        if (!software_) return std::clamp(15.0 - frame_ms_, 5.0, 12.0);
        if (settled) return std::clamp(36.0 - frame_ms_, 10.0, 26.0);
        return desk_.ui.dragging() ? std::clamp(30.0 - frame_ms_, 3.0, 20.0) : std::clamp(58.0 - frame_ms_, 14.0, 40.0);
    }

    void renderWorld(const Layout& places) {
        if (!desk_.session.loaded()) return;
        const float top = headingHeight(desk_.ui.s);
        const bool calm = desk_.view.still_s > 0.25 && !desk_.ui.dragging() && !movers_.went() && desk_.session.drapeSettled();
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
        const bool settled = input_.actSettled();
        if (report_.on() && (settled || now - controls_s_ >= 0.1)) {
            report_.controls(now, desk_);
            controls_s_ = now;
        }
        if (settled) report_.state(now, "acted", desk_, desk_.frames_per_s);
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
    Input input_{desk_};
    MoversShown movers_;
    bool software_ = true;                 // OpenGL without a graphics processor
    int frames_ = 0, since_rebuilt_ = 0, generation_ = 0;
    bool first_frame_ = false, first_line_ = false, night_ = false, warm_ = false, stands_ = false, hidden_ = false;
};

}  // namespace

int runWindow(const WindowOptions& options) { return Window(options).run(); }

}  // namespace linefall
