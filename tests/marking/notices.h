#pragma once
// What tests look for among notices.

#include <algorithm>
#include <string>
#include <vector>

#include "marking/handed_in.h"

namespace linefall::test {

/// What is said of a file, separated by commas.
inline std::string whatOf(const std::vector<Notice>& notices, const std::string& file) {
    std::string out;
    for (const Notice& notice : notices) {
        if (notice.file == file) out += (out.empty() ? "" : ", ") + notice.what;
    }
    return out;
}

/// The first notice of that kind, or null.
inline const Notice* find(const std::vector<Notice>& notices, const std::string& what) {
    const auto at = std::find_if(notices.begin(), notices.end(), [&](const Notice& n) { return n.what == what; });
    return at == notices.end() ? nullptr : &*at;
}

/// The text with the first `from` in it replaced.
inline std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    if (at != std::string::npos) text.replace(at, from.size(), to);
    return text;
}

}  // namespace linefall::test
