// Nothing cut off, shortened or laid over other words: the page drawn at many sizes, with every drawer, without a window.

#include <catch2/catch.hpp>

#include "app/headless_page.h"
#include "app/tools.h"
#include "flight/light_stops.h"

namespace linefall {

namespace {

struct Size {
    float width, height, text;
};

std::string all(const std::vector<std::string>& words) {
    std::string out;
    for (const std::string& w : words) out += w + "\n";
    return out;
}

}  // namespace

TEST_CASE("No words are cut off, shortened or laid over others, on the page and in any drawer, from 640 x 400 to 3840 x 2160 and twice as large") {
    HeadlessPage page(slopes());
    Desk& desk = page.desk;
    REQUIRE(desk.session.loaded());
    page.fill();
    const auto look = [&](const Size& size, const std::string& where) {
        page.draw(size.width, size.height);
        CAPTURE(size.width, size.height, size.text, where, desk.lecture);
        CHECK(all(desk.ui.spoilt()) == "");
        CHECK(desk.ui.words().size() > 12);
    };
    for (const Size& size : {Size{1280, 720, 1}, Size{1280, 720, 1.5f}, Size{1280, 720, 2}, Size{1600, 900, 1}, Size{1600, 900, 2}, Size{1920, 1080, 1},
                             Size{1920, 1080, 2}, Size{3840, 2160, 1}, Size{640, 400, 1}, Size{1280, 720, 0}}) {
        desk.text_scale = std::max(1.0f, size.text);
        desk.lecture = size.text == 0;
        desk.session.unpick();
        look(size, "page");
        desk.pictures_large = true;
        look(size, "large pictures");
        desk.pictures_large = false;
        desk.session.pick(0, {desk.session.crafts()[0]->formation().lines() / 2, 100});
        look(size, "picked");
        for (std::size_t i = 0; i < toolTable().size(); ++i) {
            desk.open_tool = static_cast<int>(i);
            look(size, toolTable()[i].name);
        }
        desk.open_tool = -1;
        desk.angles.on.fill(true);
        look(size, "all angles");
        desk.angles = {};
        for (int stop = 0; stop < stop_count; ++stop) {
            desk.open_stop = stop;
            look(size, "stop " + std::to_string(stop + 1));
        }
        desk.open_stop = -1;
        desk.help = true;
        look(size, "help");
        desk.help = false;
        desk.test_card = true;
        page.draw(size.width, size.height);
        CHECK(all(desk.ui.spoilt()) == "");
        desk.test_card = false;
    }
}

TEST_CASE("Readings and spectra of the island fit into their drawers, at a desk and in a lecture, and no letter is missing") {
    SceneRequest request;
    request.sets = {"flight.length=1200 m"};
    HeadlessPage page(request);
    Desk& desk = page.desk;
    REQUIRE(desk.session.loaded());
    page.fill();
    const int middle = desk.session.crafts()[0]->formation().lines() / 2;
    desk.session.pick(0, {middle, 300});
    REQUIRE(desk.session.picked()->why);
    const auto open = [&](Act act) {
        for (std::size_t i = 0; i < toolTable().size(); ++i) {
            if (toolTable()[i].act == act) desk.open_tool = static_cast<int>(i);
        }
    };
    for (const ImVec2& size : {ImVec2{1280, 720}, ImVec2{1600, 900}, ImVec2{1920, 1080}}) {
        for (const bool lecture : {false, true}) {
            desk.lecture = lecture;
            open(Act::tool_bands);
            page.draw(size.x, size.y);
            CAPTURE(size.x, size.y, lecture);
            CHECK(all(desk.ui.spoilt()) == "");
            open(Act::tool_measure);
            for (const MeasureKind kind : {MeasureKind::length, MeasureKind::height, MeasureKind::area, MeasureKind::profile}) {
                desk.measure = {};
                desk.measure.kind = kind;
                desk.measure.places = {{200.0, middle - 20.0}, {420.0, middle + 30.0}};
                page.draw(size.x, size.y);
                CHECK(all(desk.ui.spoilt()) == "");
                bool said = false;
                for (const Ui::Words& words : desk.ui.words()) said = said || words.words.find("±") != std::string::npos;
                CHECK((said || kind == MeasureKind::profile));
            }
        }
    }
}

TEST_CASE("Words that do not fit are noticed: a long title is reported as shortened, words over words as such") {
    HeadlessPage page(slopes());
    page.draw(1280, 720);
    CHECK(page.desk.ui.spoilt().empty());
    Ui& ui = page.desk.ui;
    ImGui::NewFrame();
    ImGui::Begin("page");
    ui.begin();
    (void)ui.fitted(ui.fonts.body, "far too long for so little room", 40);
    ui.text(100, 100, ui.fonts.body, ui.p.ink, "one word");
    ui.text(110, 104, ui.fonts.body, ui.p.ink, "and another");
    ui.text(100, 200, ui.fonts.body, ui.p.ink, "a mean x̄");
    ui.end();
    ImGui::End();
    ImGui::EndFrame();
    CHECK(all(ui.spoilt()).find("shortened: far too long") != std::string::npos);
    CHECK(all(ui.spoilt()).find("a letter that the font lacks: a mean x") != std::string::npos);
    CHECK(all(ui.spoilt()).find("one over the other: one word | and another") != std::string::npos);
}

TEST_CASE("Every control is at least 24 by 24 pixels, on the page and in every drawer, while no pixel is picked") {
    HeadlessPage page(slopes());
    page.fill();
    Desk& desk = page.desk;
    const auto look = [&](const std::string& where) {
        page.draw(1280, 720);
        REQUIRE(desk.ui.places().size() > 15);
        for (const auto& [name, place] : desk.ui.places()) {
            CAPTURE(where, name, place.w, place.h);
            CHECK((place.w >= 24.0f && place.h >= 24.0f));
        }
    };
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
}

}  // namespace linefall
