// Keys that nest too deep are found before the parser sees them, and nothing else is.

#include "scene/toml_depth.h"

#include <catch2/catch.hpp>
#include <string>

#include "scene/toml_reader.h"

using namespace linefall;

namespace {

std::string dotted(int parts) {
    std::string out = "a";
    for (int i = 1; i < parts; ++i) out += ".a";
    return out;
}

bool deep(const std::string& text) {
    return tooDeepKey(text).has_value();
}

}  // namespace

TEST_CASE("a key of too many parts is found where it goes too far") {
    CHECK_FALSE(deep(dotted(most_key_parts) + " = 1\n"));
    CHECK(deep(dotted(most_key_parts + 1) + " = 1\n"));
    const auto at = tooDeepKey("title = \"x\"\n\n[" + dotted(100) + "]\n");
    REQUIRE(at);
    CHECK(at->line == 3);
    CHECK(at->column == 2 * most_key_parts + 1);
    CHECK(deep("x = { " + dotted(100) + " = 1 }\n"));
    CHECK(deep("[[" + dotted(100) + "]]\n"));
    CHECK(deep("x = [1, {" + dotted(40) + " = 2}]"));
    std::string spaced = "a";
    for (int i = 0; i < 50; ++i) spaced += " . \"b\"";
    CHECK(deep(spaced + " = 1\n"));
}

TEST_CASE("dots in strings, comments and numbers are no depth") {
    const std::string dots(200, '.');
    CHECK_FALSE(deep("# " + dots + "\nx = \"" + dots + "\"\ny = '" + dots + "'\n"));
    CHECK_FALSE(deep("x = \"\"\"\n" + dots + "\n\\\"\"\" " + dots + "\"\"\"\"\"\ny = '''" + dots + "'" + dots + "'''\n"));
    CHECK_FALSE(deep("x = \"a \\\" " + dots + "\" # \" " + dots + "\n"));
    std::string numbers = "x = [";
    for (int i = 0; i < 100; ++i) numbers += "1.5, ";
    CHECK_FALSE(deep(numbers + "]\n"));
    // After a string the search goes on, in the right line.
    const auto at = tooDeepKey("x = \"\"\"\n\n\n\"\"\"\n" + dotted(40) + " = 1");
    REQUIRE(at);
    CHECK(at->line == 5);
}

TEST_CASE("a broken string ends the search, and the parser tells of it") {
    CHECK_FALSE(deep("x = \"open\n" + dotted(100) + " = 1\n"));
    CHECK_FALSE(deep("x = '''open\n" + dotted(100) + " = 1\n"));
    CHECK_FALSE(deep("x = \"\\"));
    Problems problems;
    CHECK_FALSE(parseToml("x = \"open\n" + dotted(100) + " = 1\n", "f", problems));
    CHECK(problems.size() == 1);
}

TEST_CASE("nesting a hundred thousand deep is refused and harms nothing") {
    for (const std::string& text : {dotted(100000) + " = 1", "[" + dotted(100000) + "]", "a = " + std::string(100000, '['),
                                    "a = " + std::string(100000, '[') + std::string(100000, ']')}) {
        Problems problems;
        CHECK_FALSE(parseToml(text, "f", problems));
        CHECK(problems.size() == 1);
    }
}
