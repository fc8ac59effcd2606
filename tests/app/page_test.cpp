#include <catch2/catch.hpp>

#include <map>
#include <set>
#include <tuple>

#include "app/keys.h"
#include "app/layout.h"
#include "app/stops.h"

namespace linefall {

namespace {

bool apart(const Rect& a, const Rect& b) {
    return a.right() <= b.x + 0.5f || b.right() <= a.x + 0.5f || a.bottom() <= b.y + 0.5f || b.bottom() <= a.y + 0.5f;
}

}  // namespace

TEST_CASE("No part of the page covers another or leaves it, at any size, text scale, shape of the pictures and open drawer") {
    const ImVec2 sizes[] = {{640, 400}, {800, 600}, {960, 600}, {1280, 720}, {1600, 900}, {1920, 1080}, {1280, 1024}, {3840, 2160}, {720, 1280}};
    int side_by_side = 0, stacked = 0;
    for (const ImVec2& size : sizes) {
        for (const float text : {1.0f, 1.25f, 1.5f, 2.0f}) {
            for (const std::vector<float>& shapes : {std::vector<float>{1.5f}, {1.0f, 1.0f}, {1.6f, 1.4f}, {0.3f, 0.5f}, {8.0f, 2.0f}, {1.0f, 1.5f, 0.7f}}) {
                for (const auto& [open, large] : {std::pair{false, false}, std::pair{true, false}, std::pair{false, true}, std::pair{true, true}}) {
                    CAPTURE(size.x, size.y, text, shapes.size(), shapes[0], open, large);
                    const float fit = std::min(size.x / 1280.0f, size.y / 720.0f);
                    PageWish wish{size.x, size.y, std::min({std::max(0.85f, fit) * text, size.x / 560.0f, size.y / 300.0f}), shapes, true, open ? 268.0f : 0.0f, large};
                    const Layout l = layoutOf(wish);
                    (l.stacked ? stacked : side_by_side) += 1;
                    std::vector<Rect> parts{l.flight, l.clock};
                    if (open) parts.push_back(l.drawer);
                    if (l.legend.w > 0.0f) parts.push_back(l.legend);
                    else CHECK((open && !l.stacked));  // it makes room for the flight beside a drawer, and for nothing else
                    parts.insert(parts.end(), l.pictures.begin(), l.pictures.end());
                    const float bottom = l.stacked ? l.content : l.path.y;
                    for (std::size_t i = 0; i < parts.size(); ++i) {
                        CHECK(parts[i].w > 100.0f);
                        CHECK(parts[i].h > 40.0f);
                        CHECK(parts[i].x >= 0.0f);
                        CHECK(parts[i].y >= 0.0f);
                        CHECK(parts[i].right() <= size.x + 0.5f);
                        CHECK(parts[i].bottom() <= bottom + 0.5f);
                        for (std::size_t k = i + 1; k < parts.size(); ++k) CHECK(apart(parts[i], parts[k]));
                    }
                    CHECK(l.body.bottom() <= l.path.y + 0.5f);
                    CHECK(l.path.bottom() <= size.y);
                }
            }
        }
    }
    CHECK(side_by_side > 100);
    CHECK(stacked > 100);
}

TEST_CASE("The page stands side by side where it can, and stacks when words are large or the window is small") {
    CHECK_FALSE(stacks(1280, 720, 1.0f));
    CHECK_FALSE(stacks(1280, 720, 1.44f));  // a lecture
    CHECK_FALSE(stacks(3840, 2160, 2.24f));
    CHECK(stacks(640, 400, 0.85f));
    CHECK(stacks(1280, 720, 2.0f));
}

TEST_CASE("Short pictures stand one over the other or take a wider column, so that their place is not left empty") {
    PageWish wish;
    const auto filled = [&](std::vector<float> shapes) {
        wish.shapes = std::move(shapes);
        const Layout l = layoutOf(wish);
        float pictures = 0.0f, room = 0.0f;
        for (std::size_t i = 0; i < l.pictures.size(); ++i) {
            const float h = l.pictures[i].h - headingHeight(1.0f) - footHeight(1.0f), w = std::min(l.pictures[i].w, h / wish.shapes[i]);
            pictures += w * w * wish.shapes[i];
            room += l.pictures[i].w * h;
        }
        return pictures / room;
    };
    CHECK(filled({1.5f, 1.5f}) > 0.8f);
    CHECK(filled({1.0f, 1.0f}) > 0.8f);
    CHECK(filled({0.45f, 0.45f}) > 0.5f);
    CHECK(filled({1.0f}) > 0.6f);
}

TEST_CASE("With an open drawer the flight is never a strip and no picture shrinks, at a desk and in a lecture") {
    int moved = 0;
    for (const auto& [width, height, scale] : {std::tuple{1280.0f, 720.0f, 1.0f}, {1280.0f, 720.0f, 1.44f}, {1600.0f, 900.0f, 1.8f}, {1920.0f, 1080.0f, 2.16f}, {1920.0f, 1080.0f, 1.31f}}) {
        for (const float drawer : {132.0f, 226.0f, 268.0f, 300.0f}) {
            for (const bool large : {false, true}) {
                CAPTURE(width, height, scale, drawer, large);
                PageWish wish{width, height, scale, {1.5f, 1.5f}, true, 0.0f, false};
                const Layout closed = layoutOf(wish);
                wish.drawer = drawer;
                wish.pictures_large = large;
                const Layout open = layoutOf(wish);
                CHECK(open.flight.h - headingHeight(scale) > 0.19f * height);
                CHECK(open.flight.w > 0.37f * width);
                const auto area = [s = scale](const Rect& r) {
                    const float h = r.h - headingHeight(s) - footHeight(s), w = std::min(r.w, h / 1.5f);
                    return 1.5f * w * w;
                };
                for (std::size_t i = 0; i < 2; ++i) CHECK(area(open.pictures[i]) >= 0.99f * area(closed.pictures[i]));
                CHECK(open.drawer.h >= std::min(0.39f * height, (drawer + 60.0f) * scale));
                moved += open.legend.w > 0.0f ? 0 : 1;
            }
        }
    }
    CHECK(moved > 10);
    CHECK(moved < 30);
}

TEST_CASE("Picking a pixel moves no picture") {
    for (const ImVec2& size : {ImVec2{1280, 720}, ImVec2{640, 400}}) {
        PageWish wish;
        wish.width = size.x;
        wish.height = size.y;
        const Layout before = layoutOf(wish);
        wish.picked = true;
        const Layout after = layoutOf(wish);
        for (std::size_t i = 0; i < 2; ++i) {
            CHECK(before.pictures[i].x == after.pictures[i].x);
            CHECK(before.pictures[i].y == after.pictures[i].y);
            CHECK(before.pictures[i].h == after.pictures[i].h);
        }
    }
}

TEST_CASE("No key does two things, and every act of the table is described") {
    std::map<std::tuple<int, bool, bool, bool>, int> seen;  // key, with Ctrl, with Shift, in lecture mode alone
    bool described = false;
    for (const KeyRow& row : keyTable()) {
        CHECK(++seen[{static_cast<int>(row.key), row.control, row.shift, row.lecture}] == 1);
        described = row.shown[0] != '\0' || described;
        CHECK(described);  // a row without words belongs to the described row above it
        if (row.shown[0] != '\0') CHECK(std::string(row.what).size() > 3);
    }
}

TEST_CASE("The keys of a presenter's remote act in lecture mode only, and there before any other row of their key") {
    for (const SDL_Scancode key : {SDL_SCANCODE_PAGEDOWN, SDL_SCANCODE_PAGEUP, SDL_SCANCODE_B, SDL_SCANCODE_PERIOD, SDL_SCANCODE_F}) {
        const KeyRow* at_the_desk = rowOf(key, false, false, false);
        CHECK((at_the_desk == nullptr || !at_the_desk->lecture));
        REQUIRE(rowOf(key, false, false, true) != nullptr);
        CHECK(rowOf(key, false, false, true)->lecture);
    }
    CHECK(rowOf(SDL_SCANCODE_PAGEDOWN, false, false, false)->act == Act::zoom_out);
    CHECK(rowOf(SDL_SCANCODE_PAGEDOWN, false, false, true)->act == Act::step_next);
    CHECK(rowOf(SDL_SCANCODE_PAGEUP, false, false, true)->act == Act::step_back);
    CHECK_FALSE(repeats(Act::step_next));
    CHECK_FALSE(repeats(Act::step_back));
    CHECK_FALSE(repeats(Act::blank));
    CHECK(rowOf(SDL_SCANCODE_SPACE, false, false, true)->act == Act::pause);
}

TEST_CASE("Every declared parameter belongs to a stop, and to one alone but for the air") {
    SceneRequest request;
    request.place = "slopes";
    const Scene scene = loadScene(request);
    std::map<std::string, int> times;
    for (int stop = 0; stop < stop_count; ++stop) {
        for (const ParameterOf& parameter : parametersOf(stop, scene, 0)) ++times[parameter.row->key];
    }
    for (const Parameter& row : sceneRows()) CHECK(times[row.key] == (row.key.rfind("air.", 0) == 0 ? 2 : row.key.rfind("show.", 0) == 0 || row.key.rfind("figure.", 0) == 0 ? 0 : 1));
    for (const Parameter& row : scene.instruments[0].kindOf().rows) {
        CAPTURE(row.key);
        CHECK(times[row.key] == 1);
    }
}

TEST_CASE("Every stop says a number about a picked pixel, and the last one says its counts") {
    SceneRequest request;
    request.place = "slopes";
    Formation formation(loadScene(request), 0);
    const Why why = formation.why(10, formation.samples() / 2);
    const std::vector<Band>& bands = formation.image().bands;
    const BandChoice shown = chooseBands(bands, "true colour");
    for (int stop = 0; stop < stop_count; ++stop) {
        CAPTURE(stop);
        const Telling telling = tellingOf(stop, why, bands, shown);
        CHECK(telling.number.size() > 1);
        CHECK(telling.what.size() > 3);
    }
    const std::string counts = std::to_string(formation.image().counts[static_cast<std::size_t>(shown.red)].at(formation.samples() / 2, 10)) + " · ";
    CHECK(tellingOf(7, why, bands, shown).number.rfind(counts, 0) == 0);
}

TEST_CASE("Units are printed with raised figures and prefixes") {
    CHECK(printedUnit("W m-2 um-1") == "W m⁻² µm⁻¹");
    CHECK(printedValue(2.5e-12, "W") == "2.50 pW");
    CHECK(printedValue(103810.0, "e") == "103\u2009810 e");
    CHECK(printedValue(42.0, "counts") == "42");
}

}  // namespace linefall
