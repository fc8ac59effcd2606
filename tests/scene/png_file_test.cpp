// The PNG door both ways, and files that appear together or not at all.

#include "scene/png_file.h"

#include <sys/stat.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

#include "support/scenes.h"
#include "support/folders.h"

using namespace linefall;
namespace fs = std::filesystem;

namespace {

std::string contentOf(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

std::string complaint(const std::function<void()>& work) {
    try {
        work();
        return "";
    } catch (const InputError& e) {
        return e.what();
    }
}

std::size_t filesIn(const std::string& folder) {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder), fs::directory_iterator()));
}

std::string emptyFolder(const std::string& name) {
    const std::string folder = test::folder() + "/" + name;
    fs::remove_all(folder);
    fs::create_directories(folder);
    return folder;
}

}  // namespace

TEST_CASE("16 bits come back as they were written, every value") {
    Raster<std::uint16_t> values(257, 256);
    for (std::size_t i = 0; i < values.size(); ++i) values.values()[i] = static_cast<std::uint16_t>(i);
    const std::string path = test::folder() + "/sixteen.png";
    WholeFiles files;
    writePng16(files, path, values, {{"Description", "every value"}});
    files.commit();
    const GreyPicture read = readGreyPng(path, 1, 300);
    CHECK(read.bits == 16);
    CHECK(read.values == values);
}

TEST_CASE("8 bits come back as they were written, in odd widths too") {
    for (const int columns : {1, 2, 3, 256, 301}) {
        std::vector<std::uint8_t> pixels(static_cast<std::size_t>(columns) * 5);
        for (std::size_t i = 0; i < pixels.size(); ++i) pixels[i] = static_cast<std::uint8_t>(i * 7);
        const std::string path = test::folder() + "/eight.png";
        WholeFiles files;
        writePng8(files, path, columns, 5, 1, pixels);
        files.commit();
        const GreyPicture read = readGreyPng(path, 1, 400);
        CHECK(read.bits == 8);
        REQUIRE(read.values.size() == pixels.size());
        for (std::size_t i = 0; i < pixels.size(); ++i) REQUIRE(read.values.values()[i] == pixels[i]);
    }
}

TEST_CASE("pictures outside the limits, folders, devices and pipes are refused") {
    const std::string bad = testsFolder() + "/bad/";
    CHECK(complaint([&] { (void)readGreyPng(bad + "height-8.png", 2, 8); }) == "");
    CHECK(complaint([&] {
              (void)readGreyPng(bad + "height-8.png", 5, 8);
          }).find("read 5 x 4 pixels, expected a grey PNG of 8 or 16 bits, 5 to 8 pixels a side") != std::string::npos);
    CHECK(complaint([&] { (void)readGreyPng(bad + "height-8.png", 2, 4); }).find("read 5 x 4 pixels") != std::string::npos);
    CHECK(complaint([] { (void)readGreyPng("/dev/zero", 2, 4); }).find("a folder or device") != std::string::npos);
    const std::string pipe = test::folder() + "/pipe";
    REQUIRE(mkfifo(pipe.c_str(), 0600) == 0);
    CHECK(complaint([&] { (void)readGreyPng(pipe, 2, 4); }).find("a folder or device") != std::string::npos);
}

TEST_CASE("a picture cut anywhere is refused, and every single wrong byte of its data is noticed or harmless") {
    const std::string whole = contentOf(testsFolder() + "/bad/height-16.png");
    const GreyPicture truth = readGreyPng(testsFolder() + "/bad/height-16.png", 2, 16);
    const std::string path = test::folder() + "/cut.png";
    for (std::size_t length = 0; length < whole.size(); ++length) {
        std::ofstream(path, std::ios::binary) << whole.substr(0, length);
        CAPTURE(length);
        CHECK(complaint([&] { (void)readGreyPng(path, 2, 16); }).find("a broken PNG") != std::string::npos);
    }
    for (std::size_t at = 0; at < whole.size(); ++at) {
        std::string wrong = whole;
        wrong[at] = static_cast<char>(wrong[at] ^ 0x55);
        std::ofstream(path, std::ios::binary) << wrong;
        CAPTURE(at);
        try {
            const GreyPicture read = readGreyPng(path, 2, 16);
            CHECK(read.values == truth.values);
        } catch (const InputError& e) {
            CHECK(std::string(e.what()).find(path) == 0);
        }
    }
}

TEST_CASE("files appear together: nothing before the commit, no parts after it") {
    const std::string folder = emptyFolder("together");
    {
        WholeFiles files;
        files.addText(folder + "/a.txt", "new a");
        files.addText(folder + "/b.txt", "new b");
        CHECK_FALSE(fs::exists(folder + "/a.txt"));
        files.commit();
    }
    CHECK(contentOf(folder + "/a.txt") == "new a");
    CHECK(contentOf(folder + "/b.txt") == "new b");
    CHECK(filesIn(folder) == 2);
}

TEST_CASE("older files stay until all new ones are whole") {
    const std::string folder = emptyFolder("older");
    std::ofstream(folder + "/a.txt") << "old a";
    {
        WholeFiles files;
        files.addText(folder + "/a.txt", "new a");
        CHECK(complaint([&] { files.add(folder + "/b.txt", [](std::FILE*) -> std::string { return "no room"; }); }) ==
              folder + "/b.txt: read no room, expected room to write the whole file");
    }
    CHECK(contentOf(folder + "/a.txt") == "old a");
    CHECK(filesIn(folder) == 1);
    {
        // The second part is gone when it should be put in place: the first goes back.
        WholeFiles files;
        files.addText(folder + "/a.txt", "new a");
        files.addText(folder + "/b.txt", "new b");
        fs::remove(folder + "/b.txt.part");
        CHECK(complaint([&] { files.commit(); }).find("expected a file that can be put in place") != std::string::npos);
    }
    CHECK(contentOf(folder + "/a.txt") == "old a");
    CHECK(filesIn(folder) == 1);
    {
        WholeFiles files;
        files.addText(folder + "/a.txt", "new a");
        files.commit();
    }
    CHECK(contentOf(folder + "/a.txt") == "new a");
    CHECK(filesIn(folder) == 1);
}

TEST_CASE("a folder in the way, a missing folder and a full device are told") {
    const std::string folder = emptyFolder("in-the-way");
    fs::create_directory(folder + "/a.txt");
    WholeFiles files;
    CHECK(complaint([&] { files.addText(folder + "/a.txt", "x"); }) ==
          folder + "/a.txt: read a folder of this name, expected a name that is free for a file");
    CHECK(complaint([&] {
              files.addText(folder + "/none/b.txt", "x");
          }).find("No such file or directory, expected a folder that can be written to") != std::string::npos);
    fs::create_symlink("/dev/full", folder + "/c.txt.part");
    CHECK(complaint([&] {
              files.addText(folder + "/c.txt", std::string(100000, 'x'));
          }).find("No space left on device, expected room to write the whole file") != std::string::npos);
    fs::create_symlink("/dev/full", folder + "/d.png.part");
    const Raster<std::uint16_t> values(300, 300, 7);
    CHECK(complaint([&] { writePng16(files, folder + "/d.png", values); }).find("expected room to write the whole file") !=
          std::string::npos);
}
