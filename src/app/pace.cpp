#include "app/pace.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "app/clock.h"
#include "base/quantity.h"

namespace linefall {

namespace {

/// "20000" as "20 000".
std::string grouped(long long value) {
    std::string digits = std::to_string(value);
    for (int at = static_cast<int>(digits.size()) - 3; at > 0; at -= 3) digits.insert(static_cast<std::size_t>(at), " ");
    return digits;
}

void takeOut(std::string& text, const std::string& part) {
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part)) text.erase(at, part.size());
}

}  // namespace

std::string paceText(double pace) {
    if (pace >= 0.995) return "× " + figuresText(pace, 3);
    const double part = 1.0 / pace;
    if (part < 9.95) return "1/" + figuresText(part, 3);
    const double unit = std::pow(10.0, std::floor(std::log10(part)) - 2.0);  // three figures
    return "1/" + grouped(std::llround(std::round(part / unit) * unit));
}

std::optional<double> readPace(std::string text) {
    for (const char* part : {"of real time", "real time", "times", "×", "x", "X", " "}) takeOut(text, part);
    const std::size_t stroke = text.find('/');
    const ParsedQuantity above = parseQuantity(text.substr(0, stroke), Kind::number);
    if (!above.ok()) return std::nullopt;
    double pace = above.value;
    if (stroke != std::string::npos) {
        const ParsedQuantity below = parseQuantity(text.substr(stroke + 1), Kind::number);
        if (!below.ok() || below.value <= 0.0) return std::nullopt;
        pace /= below.value;
    }
    // The ends of the range are typed as decimal fractions, which no double holds.
    if (pace < SimClock::least_pace * (1.0 - 1e-9) || pace > SimClock::most_pace * (1.0 + 1e-9)) return std::nullopt;
    return pace;
}

const char* paceExpected() { return "expected 1/100 000 to 1000 times real time, for example 1/20 000 or × 0.00005"; }

std::string shownTime(double time_s, int figures) {
    std::string words = shortText(time_s, Kind::time, figures);
    if (words.ends_with(" us")) words.replace(words.size() - 2, 1, "µ");
    return words;
}

std::string timeText(double time_s, double resolution_s) {
    const int decimals = std::clamp(static_cast<int>(std::ceil(-std::log10(std::max(1e-12, resolution_s)))), 0, 9);
    char digits[64];
    std::snprintf(digits, sizeof digits, "%.*f s", decimals, time_s);
    return digits;
}

}  // namespace linefall
