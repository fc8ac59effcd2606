#pragma once
// The whole page drawn without a window and without OpenGL: its words and controls can be asked for at any size, quickly.

#include <imgui.h>

#include <chrono>
#include <memory>
#include <thread>

#include "app/desk.h"

namespace linefall {

/// A place that is there at once.
inline SceneRequest slopes() {
    SceneRequest request;
    request.place = "slopes";
    return request;
}

class HeadlessPage {
public:
    explicit HeadlessPage(SceneRequest request) : desk(std::move(request)) {
        ImGui::CreateContext();
        ImGui::GetIO().IniFilename = nullptr;
        desk.ui.watchWords();
        desk.reduced_motion = true;
        for (int i = 0; i < 60000 && !desk.session.loaded() && desk.session.failure().empty(); ++i) {
            desk.session.frame(0.0, 5.0);
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
        }
    }
    ~HeadlessPage() {
        desk.pictures.clear();
        ImGui::DestroyContext();
    }
    HeadlessPage(const HeadlessPage&) = delete;
    HeadlessPage& operator=(const HeadlessPage&) = delete;

    void fill() {
        desk.session.clock().fill();
        for (int i = 0; i < 100000 && (!desk.session.clock().atEnd() || !settled()); ++i) desk.session.frame(0.01, 20.0);
    }
    /// Draws some frames, so that what depends on the frame before is settled.
    void draw(float width, float height, int frames = 3) {
        for (int i = 0; i < frames; ++i) {
            takeGeneration(desk);
            while (desk.pictures.size() < desk.session.crafts().size()) {
                desk.pictures.push_back(std::make_unique<Picture>());
                desk.picture_versions.push_back(-1);
            }
            desk.picture_views.resize(desk.session.crafts().size());
            const float scale = scaleFor(desk, width, height);
            if (scale != desk.ui.s || desk.ui.fonts.body == nullptr) desk.ui.fonts = loadFonts(scale);
            desk.ui.s = scale;
            desk.ui.p = palette(desk.night);
            applyStyle(desk.ui.p, scale);
            ImGui::GetIO().DisplaySize = {width, height};
            ImGui::GetIO().DeltaTime = 0.02f;
            ImGui::GetIO().MousePos = {-1e6f, -1e6f};
            ImGui::NewFrame();
            const Layout places = layoutOf(desk, width, height);
            moveCamera(desk);
            drawPage(desk, places);
            ImGui::EndFrame();
        }
    }
    /// A key pressed and let go, then a few frames.
    void press(int key, bool shift = false) {
        const ImVec2 size = ImGui::GetIO().DisplaySize;
        ImGui::GetIO().KeyShift = shift;
        ImGui::GetIO().KeysDown[key] = true;
        draw(size.x, size.y, 1);
        ImGui::GetIO().KeysDown[key] = false;
        ImGui::GetIO().KeyShift = false;
        draw(size.x, size.y, 3);
    }
    Desk desk;

private:
    [[nodiscard]] bool settled() {
        for (const auto& craft : desk.session.crafts()) {
            if (!craft->settled()) return false;
        }
        return true;
    }
};

}  // namespace linefall
