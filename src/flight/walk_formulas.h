#pragma once
// The formula of every number of the walk, in the order in which light travels: one row each. A test puts the traced
// inputs into each of them and compares with the traced result, so the words cannot disagree with the walk.

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/constants.h"
#include "flight/formation.h"

namespace linefall {

/// What a walk knows of one pixel in one band, along one of its looks: the central one, or the last that meets ground.
class WalkScope {
public:
    WalkScope(const Why& why, const Formation& formation, int band);

    /// The traced row of a symbol; null when the trace has none.
    [[nodiscard]] const TraceRow* row(std::string_view symbol) const;
    [[nodiscard]] bool has(std::string_view symbol) const { return row(symbol) != nullptr; }
    [[nodiscard]] double value(std::string_view symbol) const { return row(symbol)->value; }
    /// A symbol's values along all looks of the sample.
    [[nodiscard]] std::vector<double> ofLooks(const std::string& symbol) const;

    [[nodiscard]] const Why& why() const { return why_; }
    [[nodiscard]] const Formation& formation() const { return formation_; }
    [[nodiscard]] const EffectSettings& effects() const { return formation_.lightPath().effects; }
    [[nodiscard]] const Band& band() const { return formation_.instrument().bands()[static_cast<std::size_t>(band_)]; }
    [[nodiscard]] int look() const { return look_; }
    [[nodiscard]] int looks() const { return looks_; }  ///< of this band
    [[nodiscard]] bool sky() const { return why_.looks[static_cast<std::size_t>(look_)].meets == Meets::sky; }
    [[nodiscard]] bool air() const { return has("tau_z"); }
    [[nodiscard]] bool sunIsUp() const { return value("theta_s") < 0.5 * constants::pi; }

private:
    const Why& why_;
    const Formation& formation_;
    int band_, look_, first_look_ = 0, looks_ = 1;
    std::map<std::string, const TraceRow*, std::less<>> rows_;
};

/// One number of the walk.
struct WalkFormula {
    int stop;             ///< of lightStops()
    const char* symbol;   ///< of the trace
    const char* formula;  ///< other symbols of the trace in braces: "{E_1} / {d}^2"; empty: it is set, looked up or drawn
    const char* words;    ///< said beside the formula, or in its place; may be empty
    bool (*when)(const WalkScope&) = nullptr;        ///< holds only then; of several rows of a symbol the first that holds is taken
    std::string (*say)(const WalkScope&) = nullptr;  ///< further words, which depend on the pixel
};

[[nodiscard]] const std::vector<WalkFormula>& walkFormulas();

/// A symbol of the trace as printed: "theta_s" is "θ_s". What follows an underscore may be set lower.
[[nodiscard]] std::string printedSymbol(const std::string& symbol);

}  // namespace linefall
