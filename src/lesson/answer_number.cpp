// A number as a student writes it.

#include <cmath>
#include <cstdlib>

#include "lesson/answer.h"

namespace linefall {

namespace {

void replaceAll(std::string& text, const std::string& from, const std::string& to) {
    for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) text.replace(at, from.size(), to);
}

bool digit(char c) { return c >= '0' && c <= '9'; }

/// The number's characters: sign, digits, points, commas, thin spaces between groups of three, an exponent.
std::size_t numberEnd(const std::string& text) {
    std::size_t i = 0;
    if (i < text.size() && (text[i] == '+' || text[i] == '-')) ++i;
    while (i < text.size() && text[i] == ' ') ++i;
    const auto groupFollows = [&](std::size_t at) {  // "12 000": a blank and exactly three digits
        return at + 3 < text.size() && digit(text[at + 1]) && digit(text[at + 2]) && digit(text[at + 3]) && (at + 4 >= text.size() || !digit(text[at + 4]));
    };
    while (i < text.size() && (digit(text[i]) || text[i] == '.' || text[i] == ',' || (text[i] == ' ' && i > 0 && digit(text[i - 1]) && groupFollows(i)))) ++i;
    if (i < text.size() && (text[i] == 'e' || text[i] == 'E')) {
        std::size_t j = i + 1;
        if (j < text.size() && (text[j] == '+' || text[j] == '-')) ++j;
        if (j < text.size() && digit(text[j])) {
            while (j < text.size() && digit(text[j])) ++j;
            i = j;
        }
    }
    return i;
}

/// Points alone as decimal signs; empty where it may be read in two ways, or in none.
std::string withPoint(std::string number, std::string& problem) {
    std::string plain;
    for (const char c : number) {
        if (c != ' ') plain += c;
    }
    std::size_t commas = 0, points = 0;
    for (const char c : plain) commas += c == ',' ? 1 : 0, points += c == '.' ? 1 : 0;
    if (commas == 1 && points == 0) {
        const std::size_t comma = plain.find(',');
        std::size_t after = comma + 1, before = 0;
        while (after < plain.size() && digit(plain[after])) ++after;
        while (before < comma && !digit(plain[before])) ++before;
        const bool group = after - comma - 1 == 3 && comma > before && plain[before] != '0' && comma - before <= 3;
        if (group) {
            problem = "'" + number + "' may be " + plain.substr(0, comma) + plain.substr(comma + 1) + " or " + plain.substr(0, comma) + "." + plain.substr(comma + 1) + ": write it without a comma";
            return "";
        }
        plain[comma] = '.';
    } else if (commas > 0) {
        // "1,234.5" and "1,234,567": commas part groups of three when every one of them does
        const std::size_t point = std::min(plain.find('.'), plain.size());
        const bool grouped = plain.find(',', point) == std::string::npos && [&] {
            std::size_t run = 0;
            for (std::size_t i = point; i-- > 0 && (digit(plain[i]) || plain[i] == ',');) {
                if (plain[i] == ',') {
                    if (run != 3) return false;
                    run = 0;
                } else {
                    ++run;
                }
            }
            return run >= 1 && run <= 3;
        }();
        if (!grouped || points > 1) {
            problem = "'" + number + "' is not one number";
            return "";
        }
        std::string out;
        for (const char c : plain) {
            if (c != ',') out += c;
        }
        plain = out;
    }
    return plain;
}

}  // namespace

Amount ReadNumber::amount(const UnitOfText& otherwise) const {
    const UnitOfText& u = unit != nullptr ? *unit : otherwise;
    return {(number + u.offset) * u.scale, u.dimension};
}

ReadNumber readNumber(const std::string& text) {
    ReadNumber read;
    std::string plain = text.substr(0, 200);
    for (const char* minus : {"\xE2\x88\x92", "\xE2\x80\x93"}) replaceAll(plain, minus, "-");
    for (const char* blank : {"\xC2\xA0", "\xE2\x80\xAF", "\xE2\x80\x89", "\t"}) replaceAll(plain, blank, " ");
    while (!plain.empty() && (plain.back() == ' ' || plain.back() == '\n' || plain.back() == '\r')) plain.pop_back();
    plain.erase(0, std::min(plain.find_first_not_of(" \n\r"), plain.size()));
    for (const char* about : {"~", "= ", "=", "about ", "ca. "}) {
        if (plain.rfind(about, 0) == 0) plain.erase(0, std::string(about).size());
    }
    const std::size_t end = numberEnd(plain);
    bool any = false;
    for (std::size_t i = 0; i < end; ++i) any = any || digit(plain[i]);
    if (!any) {
        read.problem = plain.empty() ? "nothing was written: a number and its unit are expected" : "'" + plain.substr(0, 40) + "' does not begin with a number";
        return read;
    }
    const std::string number = withPoint(plain.substr(0, end), read.problem);
    if (!read.problem.empty()) return read;
    char* last = nullptr;
    read.number = std::strtod(number.c_str(), &last);
    if (*last != '\0' || !std::isfinite(read.number)) {
        read.problem = "'" + plain.substr(0, 40) + "' is not one number";
        return read;
    }
    std::string unit = plain.substr(end);
    unit.erase(0, std::min(unit.find_first_not_of(' '), unit.size()));
    if (unit.empty()) return read;
    read.unit = findUnit(unit);
    if (read.unit == nullptr && unit.back() == '.') read.unit = findUnit(unit.substr(0, unit.size() - 1));
    if (read.unit == nullptr) {
        std::vector<std::string> names;
        for (const UnitOfText& one : lessonUnits()) names.push_back(one.name);
        const std::string nearest = nearestName(unit, names);
        read.problem = "'" + unit.substr(0, 30) + "' is no unit that is known here" + (nearest.empty() ? ": units are written m, km, deg, s, m/s, %" : "; did you mean " + nearest + "?");
    }
    return read;
}

}  // namespace linefall
