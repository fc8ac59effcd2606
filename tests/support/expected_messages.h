#pragma once
// The messages that a file under tests/bad says it must give.

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>
#include "support/folders.h"

namespace linefall::test {

/// Paths of all bad files, sorted.
inline std::vector<std::string> badFiles() {
    std::vector<std::string> files;
    for (const auto& entry : std::filesystem::directory_iterator(testsFolder() + "/bad")) {
        if (entry.path().extension() == ".toml") files.push_back(entry.path().string());
    }
    std::sort(files.begin(), files.end());
    return files;
}

/// The lines "# expect: ..." at the top of a file.
inline std::vector<std::string> expectedMessages(const std::string& file) {
    const std::string mark = "# expect: ";
    std::vector<std::string> out;
    std::ifstream in(file);
    for (std::string line; std::getline(in, line) && line.rfind(mark, 0) == 0;) out.push_back(line.substr(mark.size()));
    return out;
}

/// A message without the path of the file it is about, and with TESTS for the folder of the tests.
inline std::string withoutPath(std::string message, const std::string& file) {
    if (message.rfind(file, 0) == 0) message.erase(0, file.size() + 1);
    const std::string tests = testsFolder();
    for (std::size_t at; (at = message.find(tests)) != std::string::npos;) message.replace(at, tests.size(), "TESTS");
    // Pictures are named with the folder that the place file was given with.
    const std::string bad = "TESTS/bad/";
    if (const std::size_t at = message.find("read " + bad); at != std::string::npos) message.erase(at + 5, bad.size());
    if (message.rfind(' ', 0) == 0) message.erase(0, 1);
    return message;
}

/// True when `text` is the pattern, where "[...]" stands for any text.
inline bool matches(const std::string& text, const std::string& pattern) {
    const std::string gap = "[...]";
    std::size_t at = 0;
    std::size_t from = 0;
    bool first = true;
    while (true) {
        const std::size_t end = pattern.find(gap, from);
        const std::string piece = pattern.substr(from, end == std::string::npos ? end : end - from);
        if (end == std::string::npos) {
            if (first) return text == pattern;
            return text.size() >= at + piece.size() && text.compare(text.size() - piece.size(), piece.size(), piece) == 0;
        }
        const std::size_t found = text.find(piece, at);
        if (found == std::string::npos || (first && found != 0)) return false;
        at = found + piece.size();
        from = end + gap.size();
        first = false;
    }
}

}  // namespace linefall::test
