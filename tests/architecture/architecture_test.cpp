// The walls of the house: what each module may include. The compiler cannot guard them, since Debian's headers are found
// without any flag and all our own headers share one root, so this test reads every #include under src/.
//
// The checker is a function over a tree of texts: the first tests feed it broken trees and see each rule fail, the last
// one feeds it the real sources.
#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <functional>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <vector>
#include "support/folders.h"

namespace {

using Tree = std::map<std::string, std::string>;  // path from the top ("src/base/angle.h") -> text
using Names = std::set<std::string>;
using Complaints = std::vector<std::string>;

// ---------------------------------------------------------------------------------------------------------- the rules

/// What each module may include besides itself. Nothing points back; app and command do not know each other.
const std::map<std::string, Names> arrows{
    {"base", {}},
    {"ground", {"base"}},
    {"physics", {"base"}},
    {"instruments", {"base", "ground", "physics"}},
    {"scene", {"base", "ground", "physics", "instruments"}},
    {"flight", {"base", "ground", "physics", "instruments", "scene"}},
    {"measure", {"base", "ground", "physics", "instruments", "scene", "flight"}},
    {"lesson", {"base", "ground", "physics", "instruments", "scene", "flight", "measure"}},
    {"view", {"base", "ground", "physics", "instruments", "scene", "flight"}},
    {"figure", {"base", "ground", "physics", "instruments", "scene", "flight", "measure", "view"}},
    {"app", {"base", "ground", "physics", "instruments", "scene", "flight", "measure", "lesson", "view", "figure"}},
    {"command", {"base", "ground", "physics", "instruments", "scene", "flight", "measure", "lesson", "view", "figure"}},
    {"main", {"base", "ground", "physics", "instruments", "scene", "flight", "measure", "lesson", "view", "figure", "app", "command"}},
};

/// A stage of the light path knows base, the signals that travel between stages, and its own files (sun_position belongs
/// to sun). These pairs are the exceptions: stage, and what it asks besides.
const std::set<std::pair<std::string, std::string>> stage_exceptions{
    {"sun", "calendar"},           // where the sun stands is a matter of time and place
    {"sun", "solar_spectrum"},     // and what it sends a matter of wavelength
    {"sun_position", "calendar"},
    {"sun_path", "sun_position"},  // the same sun, once every few minutes
};

struct Library {
    std::string name;
    std::vector<std::string> headers;  ///< beginnings of header names
    Names modules;                     ///< where it may be included; empty: anywhere
    bool one_file = false;             ///< in a single file only, because it is slow to compile
};

const std::vector<Library> libraries{
    {"glm", {"glm/"}, {}},
    {"fmt", {"fmt/"}, {}},
    {"ERFA", {"erfa"}, {"physics"}},
    {"toml++", {"toml++/"}, {"scene", "lesson"}},
    {"libpng", {"png.h"}, {"scene"}},
    {"stb", {"stb/", "stb_"}, {"scene"}},
    {"nlohmann json", {"nlohmann/"}, {"command", "app", "lesson"}},
    {"md4c", {"md4c"}, {"lesson"}},
    {"CLI11", {"CLI/"}, {"command"}, true},
    {"OpenGL", {"glad/", "GL/", "GLES", "EGL/", "KHR/"}, {"view"}},
    {"SDL", {"SDL"}, {"app"}},
    {"Dear ImGui", {"imgui", "backends/imgui"}, {"app"}},
    {"FreeType", {"ft2build.h", "freetype/"}, {"app", "figure"}},
    {"Cairo", {"cairo"}, {"figure"}},
    {"the operating system", {"unistd.h", "sys/", "fcntl.h", "termios.h", "poll.h", "pwd.h"}, {"app", "command"}},
};

/// Standard headers that only some files may include: "module" or "src/module/file.cpp".
const std::map<std::string, Names> rationed_headers{
    {"thread", {"src/base/threads.cpp"}},
    {"condition_variable", {"src/base/threads.cpp"}},
    {"future", {}},
    {"mutex", {"src/base/threads.cpp", "scene", "flight", "app"}},
    {"shared_mutex", {"src/base/threads.cpp"}},
    {"atomic", {"src/base/threads.cpp", "src/base/threads.h", "scene", "flight", "app", "command"}},
    {"csignal", {"command", "app"}},
    {"csetjmp", {"scene"}},
    // The core needs no files: it is handed what was read.
    {"filesystem", {"scene", "flight", "lesson", "view", "figure", "app", "command"}},
    {"fstream", {"scene", "flight", "lesson", "view", "figure", "app", "command"}},
    {"iostream", {"app", "command", "main"}},
    {"cstdio", {"scene", "flight", "lesson", "app", "command", "main"}},
};

/// Every other standard header that our compilers and a web build (Clang 14 with libc++ 13) share.
const Names standard_headers{
    "algorithm", "any", "array", "bit", "bitset", "cassert", "cctype", "cerrno", "cfenv", "cfloat", "chrono", "cinttypes",
    "climits", "clocale", "cmath", "compare", "complex", "concepts", "cstdarg", "cstddef", "cstdint", "cstdlib", "cstring",
    "ctime", "deque", "exception", "forward_list", "functional", "initializer_list", "iomanip", "ios", "iosfwd", "istream",
    "iterator", "limits", "list", "locale", "map", "memory", "new", "numbers", "numeric", "optional", "ostream", "queue",
    "ratio", "set", "span", "sstream", "stack", "stdexcept", "streambuf", "string", "string_view", "system_error", "tuple",
    "type_traits", "typeindex", "typeinfo", "unordered_map", "unordered_set", "utility", "valarray", "variant", "vector",
    "version"};

/// Names that a web build lacks, or that differ between libraries.
const std::vector<std::string> kept_off{
    "std::format", "std::ranges", "std::views", "std::bit_cast", "std::source_location", "std::jthread", "std::atomic_ref",
    "std::pmr", "std::from_chars", "std::to_chars", "std::execution", "co_await", "co_yield", "co_return"};

// -------------------------------------------------------------------------------------------------------- the checker

/// The text without comments, and without the contents of literals unless asked to keep them. Lines stay where they are.
std::string bare(const std::string& text, bool keep_literals) {
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

std::vector<Include> includesOf(const std::string& text) {
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

bool beginsWith(const std::string& text, const std::string& beginning) { return text.compare(0, beginning.size(), beginning) == 0; }

/// "src/physics/sun.cpp" -> "physics"; "src/main.cpp" -> "main"; anything else right under src -> "".
std::string moduleOf(const std::string& path) {
    const std::size_t slash = path.find('/', 4);
    if (slash != std::string::npos) return path.substr(4, slash - 4);
    return path == "src/main.cpp" ? "main" : "";
}

/// "src/physics/sun_position.cpp" -> "sun_position".
std::string stemOf(const std::string& path) {
    const std::size_t begin = path.rfind('/') + 1;
    return path.substr(begin, path.rfind('.') - begin);
}

/// Whether two stems belong to one stage: equal, or one is the other with a word added.
bool sameStage(const std::string& a, const std::string& b) { return a == b || beginsWith(a, b + "_") || beginsWith(b, a + "_"); }

std::string listed(const Names& names) {
    std::string out;
    for (const std::string& name : names) out += (out.empty() ? "" : ", ") + name;
    return out.empty() ? "nothing" : out;
}

bool allowed(const Names& places, const std::string& path) { return places.count(path) > 0 || places.count(moduleOf(path)) > 0; }

/// Every broken rule of a tree, one sentence each. `used` gathers the stage exceptions that were needed.
Complaints brokenRules(const Tree& tree, std::set<std::pair<std::string, std::string>>* used = nullptr) {
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

/// The sources and the tests.
Tree realTree() {
    namespace fs = std::filesystem;
    const fs::path top = fs::path(linefall::sourceFolder());
    Tree tree;
    for (const char* folder : {"src", "tests"}) {
        for (const auto& entry : fs::recursive_directory_iterator(top / folder)) {
            const std::string extension = entry.path().extension().string();
            if (!entry.is_regular_file() || (extension != ".h" && extension != ".cpp")) continue;
            std::ostringstream text;
            text << std::ifstream(entry.path()).rdbuf();
            tree[fs::relative(entry.path(), top).generic_string()] = text.str();
        }
    }
    return tree;
}

/// That a tree breaks exactly one rule, and that the complaint says so.
void checkBroken(const Tree& tree, const std::string& words) {
    const Complaints complaints = brokenRules(tree);
    CAPTURE(complaints, words);
    REQUIRE(complaints.size() == 1);
    CHECK(complaints[0].find(words) != std::string::npos);
}

void checkSound(const Tree& tree) {
    const Complaints complaints = brokenRules(tree);
    CAPTURE(complaints);
    CHECK(complaints.empty());
}

/// A file of a module that includes another module's header.
Tree arrow(const std::string& from, const std::string& to) {
    Tree tree{{"src/" + to + "/thing.h", "#pragma once\n"}};
    tree[from == "main" ? "src/main.cpp" : "src/" + from + "/own.h"] = "#include \"" + to + "/thing.h\"\n";
    return tree;
}

}  // namespace

TEST_CASE("an arrow that points back is found, for every pair of modules") {
    int sound = 0;
    int broken = 0;
    for (const auto& [from, may] : arrows) {
        for (const auto& [to, unused] : arrows) {
            if (from == to || to == "main") continue;
            INFO(from << " includes " << to);
            if (may.count(to) > 0) {
                checkSound(arrow(from, to));
                ++sound;
            } else {
                checkBroken(arrow(from, to), from + " may include");
                ++broken;
            }
        }
    }
    CHECK(sound == 73);
    CHECK(broken == 71);
}

TEST_CASE("the arrows never form a ring between modules") {
    for (const auto& [from, may] : arrows) {
        for (const std::string& to : may) {
            INFO(from << " and " << to);
            CHECK(arrows.at(to).count(from) == 0);
        }
    }
}

TEST_CASE("nothing includes main, and nothing lies outside a module") {
    checkBroken({{"src/base/a.h", "#include \"main.cpp\"\n"}, {"src/main.cpp", ""}}, "base may include nothing and itself");
    checkBroken({{"src/helpers.h", ""}}, "belongs to no known module");
    checkBroken({{"src/utils/helpers.h", ""}}, "belongs to no known module");
}

TEST_CASE("own headers are named from src in quotes, and exist") {
    checkBroken({{"src/base/a.h", "#include \"b.h\"\n"}, {"src/base/b.h", ""}}, "src/base/a.h:1: includes b.h: no such file");
    checkBroken({{"src/base/a.h", "\n\n#include \"../base/b.h\"\n"}, {"src/base/b.h", ""}}, "src/base/a.h:3:");
    checkBroken({{"src/base/a.h", "#include <base/b.h>\n"}, {"src/base/b.h", ""}}, "no known library");
    checkBroken({{"src/base/a.h", "#include HEADER\n"}}, "as it is");
    checkSound({{"src/base/a.h", "#include \"base/b.h\"\n"}, {"src/base/b.h", ""}});
}

TEST_CASE("a stage of the light path knows no other stage") {
    const auto stage = [](const std::string& from, const std::string& to) {
        return Tree{{"src/physics/" + from, "#include \"physics/" + to + "\"\n"}, {"src/physics/" + to, ""}};
    };
    checkBroken(stage("optics.h", "detector.h"), "a stage knows base and physics/signal.h");
    checkBroken(stage("noise.h", "sun.h"), "no other stage");
    checkBroken(stage("sunglint.h", "sun.h"), "no other stage");
    checkBroken(stage("calendar.h", "sun.h"), "no other stage");
    checkSound(stage("optics.h", "signal.h"));
    checkSound(stage("sun_position.h", "sun.h"));
    checkSound(stage("sun.h", "sun_position.h"));
    for (const auto& [from, to] : stage_exceptions) checkSound(stage(from + ".h", to + ".h"));
}

TEST_CASE("stages and instruments have tests of the same name") {
    const Tree header{{"src/physics/optics.h", ""}, {"src/physics/optics.cpp", ""}};
    checkBroken(header, "has no test tests/physics/optics_test.cpp");
    Tree tested = header;
    tested["tests/physics/optics_test.cpp"] = "";
    checkSound(tested);
    checkBroken({{"src/instruments/radar.h", ""}, {"src/instruments/radar.cpp", ""}}, "tests/instruments/radar_test.cpp");
    tested["src/physics/optics_glass.cpp"] = "";  // a part without a header is tested through its stage
    checkSound(tested);
}

TEST_CASE("an outside library in the wrong module is found, for every library and module") {
    int broken = 0;
    for (const Library& library : libraries) {
        for (const auto& [module, unused] : arrows) {
            const std::string path = module == "main" ? "src/main.cpp" : "src/" + module + "/a.cpp";
            const Tree tree{{path, "#include <" + library.headers.front() + (library.headers.front().back() == '/' ? "x.h" : "") + ">\n"}};
            INFO(library.name << " in " << module);
            if (library.modules.empty() || library.modules.count(module) > 0) {
                checkSound(tree);
            } else {
                checkBroken(tree, library.name + " is for");
                ++broken;
            }
        }
    }
    CHECK(broken > 100);
    checkBroken({{"src/app/a.cpp", "#include <boost/any.hpp>\n"}}, "no known library");
    checkBroken({{"src/app/a.cpp", "#include <glad/gl.h>\n"}}, "OpenGL is for view");
    checkBroken({{"src/view/a.cpp", "#include <SDL2/SDL.h>\n"}}, "SDL is for app");
    checkBroken({{"src/view/a.cpp", "  #  include <imgui/imgui.h>\n"}}, "Dear ImGui is for app");
}

TEST_CASE("a library that is slow to compile stays in one file") {
    checkSound({{"src/command/a.cpp", "#include <CLI/CLI.hpp>\n"}});
    checkBroken({{"src/command/a.cpp", "#include <CLI/CLI.hpp>\n"}, {"src/command/b.cpp", "#include <CLI/App.hpp>\n"}},
                "CLI11 is slow to compile and allowed in one file, but in src/command/a.cpp, src/command/b.cpp");
}

TEST_CASE("threads start in one file, and files are read at the edges") {
    checkSound({{"src/base/threads.cpp", "#include <thread>\n#include <mutex>\n#include <atomic>\n#include <condition_variable>\n"}});
    checkBroken({{"src/base/raster.cpp", "#include <thread>\n"}}, "allowed in src/base/threads.cpp");
    checkBroken({{"src/app/a.cpp", "#include <thread>\n"}}, "allowed in src/base/threads.cpp");
    checkBroken({{"src/app/a.cpp", "#include <future>\n"}}, "allowed in nothing");
    checkBroken({{"src/physics/a.cpp", "#include <atomic>\n"}}, "allowed in");
    checkBroken({{"src/ground/a.cpp", "#include <mutex>\n"}}, "allowed in");
    checkBroken({{"src/physics/a.cpp", "#include <fstream>\n"}}, "allowed in");
    checkBroken({{"src/instruments/a.cpp", "#include <filesystem>\n"}}, "allowed in");
    checkBroken({{"src/flight/a.cpp", "#include <iostream>\n"}}, "allowed in");
    checkSound({{"src/scene/a.cpp", "#include <fstream>\n#include <filesystem>\n"}});
}

TEST_CASE("what a web build lacks is kept off") {
    for (const char* header : {"format", "ranges", "source_location", "coroutine", "charconv", "memory_resource", "execution",
                               "syncstream", "stop_token", "latch", "barrier", "semaphore", "regex", "random", "math.h"}) {
        INFO(header);
        checkBroken({{"src/app/a.cpp", "#include <" + std::string(header) + ">\n"}}, "no known library, or a header that the web build lacks");
    }
    for (const std::string& name : kept_off) {
        INFO(name);
        checkBroken({{"src/app/a.cpp", "int a;\nvoid f() { " + name + "(x); }\n"}}, "src/app/a.cpp:2: uses " + name);
    }
    checkSound({{"src/app/a.cpp", "std::formatter f; std::atomic_reference r;\n"}});
}

TEST_CASE("comments and literals are not read as code") {
    checkSound({{"src/base/a.cpp", "// #include <thread>\n/*\n#include <thread>\n*/ const char* a = \"std::format // \";\n"
                                   "const char* b = R\"(\n// std::ranges \")\"; char c = '\"'; int n = 1'000; // std::pmr\n"}});
    // And what follows them still is.
    checkBroken({{"src/base/a.cpp", "const char* a = \"//\"; std::format(x);\n"}}, "a.cpp:1: uses std::format");
    checkBroken({{"src/base/a.cpp", "char c = '\"';\nint n = 1'000;\nauto x = std::pmr::get();\n"}}, "a.cpp:3: uses std::pmr");
    checkBroken({{"src/base/a.cpp", "/* one\ntwo */\n#include <thread>\n"}}, "a.cpp:3: includes thread");
    checkBroken({{"src/base/a.cpp", "const char* b = R\"x(\n)\" )x\";\n#include <thread>\n"}}, "a.cpp:3: includes thread");
}

TEST_CASE("files that include each other are found") {
    checkBroken({{"src/base/a.h", "#include \"base/b.h\"\n"}, {"src/base/b.h", "#include \"base/c.h\"\n"}, {"src/base/c.h", "#include \"base/a.h\"\n"}},
                "a ring of includes: src/base/a.h -> src/base/b.h -> src/base/c.h -> src/base/a.h");
    checkBroken({{"src/base/a.h", "#include \"base/a.h\"\n"}}, "a ring of includes: src/base/a.h -> src/base/a.h");
    checkSound({{"src/base/a.h", "#include \"base/c.h\"\n"}, {"src/base/b.h", "#include \"base/a.h\"\n#include \"base/c.h\"\n"}, {"src/base/c.h", ""}});
}

TEST_CASE("a test's name holds no semicolon") {
    const std::string test = "TEST_CASE";  // in two parts, so that this file keeps its own rule
    checkBroken({{"tests/base/a_test.cpp", "\n" + test + "(\"one; two\") { int a; }\n"}}, "a_test.cpp:2: a test's name may not hold a semicolon");
    checkSound({{"tests/base/a_test.cpp", test + "(\"one, two\") { int a; }\n"}});
}

TEST_CASE("the sources keep every rule") {
    const Tree tree = realTree();
    CHECK(tree.count("src/ground/ground.cpp") == 1);
    std::set<std::pair<std::string, std::string>> used;
    for (const std::string& complaint : brokenRules(tree, &used)) FAIL_CHECK(complaint);
    for (const auto& exception : stage_exceptions) {
        INFO("the exception " << exception.first << " -> " << exception.second << " is no longer needed: take it off the list");
        CHECK(used.count(exception) == 1);
    }
}
