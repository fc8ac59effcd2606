// The walls of the house: what each module may include. The compiler cannot guard them, since Debian's headers are found
// without any flag and all our own headers share one root, so this test reads every #include under src/.
//
// The checker is a function over a tree of texts: the first tests feed it broken trees and see each rule fail, the last
// one feeds it the real sources.
#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "broken_rules.h"
#include "support/folders.h"

using namespace linefall::architecture;

namespace {

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
    CHECK(sound == 95);
    CHECK(broken == 101);
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
