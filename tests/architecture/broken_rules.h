#pragma once
// Reads a tree of sources and says which rules it breaks.

#include <algorithm>
#include <functional>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "rules.h"

namespace linefall::architecture {

/// The text without comments, and without the contents of literals unless asked to keep them. Lines stay where they are.
inline std::string bare(const std::string& text, bool keep_literals) {
    std::string out;
    const auto copy = [&](char c, bool keep) {
        if (keep || c == '\n') out += c;
    };
    for (std::size_t i = 0; i < text.size();) {
        if (text.compare(i, 2, "//") == 0) {
            while (i < text.size() && text[i] != '\n') ++i;
        } else if (text.compare(i, 2, "/*") == 0) {
            const std::size_t end = std::min(text.size(), text.find("*/", i + 2) == std::string::npos ? text.size() : text.find("*/", i + 2) + 2);
            for (; i < end; ++i) copy(text[i], false);
        } else if (text.compare(i, 2, "R\"") == 0) {
            const std::size_t open = text.find('(', i);
            const std::string close = open == std::string::npos ? "" : ")" + text.substr(i + 2, open - i - 2) + "\"";
            const std::size_t found = open == std::string::npos ? open : text.find(close, open);
            const std::size_t end = found == std::string::npos ? text.size() : found + close.size();
            for (; i < end; ++i) copy(text[i], keep_literals);
        } else if (text[i] == '"' || (text[i] == '\'' && (i == 0 || !std::isalnum(static_cast<unsigned char>(text[i - 1]))))) {
            const char quote = text[i];
            copy(text[i++], keep_literals);
            while (i < text.size() && text[i] != quote && text[i] != '\n') {
                if (text[i] == '\\' && i + 1 < text.size()) copy(text[i++], keep_literals);
                copy(text[i++], keep_literals);
            }
            if (i < text.size()) copy(text[i++], keep_literals);
        } else {
            out += text[i++];
        }
    }
    return out;
}

struct Include {
    int line = 0;
    std::string name;
    bool quoted = false;
};

inline std::vector<Include> includesOf(const std::string& text) {
    std::vector<Include> out;
    std::istringstream lines(bare(text, true));
    std::string line;
    for (int number = 1; std::getline(lines, line); ++number) {
        std::size_t at = line.find_first_not_of(" \t");
        if (at == std::string::npos || line[at] != '#') continue;
        at = line.find_first_not_of(" \t", at + 1);
        if (at == std::string::npos || line.compare(at, 7, "include") != 0) continue;
        at = line.find_first_of("\"<", at);
        const std::size_t end = at == std::string::npos ? at : line.find_first_of("\">", at + 1);
        if (end == std::string::npos) {
            out.push_back({number, "", false});  // a macro as a header's name: refused below
            continue;
        }
        out.push_back({number, line.substr(at + 1, end - at - 1), line[at] == '"'});
    }
    return out;
}

inline bool beginsWith(const std::string& text, const std::string& beginning) { return text.compare(0, beginning.size(), beginning) == 0; }

/// "src/physics/sun.cpp" -> "physics"; "src/main.cpp" -> "main"; anything else right under src -> "".
inline std::string moduleOf(const std::string& path) {
    const std::size_t slash = path.find('/', 4);
    if (slash != std::string::npos) return path.substr(4, slash - 4);
    return path == "src/main.cpp" ? "main" : "";
}

/// "src/physics/sun_position.cpp" -> "sun_position".
inline std::string stemOf(const std::string& path) {
    const std::size_t begin = path.rfind('/') + 1;
    return path.substr(begin, path.rfind('.') - begin);
}

/// Whether two stems belong to one stage: equal, or one is the other with a word added.
inline bool sameStage(const std::string& a, const std::string& b) { return a == b || beginsWith(a, b + "_") || beginsWith(b, a + "_"); }

inline std::string listed(const Names& names) {
    std::string out;
    for (const std::string& name : names) out += (out.empty() ? "" : ", ") + name;
    return out.empty() ? "nothing" : out;
}

inline bool allowed(const Names& places, const std::string& path) { return places.count(path) > 0 || places.count(moduleOf(path)) > 0; }

/// Every broken rule of a tree, one sentence each. `used` gathers the stage exceptions that were needed.
inline Complaints brokenRules(const Tree& tree, std::set<std::pair<std::string, std::string>>* used = nullptr) {
    Complaints complaints;
    std::map<std::string, Names> users;                      // library -> files, for those allowed in one file
    std::map<std::string, std::vector<std::string>> leads;   // file -> own files that it includes

    for (const auto& [name_of_file, text] : tree) {
        const std::string& path = name_of_file;  // Clang 14 lets no lambda see a structured binding
        if (beginsWith(path, "tests/")) {
            // CTest's lists are split at semicolons: such a test would run twice under halves of its name.
            std::istringstream lines(text);
            std::string line;
            for (int number = 1; std::getline(lines, line); ++number) {
                const std::size_t name = line.find("TEST_CASE(\"");
                if (name != std::string::npos && line.substr(name, line.find('"', name + 11) - name).find(';') != std::string::npos) {
                    complaints.push_back(path + ":" + std::to_string(number) + ": a test's name may not hold a semicolon");
                }
            }
            continue;
        }
        if (!beginsWith(path, "src/")) continue;
        const std::string module = moduleOf(path);
        if (arrows.count(module) == 0) {
            complaints.push_back(path + ": belongs to no known module");
            continue;
        }
        for (const Include& include : includesOf(text)) {
            const auto complain = [&](const std::string& what) {
                complaints.push_back(path + ":" + std::to_string(include.line) + ": includes " + include.name + ": " + what);
            };
            if (include.name.empty()) {
                complain("a header's name must stand there as it is");
            } else if (include.quoted) {
                const std::string target = "src/" + include.name;
                if (tree.count(target) == 0) {
                    complain("no such file; own headers are named from src, in quotes");
                    continue;
                }
                leads[path].push_back(target);
                const std::string other = moduleOf(target);
                const Names& may = arrows.at(module);
                if (other != module && may.count(other) == 0) complain(module + " may include " + listed(may) + " and itself");
                if (module == "physics" && other == "physics") {
                    const std::pair<std::string, std::string> pair{stemOf(path), stemOf(target)};
                    if (pair.second == "signal" || sameStage(pair.first, pair.second)) continue;
                    if (stage_exceptions.count(pair) == 0) complain("a stage knows base and physics/signal.h, no other stage");
                    else if (used != nullptr) used->insert(pair);
                }
            } else if (const auto ration = rationed_headers.find(include.name); ration != rationed_headers.end()) {
                if (!allowed(ration->second, path)) complain("allowed in " + listed(ration->second));
            } else if (standard_headers.count(include.name) == 0) {
                const auto library = std::find_if(libraries.begin(), libraries.end(), [&](const Library& l) {
                    return std::any_of(l.headers.begin(), l.headers.end(), [&](const std::string& h) { return beginsWith(include.name, h); });
                });
                if (library == libraries.end()) {
                    complain("no known library, or a header that the web build lacks");
                } else {
                    if (!library->modules.empty() && library->modules.count(module) == 0) {
                        complain(library->name + " is for " + listed(library->modules));
                    }
                    if (library->one_file) users[library->name].insert(path);
                }
            }
        }

        std::istringstream lines(bare(text, false));
        std::string line;
        for (int number = 1; std::getline(lines, line); ++number) {
            for (const std::string& name : kept_off) {
                for (std::size_t at = line.find(name); at != std::string::npos; at = line.find(name, at + 1)) {
                    const char after = at + name.size() < line.size() ? line[at + name.size()] : ' ';
                    if (std::isalnum(static_cast<unsigned char>(after)) != 0 || after == '_') continue;
                    complaints.push_back(path + ":" + std::to_string(number) + ": uses " + name + ", which the web build lacks");
                }
            }
        }

        // A stage or instrument with a header of its own has a test of its own.
        if ((module == "physics" || module == "instruments") && path.size() > 4 && path.substr(path.size() - 4) == ".cpp" &&
            tree.count(path.substr(0, path.size() - 4) + ".h") > 0) {
            const std::string test = "tests/" + module + "/" + stemOf(path) + "_test.cpp";
            if (tree.count(test) == 0) complaints.push_back(path + ": has no test " + test);
        }
    }

    for (const auto& [library, files] : users) {
        if (files.size() > 1) complaints.push_back(library + " is slow to compile and allowed in one file, but in " + listed(files));
    }

    // Files that include each other in a ring.
    std::map<std::string, int> state;  // 1: on the way, 2: done
    std::vector<std::string> way;
    const std::function<void(const std::string&)> walk = [&](const std::string& file) {
        state[file] = 1;
        way.push_back(file);
        for (const std::string& next : leads[file]) {
            if (state[next] == 1) {
                std::string ring;
                for (auto at = std::find(way.begin(), way.end(), next); at != way.end(); ++at) ring += *at + " -> ";
                complaints.push_back("a ring of includes: " + ring + next);
            } else if (state[next] == 0) {
                walk(next);
            }
        }
        way.pop_back();
        state[file] = 2;
    };
    for (const auto& [path, text] : tree) {
        if (state[path] == 0) walk(path);
    }
    return complaints;
}

}  // namespace linefall::architecture
