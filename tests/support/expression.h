#pragma once
// Evaluates a formula as a textbook prints it: "E_0 · exp(−m_s · τ_z)", "1 553 / 1.016²", "90° − 38°". A reader of its own,
// which shares no code with what writes the formulas.

#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <stdexcept>
#include <string>
#include <vector>

namespace linefall::test {

class Expression {
public:
    using Values = std::map<std::string, double>;
    using Lists = std::map<std::string, std::vector<double>>;  ///< what mean(...) of a symbol means

    static double evaluate(const std::string& text, const Values& values = {}, const Lists& lists = {}) {
        Expression e(text, values, lists);
        const double out = e.sum();
        e.spaces();
        if (e.at_ != text.size()) e.fail("an end");
        return out;
    }

private:
    Expression(const std::string& text, const Values& values, const Lists& lists) : text_(text), values_(values), lists_(lists) {}

    [[noreturn]] void fail(const std::string& expected) const {
        throw std::runtime_error("in '" + text_ + "' at byte " + std::to_string(at_) + ": expected " + expected);
    }
    [[nodiscard]] bool starts(const std::string& word) const { return text_.compare(at_, word.size(), word) == 0; }
    bool take(const std::string& word) {
        spaces();
        if (!starts(word)) return false;
        at_ += word.size();
        return true;
    }
    void spaces() {
        while (at_ < text_.size() && text_[at_] == ' ') ++at_;
    }
    [[nodiscard]] bool digit(std::size_t at) const { return at < text_.size() && text_[at] >= '0' && text_[at] <= '9'; }
    /// Part of a name: an ASCII letter or digit, an underscore, or a Greek letter.
    [[nodiscard]] bool inName(std::size_t at) const {
        if (at >= text_.size()) return false;
        const auto c = static_cast<unsigned char>(text_[at]);
        return std::isalnum(c) != 0 || c == '_' || c == 0xCE || c == 0xCF;
    }

    double sum() {
        double out = product();
        for (;;) {
            if (take("+")) out += product();
            else if (take("−")) out -= product();
            else return out;
        }
    }
    double product() {
        double out = signedPower();
        for (;;) {
            if (take("·")) out *= signedPower();
            else if (take("/")) out /= signedPower();
            else return out;
        }
    }
    double signedPower() { return take("−") ? -signedPower() : power(); }
    double power() {
        double out = primary();
        for (;;) {
            if (take("°")) {
                out *= std::numbers::pi / 180.0;
            } else if (take("^")) {
                out = std::pow(out, take("(") ? closed() : number());
            } else if (const std::string digits = raised(); !digits.empty()) {
                out = std::pow(out, std::stod(digits));
            } else {
                return out;
            }
        }
    }
    double closed() {
        const double out = sum();
        if (!take(")")) fail(")");
        return out;
    }
    /// "⁻¹⁹" as "-19"; empty when there is none.
    std::string raised() {
        static const std::vector<std::string> figures{"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"};
        std::string out;
        for (bool more = true; more;) {
            more = false;
            if (starts("⁻")) {
                out += '-';
                at_ += std::string("⁻").size();
                more = true;
            }
            for (std::size_t i = 0; i < figures.size() && !more; ++i) {
                if (!starts(figures[i])) continue;
                out += static_cast<char>('0' + i);
                at_ += figures[i].size();
                more = true;
            }
        }
        return out;
    }
    double number() {
        spaces();
        if (take("∞")) return std::numeric_limits<double>::infinity();
        if (inName(at_) && !digit(at_)) return named();
        std::string digits;
        for (;;) {
            if (digit(at_) || (at_ < text_.size() && text_[at_] == '.')) digits += text_[at_++];
            else if (starts("\u2009") && digit(at_ + 3)) at_ += 3;
            else break;
        }
        if (digits.empty()) fail("a number");
        return std::stod(digits);
    }
    /// The value of the longest symbol that stands here.
    double named() {
        const std::pair<const std::string, double>* best = nullptr;
        for (const auto& value : values_) {
            if (starts(value.first) && !inName(at_ + value.first.size()) && (best == nullptr || value.first.size() > best->first.size())) best = &value;
        }
        if (best == nullptr) fail("a known symbol");
        at_ += best->first.size();
        return best->second;
    }
    double primary() {
        spaces();
        if (take("(")) return closed();
        if (take("π")) return std::numbers::pi;
        if (take("√(")) return std::sqrt(closed());
        for (const char* name : {"exp", "sin", "cos", "acos", "atan", "floor"}) {
            if (!take(std::string(name) + "(")) continue;
            const double x = closed();
            const std::string function = name;
            return function == "exp" ? std::exp(x) : function == "sin" ? std::sin(x) : function == "cos" ? std::cos(x)
                 : function == "acos" ? std::acos(x) : function == "atan" ? std::atan(x) : std::floor(x);
        }
        for (const std::string name : {"min", "max", "mean"}) {
            if (!take(name + "(")) continue;
            std::vector<double> all;
            for (const auto& list : lists_) {
                if (name == "mean" && starts(list.first + ")")) {
                    all = list.second;
                    at_ += list.first.size();
                }
            }
            if (all.empty()) {
                do all.push_back(sum());
                while (take(","));
            }
            if (!take(")")) fail(")");
            double out = name == "mean" ? 0.0 : all.front();
            for (const double x : all) out = name == "min" ? std::min(out, x) : name == "max" ? std::max(out, x) : out + x / static_cast<double>(all.size());
            return out;
        }
        return number();
    }

    const std::string& text_;
    const Values& values_;
    const Lists& lists_;
    std::size_t at_ = 0;
};

}  // namespace linefall::test
