#include "base/constants.h"
#include "flight/walk_formulas.h"

namespace linefall {

WalkScope::WalkScope(const Why& why, const Formation& formation, int band) : why_(why), formation_(formation), band_(band) {
    const LightPath::Looks mine = formation.lightPath().looksOf(band);
    first_look_ = static_cast<int>(mine.first);
    looks_ = static_cast<int>(mine.count());
    look_ = first_look_ + looks_ - 1;
    while (look_ > first_look_ && sky()) --look_;
    if (sky()) look_ = first_look_ + looks_ - 1;
    for (const TraceRow& row : why.trace.rows()) {
        if ((row.band == -1 || row.band == band) && (row.contribution == -1 || row.contribution == look_)) rows_.emplace(row.symbol, &row);
    }
}

const TraceRow* WalkScope::row(std::string_view symbol) const {
    const auto found = rows_.find(symbol);
    return found == rows_.end() ? nullptr : found->second;
}

std::vector<double> WalkScope::ofLooks(const std::string& symbol) const {
    std::vector<double> out;
    for (const TraceRow& row : why_.trace.rows()) {
        if (row.symbol == symbol && (row.band == -1 || row.band == band_) && row.contribution >= first_look_ && row.contribution < first_look_ + looks_) out.push_back(row.value);
    }
    return out;
}

std::string printedSymbol(const std::string& symbol) {
    static const std::map<std::string, std::string> printed{
        {"theta_s", "θ_s"}, {"gamma_s", "γ_s"}, {"theta_v", "θ_v"}, {"tau", "τ"},       {"tau_R", "τ_R"},   {"tau_A", "τ_A"}, {"tau_z", "τ_z"},
        {"tau_Z", "τ_Z"},   {"dtau", "Δτ"},     {"dtau_R", "Δτ_R"}, {"dtau_A", "Δτ_A"}, {"omega_a", "ω_a"}, {"rho", "ρ"},     {"cos Theta", "cos Θ"},
        {"cos w", "cos ω"}, {"cos w'", "cos ω'"}, {"cos b", "cos β"}, {"s2", "s²"},     {"cos a", "cos α"}, {"dlambda", "Δλ"}, {"lambda", "λ"},
        {"eta", "η"},       {"zeta", "ζ"},            {"sigma_s", "σ_s"}, {"sigma_r", "σ_r"}};
    const auto found = printed.find(symbol);
    return found == printed.end() ? symbol : found->second;
}

}  // namespace linefall
