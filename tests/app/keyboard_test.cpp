// All by keyboard: Tab reaches every control of every page, and the ring of the focus is in sight wherever it goes.

#include <catch2/catch.hpp>

#include <SDL_scancode.h>

#include <set>

#include "app/headless_page.h"
#include "app/tools.h"
#include "flight/light_stops.h"

namespace linefall {

namespace {

/// Calls `look` with every page that can be open.
template <class Look>
void everyPage(Desk& desk, const Look& look) {
    look("page");
    for (std::size_t i = 0; i < toolTable().size(); ++i) {
        desk.open_tool = static_cast<int>(i);
        look(toolTable()[i].name);
    }
    desk.open_tool = -1;
    for (int stop = 0; stop < stop_count; ++stop) {
        desk.open_stop = stop;
        look("stop " + std::to_string(stop + 1));
    }
    desk.open_stop = -1;
    act(desk, Act::help);
    look("help");
    act(desk, Act::help);
}

struct Size {
    float width, height, text;
    bool lecture = false;
};

const Size sizes[] = {{1280, 720, 1}, {1280, 720, 2}, {1920, 1080, 1.5f}, {640, 400, 1}, {1280, 720, 1, true}};

/// Every page at every size, with a picked pixel.
template <class Look>
void everySize(const Look& look) {
    HeadlessPage page(slopes());
    Desk& desk = page.desk;
    REQUIRE(desk.session.loaded());
    page.fill();
    desk.session.pick(0, {desk.session.crafts()[0]->formation().lines() / 2, 100});
    for (const Size& size : sizes) {
        desk.text_scale = size.text;
        desk.lecture = size.lecture;
        everyPage(desk, [&](const std::string& where) {
            page.draw(size.width, size.height);
            CAPTURE(size.width, size.height, size.text, size.lecture, where);
            look(page);
        });
    }
}

}  // namespace

TEST_CASE("Tab goes round all controls of every page once, Shift and Tab goes back, and the ring is in sight at each of them") {
    everySize([](HeadlessPage& page) {
        Desk& desk = page.desk;
        std::set<std::string> all;
        for (const auto& [name, place] : desk.ui.places()) {
            CAPTURE(name);
            CHECK(all.insert(name).second);  // a name is one control
        }
        desk.ui.focus(desk.ui.places().back().first);
        std::set<std::string> reached;
        std::string hidden;
        const std::size_t count = all.size();
        for (std::size_t i = 0; i < count; ++i) {
            page.press(SDL_SCANCODE_TAB);
            reached.insert(desk.ui.focused());
            if (!desk.ui.ringWhole()) hidden += desk.ui.focused() + (desk.ui.ringed() ? " at " + std::to_string(desk.ui.ringed()->y) + " to " + std::to_string(desk.ui.ringed()->bottom()) : "") + "; ";
        }
        CHECK(reached == all);
        CHECK(hidden == "");
        const std::string last = desk.ui.focused();
        page.press(SDL_SCANCODE_TAB);
        page.press(SDL_SCANCODE_TAB, true);
        CHECK(desk.ui.focused() == last);
    });
}

TEST_CASE("Every target is at least 24 pixels wide and high and none takes the pointer from another, at any size") {
    everySize([](HeadlessPage& page) {
        Desk& desk = page.desk;
        const auto& places = desk.ui.places();
        const std::vector<Rect>& seen = desk.ui.placesInSight();
        REQUIRE(places.size() > 5);
        REQUIRE(seen.size() == places.size());
        for (std::size_t i = 0; i < places.size(); ++i) {
            const auto& [name, whole] = places[i];
            CAPTURE(name, whole.w, whole.h);
            CHECK((whole.w >= 24.0f && whole.h >= 24.0f));
            if (name == help_control) continue;  // its rows roll under nothing
            for (std::size_t k = i + 1; k < places.size(); ++k) {
                const std::string& other = places[k].first;
                const Rect &a = seen[i], &b = seen[k];
                const float across = std::min(a.right(), b.right()) - std::max(a.x, b.x), along = std::min(a.bottom(), b.bottom()) - std::max(a.y, b.y);
                CAPTURE(other, across, along);
                CHECK_FALSE((across > 1.0f && along > 1.0f));
            }
        }
    });
}

TEST_CASE("What lies under the help is out of reach, arrow keys roll the help, and the focus comes back when it closes") {
    HeadlessPage page(slopes());
    Desk& desk = page.desk;
    page.fill();
    desk.text_scale = 2.0f;
    page.draw(1280, 720);
    desk.ui.focus("hold");
    act(desk, Act::help);
    page.draw(1280, 720);
    CHECK(desk.ui.focused() == help_control);
    const auto stands = [&](const std::string& name) {
        for (const auto& [other, place] : desk.ui.places()) {
            if (other == name) return true;
        }
        return false;
    };
    CHECK_FALSE(stands("hold"));
    const auto words = [&] {
        std::string out;
        for (const Ui::Words& w : desk.ui.words()) out += w.words + "|";
        return out;
    };
    CHECK(words().find("close what is open") == std::string::npos);  // the last row of the table
    for (int i = 0; i < 60; ++i) page.press(SDL_SCANCODE_DOWN);
    CHECK(words().find("close what is open") != std::string::npos);
    act(desk, Act::close);
    page.draw(1280, 720);
    CHECK(desk.ui.focused() == "hold");
    CHECK(stands("hold"));
}

TEST_CASE("With reduced motion a view changes at once, without it the camera glides") {
    HeadlessPage page(slopes());
    Desk& desk = page.desk;
    page.draw(1280, 720);
    for (const bool reduced : {false, true}) {
        desk.reduced_motion = reduced;
        desk.seconds = 0.02;
        const Camera before = desk.view.camera;
        act(desk, Act::view_next);
        page.draw(1280, 720, 1);
        const Camera after = desk.view.camera;
        CHECK_FALSE(after == before);
        CHECK((desk.view.change == 1.0) == reduced);
        page.draw(1280, 720, 60);
        CHECK((desk.view.camera == after) == reduced);
        CHECK(desk.view.change == 1.0);
    }
}

}  // namespace linefall
