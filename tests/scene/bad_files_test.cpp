// Every file under tests/bad through the program's own door: it must give exactly the messages that it says at its top.
// tests/bad/README.md tells how they are written.

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

#include "scene/scene.h"
#include "support/expected_messages.h"

using namespace linefall;

TEST_CASE("every bad file gives the messages that it says it must give") {
    const std::vector<std::string> files = test::badFiles();
    REQUIRE(files.size() >= 120);
    for (const std::string& file : files) {
        CAPTURE(file);
        const std::vector<std::string> expected = test::expectedMessages(file);
        CHECK_FALSE(expected.empty());
        const Problems problems = inspectFile(file);
        std::vector<std::string> got;
        for (const Problem& problem : problems) got.push_back(test::withoutPath(problem.text(), file));
        CHECK(got.size() == expected.size());
        for (std::size_t i = 0; i < std::min(got.size(), expected.size()); ++i) {
            CAPTURE(got[i], expected[i]);
            CHECK(test::matches(got[i], expected[i]));
        }
        // Each says what was expected, and stands in this file or in one that it names.
        for (const Problem& problem : problems) {
            CHECK_FALSE(problem.expected.empty());
            CHECK_FALSE(problem.place.file.empty());
        }
    }
}

TEST_CASE("the pattern of an expected message is exact but for its gaps") {
    CHECK(test::matches("3:9: place: read 'x'", "3:9: place: read 'x'"));
    CHECK_FALSE(test::matches("3:9: place: read 'x', more", "3:9: place: read 'x'"));
    CHECK_FALSE(test::matches("3:9: place", "3:9: place: read 'x'"));
    CHECK(test::matches("one of a, b, c, or a path", "one of [...], or a path"));
    CHECK_FALSE(test::matches("one of a, b, c, or a name", "one of [...], or a path"));
}

TEST_CASE("every scene file that comes with the program is sound") {
    int files = 0;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(scenesFolder())) {
        if (entry.path().extension() != ".toml") continue;
        CAPTURE(entry.path().string());
        CHECK(textOf(inspectFile(entry.path().string())) == "");
        ++files;
    }
    CHECK(files >= 10);
}

TEST_CASE("files that are none of ours are told apart") {
    const auto complaint = [](const std::string& path) { return textOf(inspectFile(path)); };
    CHECK(complaint("/nonexistent/x.toml") == "/nonexistent/x.toml: read no such file, expected a TOML file");
    CHECK(complaint("/tmp") == "/tmp: read a folder or device, expected a TOML file");
    CHECK(complaint("/dev/zero") == "/dev/zero: read a folder or device, expected a TOML file");
    CHECK(complaint(std::string(5000, 'x')).find("File name too long") != std::string::npos);

    const std::string large =
        (std::filesystem::temp_directory_path() / ("linefall-large-" + std::to_string(getpid()) + ".toml")).string();
    std::ofstream(large) << "# " << std::string(5 << 20, 'x') << "\n";
    CHECK(complaint(large) == large + ": read more than 4 MiB, expected a scene file of at most 4 MiB");
    // Mistakes without end: the first two hundred are told, and that there may be more.
    {
        std::ofstream out(large);
        for (int i = 0; i < 100000; ++i) out << "k" << i << " = 1\n";
    }
    const Problems problems = inspectFile(large);
    CHECK(problems.size() == 201);
    CHECK(problems.back().expected == "these mended first; there may be more");
    std::filesystem::remove(large);
}
