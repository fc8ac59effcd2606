#include "base/problem.h"

#include <algorithm>
#include <numeric>

namespace linefall {

std::string Place::text() const {
    if (line <= 0) return file;
    return file + ":" + std::to_string(line) + ":" + std::to_string(column);
}

namespace {

/// What came from an input, fit for a terminal: control characters are spelled out, long text is cut between letters.
std::string printable(const std::string& text, std::size_t most) {
    constexpr char digits[] = "0123456789abcdef";
    std::string out;
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        const bool begins_letter = (byte & 0xc0) != 0x80;  // not a later byte of UTF-8
        if (out.size() >= most && begins_letter) return out + "...";
        if (byte < 0x20 || byte == 0x7f) out += std::string("\\x") + digits[byte >> 4] + digits[byte & 15];
        else out += c;
    }
    return out;
}

}  // namespace

std::string Problem::text() const {
    std::string out = printable(place.text(), 1000);
    if (!key.empty()) out += (out.empty() ? "" : ": ") + printable(key, 120);
    if (!read.empty()) out += ": read " + printable(read, 300);
    if (!expected.empty()) out += (read.empty() ? ": " : ", ") + std::string("expected ") + printable(expected, 3000);
    if (!nearest.empty()) out += "; did you mean '" + printable(nearest, 120) + "'?";
    return out;
}

std::string textOf(const Problems& problems) {
    std::string out;
    for (const Problem& problem : problems) {
        if (!out.empty()) out += '\n';
        out += problem.text();
    }
    return out;
}

namespace {

std::size_t editDistance(const std::string& a, const std::string& b) {
    std::vector<std::size_t> previous(b.size() + 1);
    std::iota(previous.begin(), previous.end(), std::size_t{0});
    std::vector<std::size_t> current(b.size() + 1);
    for (std::size_t i = 0; i < a.size(); ++i) {
        current[0] = i + 1;
        for (std::size_t j = 0; j < b.size(); ++j) {
            const std::size_t change = previous[j] + (a[i] == b[j] ? 0 : 1);
            current[j + 1] = std::min({change, previous[j + 1] + 1, current[j] + 1});
        }
        std::swap(previous, current);
    }
    return previous.back();
}

}  // namespace

std::string nearestName(const std::string& name, const std::vector<std::string>& known) {
    if (name.size() > 200) return "";
    std::string best;
    std::size_t best_distance = std::min(std::max<std::size_t>(2, name.size() / 3) + 1, name.size());
    for (const std::string& candidate : known) {
        const std::size_t distance = editDistance(name, candidate);
        if (distance < best_distance) {
            best_distance = distance;
            best = candidate;
        }
    }
    return best;
}

}  // namespace linefall
