#pragma once
// The walk of one sample, written down while it is walked: stage, symbol, value, unit.

#include <string>
#include <string_view>
#include <vector>

namespace linefall {

/// One number met on the walk of light.
struct TraceRow {
    std::string stage;    ///< "sun", "air, down", "ground", "material", "air, up", "optics", "detector", "noise", "counts", "aim"
    std::string symbol;   ///< short textbook symbol, e.g. "E0", "m", "rho"
    std::string meaning;  ///< one phrase
    double value = 0.0;
    std::string unit;     ///< SI, or empty for a pure number
    int band = -1;        ///< -1: the same for every band
    int contribution = -1;  ///< -1: the whole sample
};

/// All rows of one sample in the order in which light travels.
class Trace {
public:
    void add(std::string_view stage, std::string_view symbol, std::string_view meaning, double value,
             std::string_view unit, int band = -1, int contribution = -1) {
        rows_.push_back({std::string(stage), std::string(symbol), std::string(meaning), value, std::string(unit), band,
                         contribution});
    }
    [[nodiscard]] const std::vector<TraceRow>& rows() const { return rows_; }
    /// The value of a symbol, or throws std::out_of_range naming what was asked for.
    [[nodiscard]] double value(std::string_view symbol, int band = -1, int contribution = -1) const;

private:
    std::vector<TraceRow> rows_;
};

}  // namespace linefall
