#include "flight/walk_text.h"

#include <algorithm>
#include <cmath>

#include "base/angle.h"
#include "flight/light_stops.h"
#include "flight/walk_formulas.h"

namespace linefall {

namespace {

const char* const minus = "−";
const char* const thin_space = "\u2009";

void replaceAll(std::string& text, const std::string& from, const std::string& to) {
    for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) text.replace(at, from.size(), to);
}

/// "-1234567.80" as "−1 234 567.8": a proper sign, thin spaces, no zeros that say nothing.
std::string tidied(std::string digits) {
    if (digits.find('.') != std::string::npos) {
        while (digits.back() == '0') digits.pop_back();
        if (digits.back() == '.') digits.pop_back();
    }
    const bool negative = digits.front() == '-';
    if (negative) digits.erase(0, 1);
    const std::size_t whole = std::min(digits.find('.'), digits.size());
    if (whole > 3) {
        for (std::size_t at = whole; at > 3;) digits.insert(at -= 3, thin_space);
    }
    return (negative ? minus : "") + digits;
}

std::string raised(int exponent) {
    static const char* figures[] = {"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"};
    std::string out = exponent < 0 ? "⁻" : "";
    for (const char c : std::to_string(std::abs(exponent))) out += figures[c - '0'];
    return out;
}

/// A pure number; very small and very large ones with a power of ten: "3.54·10⁻¹⁹".
std::string numberText(double value, int figures) {
    if (!std::isfinite(value)) return "∞";
    const double size = std::abs(value);
    if (size == 0.0) return "0";
    if (size >= 1e-3 && size < 1e7) {
        if (size < 1e6 && value == std::round(value)) return tidied(std::to_string(std::llround(value)));
        return tidied(figuresText(value, figures));
    }
    int exponent = static_cast<int>(std::floor(std::log10(size)));
    std::string mantissa = figuresText(value / std::pow(10.0, exponent), figures);
    if (mantissa.rfind("10", 0) == 0 || mantissa.rfind("-10", 0) == 0) mantissa = figuresText(value / std::pow(10.0, ++exponent), figures);
    return tidied(mantissa) + "·10" + raised(exponent);
}

/// Figures that a value put into a formula needs, so that who types them into a calculator gets the result: places and
/// cosines are often subtracted from their like.
int figuresOf(const TraceRow& row) {
    const std::string& s = row.symbol;
    const bool share = s.rfind("p_", 0) == 0 || s.rfind("a_", 0) == 0;
    return row.unit == "m" || row.unit == "s" || share || s.rfind("cos", 0) == 0 || s == "n" ? 6 : row.unit == "rad" ? 5 : 4;
}

/// Less than a millionth of a metre or of a metre a second is a rounding error, and is written as nothing.
double withoutDust(const TraceRow& row, double value) {
    return (row.unit == "m" || row.unit == "m/s") && row.symbol != "p" && std::abs(value) < 1e-6 ? 0.0 : value;
}

std::string putIn(const TraceRow& row, double value) {
    value = withoutDust(row, value);
    if (row.unit == "rad") return numberText(degreesFromRadians(value), figuresOf(row)) + "°";
    return numberText(value, figuresOf(row));
}

std::string resultOf(const TraceRow& row) {
    const double value = withoutDust(row, row.value);
    if (row.unit == "rad") return numberText(degreesFromRadians(row.value), 4) + "°";
    if (row.unit == "counts") return tidied(std::to_string(std::lround(row.value))) + " counts";
    if (row.unit == "m" || row.unit == "s") {
        std::string text = shortText(value, row.unit == "m" ? Kind::length : Kind::time, 5);
        replaceAll(text, "-", minus);
        replaceAll(text, " u", " µ");
        return text;
    }
    if (row.unit == "W") return printedValue(row.value, row.unit);
    if (row.unit == "e") return numberText(std::abs(row.value) < 100.0 ? row.value : std::round(row.value), 4) + " e";
    return numberText(value, row.symbol.rfind("cos", 0) == 0 ? 5 : 4) + (row.unit.empty() ? "" : " " + printedUnit(row.unit));
}

/// Signs of a formula as a textbook sets them.
std::string typeset(std::string part) {
    replaceAll(part, "*", "·");
    replaceAll(part, "-", minus);
    replaceAll(part, "sqrt", "√");
    replaceAll(part, "pi", "π");
    replaceAll(part, std::string("10^") + minus + "34", "10⁻³⁴");
    replaceAll(part, std::string("10^") + minus + "6", "10⁻⁶");
    replaceAll(part, "^2", "²");
    replaceAll(part, "^4", "⁴");
    return part;
}

struct Filled {
    std::string symbols, values;
};

/// A formula with its braces filled: by printed symbols, and by values.
Filled filled(const std::string& formula, const WalkScope& scope) {
    Filled out;
    std::size_t at = 0;
    while (at < formula.size()) {
        const std::size_t open = formula.find('{', at);
        const std::string between = typeset(formula.substr(at, open == std::string::npos ? open : open - at));
        out.symbols += between;
        out.values += between;
        if (open == std::string::npos) break;
        const std::size_t close = formula.find('}', open);
        const std::string symbol = formula.substr(open + 1, close - open - 1);
        const TraceRow& row = *scope.row(symbol);
        const bool raisedNext = close + 1 < formula.size() && formula[close + 1] == '^';
        const std::string printed = printedSymbol(symbol);
        out.symbols += raisedNext && printed.find(' ') != std::string::npos ? "(" + printed + ")" : printed;
        std::string value;
        if (formula.compare(0, 5, "mean(") == 0) {
            for (const double one : scope.ofLooks(symbol)) value += (value.empty() ? "" : ", ") + putIn(row, one);
        } else {
            value = putIn(row, row.value);
            const std::size_t before = open == 0 ? std::string::npos : formula.find_last_not_of(' ', open - 1);
            const bool sign = value.rfind(minus, 0) == 0, power = value.find("·10") != std::string::npos;
            const bool divided = before != std::string::npos && formula[before] == '/';
            const bool follows = before != std::string::npos && std::string("+-*/^").find(formula[before]) != std::string::npos;
            if ((sign && (follows || raisedNext)) || (power && (divided || raisedNext))) value = "(" + value + ")";
        }
        out.values += value;
        at = close + 1;
    }
    return out;
}

/// Mean over the looks where it differs from this look's value by what can be seen.
std::string meanOf(const WalkScope& scope, const TraceRow& row) {
    if (row.contribution < 0 || scope.looks() < 2 || row.symbol == "L_a") return "";
    const std::vector<double> all = scope.ofLooks(row.symbol);
    TraceRow mean = row;
    mean.value = 0.0;
    for (const double one : all) mean.value += one / static_cast<double>(all.size());
    const std::string text = resultOf(mean);
    return text == resultOf(row) ? "" : text;
}

constexpr int most_listed_looks = 16;

}  // namespace

std::vector<WalkRow> walkRows(const Why& why, const Formation& formation, int band) {
    const WalkScope scope(why, formation, band);
    std::vector<WalkRow> rows;
    std::string before;
    for (const WalkFormula& step : walkFormulas()) {
        const TraceRow* traced = scope.row(step.symbol);
        if (traced == nullptr || step.symbol == before || (step.when != nullptr && !step.when(scope))) continue;
        before = step.symbol;
        WalkRow row;
        row.stop = step.stop;
        row.symbol = printedSymbol(step.symbol);
        row.meaning = traced->meaning;
        row.words = step.words;
        if (step.say != nullptr) row.words += (row.words.empty() ? "" : "; ") + step.say(scope);
        if (step.formula[0] != '\0') {
            Filled formula = filled(step.formula, scope);
            row.formula = formula.symbols;
            // A formula of one symbol says its value as the result; a long list of looks says nothing.
            const bool one_symbol = formula.values.find_first_of(" (") == std::string::npos;
            const bool long_list = formula.symbols.rfind("mean(", 0) == 0 && scope.looks() > most_listed_looks;
            if (!one_symbol && !long_list) row.values = formula.values;
        }
        row.result = resultOf(*traced);
        row.value = traced->value;
        row.mean = meanOf(scope, *traced);
        rows.push_back(std::move(row));
    }
    return rows;
}

std::vector<std::string> walkHeading(const WalkTitle& title, const Why& why, const Formation& formation) {
    const auto metres = [](double value, int figures) {
        std::string text = shortText(std::abs(value) < 1e-6 ? 0.0 : value, Kind::length, figures);
        replaceAll(text, "-", minus);
        return text;
    };
    const auto at = [&](const Vec3& p) { return metres(p.x, 5) + " east, " + metres(p.y, 5) + " north, " + metres(p.z, 4) + " above datum"; };
    std::vector<std::string> lines;
    lines.push_back(title.place + ", " + title.instrument + ": line " + std::to_string(why.line) + ", sample " + std::to_string(why.sample) + ", " +
                    shortText(why.time_s, Kind::time, 6) + " after the start");
    lines.push_back("the sensor is at " + at(why.pose.position_m));
    if (why.hit.meets == Meets::sky) {
        lines.push_back("it looks past the ground into the sky");
        return lines;
    }
    const char* met = why.hit.meets == Meets::terrain ? "terrain" : why.hit.meets == Meets::object ? "an object" : "the plane beyond the place";
    lines.push_back(std::string("it meets ") + (why.object.empty() ? met : why.object.c_str()) + " (" + why.material + ") at " + at(why.hit.point_m));
    if (why.moving) {
        lines.push_back("it moves at " + shortText(why.moving->speed_m_s, Kind::speed, 3) + " towards " + shortText(why.moving->track_rad, Kind::angle, 3) +
                        " clockwise from north, and is met where it stood at that time");
    }
    lines.push_back("view incidence " + shortText(why.view_incidence_rad, Kind::angle) + ", sun incidence " + shortText(why.sun_incidence_rad, Kind::angle) +
                    ", local incidence " + shortText(why.local_incidence_rad, Kind::angle));
    if (why.blocked_at_m && formation.lightPath().effects.cast_shadow)
        lines.push_back("the way to the sun is blocked by " + why.blocked_by + " at " + at(*why.blocked_at_m));
    return lines;
}

std::string walkText(const WalkTitle& title, const Why& why, const Formation& formation, const std::vector<int>& bands) {
    std::string text = "Why this pixel?\n";
    for (const std::string& line : walkHeading(title, why, formation)) text += line + "\n";
    text += "A simulated picture of an invented place. Teaching model only: not for survey, navigation, engineering or safety decisions.\n"
            "Never look at the sun through an optic.\n";
    for (const int band : bands) {
        text += "\n==== band " + formation.instrument().bands()[static_cast<std::size_t>(band)].name + " ====\n";
        int stop = -1;
        for (const WalkRow& row : walkRows(why, formation, band)) {
            if (row.stop != stop) {
                stop = row.stop;
                const Stop& now = lightStops()[static_cast<std::size_t>(stop)];
                text += "\n" + std::to_string(stop + 1) + " " + now.name + ": " + now.sentence + "\n";
            }
            text += "\n  " + row.symbol + "  " + row.meaning + "\n";
            if (!row.formula.empty()) text += "    = " + row.formula + (row.words.empty() ? "" : "    (" + row.words + ")") + "\n";
            if (!row.values.empty()) text += "    = " + row.values + "\n";
            text += "    = " + row.result + (row.formula.empty() && !row.words.empty() ? "    (" + row.words + ")" : "") + "\n";
            if (!row.mean.empty()) text += "    mean of all looks of the sample: " + row.mean + "\n";
        }
    }
    text += "\ncounts (DN)";
    for (std::size_t b = 0; b < why.counts.size(); ++b) text += (b == 0 ? " " : ", ") + formation.instrument().bands()[b].name + " " + std::to_string(why.counts[b]);
    return text + "\n";
}

std::string walkFileName(const WalkTitle& title, const Why& why) {
    const auto plain = [](const std::string& words) {
        std::string out;
        for (const char c : words) {
            const bool capital = c >= 'A' && c <= 'Z';
            if (capital || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) out += capital ? static_cast<char>(c - 'A' + 'a') : c;
            else if (!out.empty() && out.back() != '-') out += '-';
        }
        while (!out.empty() && out.back() == '-') out.pop_back();
        return out.substr(0, 60);
    };
    const std::string place = plain(title.place), instrument = plain(title.instrument);
    return "why-" + (place.empty() ? "place" : place) + "-" + (instrument.empty() ? "instrument" : instrument) + "-line-" + std::to_string(why.line) +
           "-sample-" + std::to_string(why.sample) + ".txt";
}

}  // namespace linefall
