// "Why this pixel?" in words: every formula that is printed is read again, by a reader that shares no code with the
// writer, the traced inputs are put in, and the traced result must come out. So must what a reader gets who types the
// printed values into a calculator.

#include "flight/walk_text.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "flight/light_stops.h"
#include "flight/walk_formulas.h"
#include "support/effort.h"
#include "support/expression.h"
#include "support/scenes.h"
#include "support/terrain.h"

using namespace linefall;
using namespace linefall::test;

namespace {

/// Air shares come from tables over height (relative error of a depth below 1e-5), the view's air mass from a table (2e-7), the
/// radiance is kept in single precision (6e-8).
constexpr double exact_share = 2e-5;
/// Values are printed with four to six figures: a product of some of them, and an exponent of them, is right to 1 %.
constexpr double printed_share = 0.01;

struct Checked {
    int formulas = 0;
    std::set<std::string> symbols;  ///< of the rows with a formula
};

void checkWalk(const Why& why, const Formation& formation, int band, Checked& checked) {
    const std::vector<WalkRow> rows = walkRows(why, formation, band);
    const WalkScope scope(why, formation, band);
    Expression::Values values;
    for (const WalkRow& row : rows) values[row.symbol] = row.value;
    const Expression::Lists lists{{"L_a", scope.ofLooks("L_a")}};
    int stop = 0;
    for (const WalkRow& row : rows) {
        INFO("line " << why.line << ", sample " << why.sample << ", band " << band << ": " << row.symbol << " = " << row.formula << " = " << row.values << " = " << row.result);
        CHECK(row.stop >= stop);  // in travel order
        stop = row.stop;
        CHECK_FALSE(row.meaning.empty());
        CHECK_FALSE(row.result.empty());
        CHECK_FALSE((row.formula.empty() && row.words.empty()));  // a number without a formula says where it comes from
        if (row.formula.empty()) continue;
        ++checked.formulas;
        checked.symbols.insert(row.symbol);
        const double size = std::abs(row.value);
        const double margin = row.symbol.rfind("θ", 0) == 0 || row.symbol == "i" ? 1e-6 : 1e-12 * (1.0 + size);
        const double exact = Expression::evaluate(row.formula, values, lists);
        // Differences of nearly equal depths, under a sensor just above the ground, keep the tables' absolute error.
        const double depth_margin = row.symbol.rfind("Δτ", 0) == 0 || row.symbol == "ζ" ? 1e-6 : 0.0;
        CHECK(std::abs(exact - row.value) <= exact_share * size + margin + depth_margin);
        if (row.values.empty()) continue;
        const double printed = Expression::evaluate(row.values);
        const bool angle = row.symbol.rfind("θ", 0) == 0 || row.symbol == "i";
        const double fine = angle ? 2e-3 : row.symbol == "DN" ? 1.0 : row.symbol.rfind("cos", 0) == 0 ? 1e-4 : row.symbol == "x" || row.symbol == "X" || row.symbol == "Y" ? 0.05 : 1e-9;
        CHECK(std::abs(printed - row.value) <= printed_share * size + fine);
    }
}

}  // namespace

TEST_CASE("every formula of the walk gives the traced number in random pixels of every place and instrument") {
    const std::string place = GENERATE("island", "proving-ground", "slopes", "hill-and-hollow");
    const std::string preset = GENERATE("whisk-broom", "push-broom", "frame-camera", "eye");
    INFO(place << ", " << preset);
    Formation formation(sceneOf(place, preset), 0);
    Draws draws(31, static_cast<std::uint32_t>(place.size() * 16 + preset.size()));
    Checked checked;
    for (int i = 0; i < effort(50); ++i) {
        const int line = static_cast<int>(draws.between(0.0, formation.lines()));
        const int sample = static_cast<int>(draws.between(0.0, formation.samples()));
        const Why why = formation.why(line, sample);
        for (int band = 0; band < static_cast<int>(formation.instrument().bands().size()); ++band) checkWalk(why, formation, band, checked);
    }
    CHECK(checked.formulas > 20);
    // The stops that have formulas all took part.
    for (const char* symbol : {"E_0", "m_s", "E_b", "E_s", "cos i", "E", "L_g", "T", "L_p", "L", "D", "θ_v", "P", "n_e", "n", "DN"}) CHECK(checked.symbols.count(symbol) == 1);
}

TEST_CASE("the formulas hold for several looks - a sun that is a disc - glint - wind - and every switch off") {
    const std::string preset = GENERATE("whisk-broom", "push-broom", "frame-camera", "eye");
    const std::vector<Sets> manners{
        {"quality.contributions=5", "sun.disc=true", "effect.glint=true", "flight.roll_swing=4 deg", "flight.wind_speed=20 m/s", "instrument.dead_detectors=10 %", "instrument.pattern_offset=30 e"},
        {"quality.contributions=24", "effect.glint=true", "sun.azimuth=20 deg", "sun.elevation=65 deg", "effect.glint_wind=9 m/s"},
        {"air.on=false", "effect.cast_shadow=false", "effect.slope_shading=false", "effect.sweep_motion=false", "effect.cos4=false", "effect.shot_noise=false"},
        {"effect.skylight=false", "effect.dark_current=false", "effect.pattern=false", "effect.quantisation=false", "effect.saturation=false", "effect.read_noise=false"},
        {"sun.elevation=-3 deg"},
        {"effect.perspective=false", "effect.relief=false", "flight.roll=5 deg"},
        {"sun.elevation=2 deg", "air.aerosol_depth=1", "flight.height=1200 m", "flight.length=300 m"},
        {"sun.time=2026-05-10T10:15:00+00:00", preset == "eye" ? "instrument.half_saturation=3000 e" : "instrument.gain=37 e"}};
    for (std::size_t m = 0; m < manners.size(); ++m) {
        INFO(preset << ", manner " << m);
        Formation formation(sceneOf("island", preset, manners[m]), 0);
        Draws draws(32, static_cast<std::uint32_t>(preset.size() * 16 + m));
        Checked checked;
        for (int i = 0; i < effort(12) + 1; ++i) {
            const int line = static_cast<int>(draws.between(0.0, formation.lines()));
            const int sample = static_cast<int>(draws.between(0.0, formation.samples()));
            checkWalk(formation.why(line, sample), formation, i % static_cast<int>(formation.instrument().bands().size()), checked);
        }
        CHECK(checked.formulas > 0);
    }
}

TEST_CASE("a whisk broom with several detectors along the track tells its lines' times") {
    Formation formation(sceneOf("slopes", "whisk-broom", {"instrument.detectors=4"}), 0);
    Checked checked;
    for (const int line : {0, 5, 10, 23}) checkWalk(formation.why(line, 17), formation, 1, checked);
    CHECK(checked.symbols.count("t_l") == 1);
}

TEST_CASE("no traced number is left out of the walk") {
    const std::string preset = GENERATE("whisk-broom", "eye");
    Formation formation(sceneOf("island", preset, {"effect.glint=true", "quality.contributions=3"}), 0);
    const Why why = formation.why(formation.lines() / 2, 3);
    std::set<std::string> told{"w", "material"};  // a share of one, and a number that a name stands for
    for (const WalkRow& row : walkRows(why, formation, 0)) told.insert(row.symbol);
    for (const TraceRow& row : why.trace.rows()) {
        CAPTURE(row.symbol);
        CHECK((told.count(printedSymbol(row.symbol)) == 1 || told.count(row.symbol) == 1));
    }
}

TEST_CASE("the walk as text names the eight stops in order and says what blocks the sun") {
    // A black tower stands between the pixel and a low sun.
    const Scene scene = sceneOf(written(levelPlace("[[object]]\nname = \"silo 3\"\nshape = \"cylinder\"\neast = \"0 m\"\nnorth = \"-40 m\"\ndiameter = \"20 m\"\nheight = \"60 m\"\nmaterial = \"white\"\nsides = \"black\"\n")),
                                "push-broom", {"flight.heading=0 deg", "flight.start_north=-200 m", "flight.length=400 m", "flight.height=1500 m", "sun.azimuth=180 deg", "sun.elevation=30 deg"});
    Formation formation(scene, 0);
    // The pixel of the ground 10 m north of the tower's axis.
    int line = 0, sample = 0;
    double nearest = 1e9;
    for (int l = 0; l < formation.lines(); ++l) {
        for (int s = 0; s < formation.samples(); s += 1) {
            if (std::abs(s - formation.samples() / 2) > 12) continue;
            const auto point = formation.groundPoint(l, s);
            if (!point) continue;
            const double off = std::hypot(point->x, point->y - 0.0);
            if (off < nearest) nearest = off, line = l, sample = s;
        }
    }
    const Why why = formation.why(line, sample);
    REQUIRE(why.blocked_by == "silo 3");
    const WalkTitle title{"A level place", "Push broom"};
    const std::string text = walkText(title, why, formation, {0, 1});
    CHECK(text.find("A level place, Push broom: line " + std::to_string(line) + ", sample " + std::to_string(sample)) != std::string::npos);
    CHECK(text.find("the way to the sun is blocked by silo 3 at ") != std::string::npos);
    CHECK(text.find("it is blocked by silo 3") != std::string::npos);
    std::size_t at = text.find("==== band " + formation.instrument().bands()[0].name);
    for (std::size_t i = 0; i < lightStops().size(); ++i) {
        const std::size_t next = text.find("\n" + std::to_string(i + 1) + " " + lightStops()[i].name + ": ", at);
        REQUIRE(next != std::string::npos);
        CHECK(next > at);
        at = next;
    }
    CHECK(text.find("E_b") != std::string::npos);
    CHECK(text.find("= E_0 · exp(−m_s · τ_z)") != std::string::npos);
    CHECK(text.find("Teaching model only") != std::string::npos);
    CHECK(text.find("counts (DN) ") != std::string::npos);
    CHECK(walkFileName({"Hill & hollow", "Whisk broom"}, why) == "why-hill-hollow-whisk-broom-line-" + std::to_string(line) + "-sample-" + std::to_string(sample) + ".txt");
    CHECK(walkFileName({"../../etc", ""}, why).find("why-etc-instrument-line-") == 0);
}

TEST_CASE("a formula with a wrong sign would be seen") {
    // The reader itself: precedence, signs, powers, degrees, thin spaces, lists.
    CHECK(Expression::evaluate("1\u2009553 · exp(−1.66 · 0.146)") == Approx(1553.0 * std::exp(-1.66 * 0.146)));
    CHECK(Expression::evaluate("−2² + 3 · 4 / 2") == Approx(2.0));
    CHECK(Expression::evaluate("90° − 38°") == Approx(52.0 * 3.14159265358979 / 180.0));
    CHECK(Expression::evaluate("6.5·10⁻³⁴ · 2^(−1.5)") == Approx(6.5e-34 * std::pow(2.0, -1.5)));
    CHECK(Expression::evaluate("mean(1, 2, 6) + min(4, max(0, floor(2.7)))") == Approx(5.0));
    CHECK(Expression::evaluate("(cos Θ)² · a_z", {{"cos Θ", 0.5}, {"a_z", 4.0}, {"a", 9.0}}) == Approx(1.0));
    CHECK_THROWS(Expression::evaluate("2 · unknown"));
    CHECK_THROWS(Expression::evaluate("2 ·"));
    CHECK(Expression::evaluate("E_0 · exp(m_s · τ)", {{"E_0", 1553.0}, {"m_s", 1.66}, {"τ", 0.146}}) != Approx(Expression::evaluate("E_0 · exp(−m_s · τ)", {{"E_0", 1553.0}, {"m_s", 1.66}, {"τ", 0.146}})).epsilon(0.05));
}
