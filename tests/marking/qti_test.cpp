// The package for learning platforms: read by an XML reader, held against the structure that QTI 2.1 asks for, and its numbers against
// the truths of the variant.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <set>

#include "lesson/judge.h"
#include "marking/marks.h"
#include "marking/qti.h"
#include "support/figures.h"
#include "support/folders.h"
#include "tower_lesson.h"

namespace linefall {

namespace {

using namespace test;

/// What xmllint says of a text held against one of the two schemas of this folder; empty: it is valid.
std::string faults(const std::string& schema, const std::string& text) {
    const std::string path = folder() + "/checked.xml", said = path + ".said";
    writeText(path, text);
    const int code = std::system(("xmllint --nonet --noout --schema '" + testsFolder() + "/marking/" + schema + "' '" + path + "' > '" + said + "' 2>&1").c_str());
    std::ifstream in(said);
    const std::string words{std::istreambuf_iterator<char>(in), {}};
    return code == 0 ? "" : words.empty() ? "xmllint did not run: ./check installs it (libxml2-utils)" : words;
}

std::vector<std::string> all(const std::string& text, const std::string& before, const std::string& after) {
    std::vector<std::string> out;
    for (std::size_t at = text.find(before); at != std::string::npos; at = text.find(before, at)) {
        at += before.size();
        out.push_back(text.substr(at, text.find(after, at) - at));
    }
    return out;
}

const std::string& bytesOf(const QtiPackage& package, const std::string& path) {
    for (const PackageFile& file : package.files) {
        if (file.path == path) return file.bytes;
    }
    throw std::runtime_error("no " + path);
}

std::string swapped(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("every item, the test and the manifest have the structure that QTI 2.1 asks for") {
    const Lesson lesson = towerLesson();
    for (int variant = 0; variant < lesson.variants.count(); ++variant) {
        Truths truths(lesson, variant);
        const QtiPackage package = qtiPackage(truths);
        CHECK(package.items == std::vector<std::string>{"longer", "length", "height", "tip", "why"});
        CHECK(package.left_out.at(0).find("length: its hints") == 0);
        CHECK(std::any_of(package.left_out.begin(), package.left_out.end(), [](const std::string& s) { return s.find("sun: a question of the kind 'match'") == 0; }));
        REQUIRE(package.files.at(0).path == "imsmanifest.xml");
        CHECK(faults("package_structure.xsd", package.files[0].bytes) == "");
        for (const PackageFile& file : package.files) {
            if (file.path.size() < 4 || file.path.substr(file.path.size() - 4) != ".xml" || file.path == "imsmanifest.xml") continue;
            INFO(file.path);
            CHECK(faults("qti_structure.xsd", file.bytes) == "");
        }
    }
}

TEST_CASE("the structure test finds what is out of place") {
    const Lesson lesson = towerLesson();
    Truths truths(lesson, 0);
    const QtiPackage package = qtiPackage(truths);
    const std::string& item = bytesOf(package, "items/length.xml");
    CHECK(faults("qti_structure.xsd", swapped(item, "<textEntryInteraction ", "<br/><entryInteraction ")) != "");
    CHECK(faults("qti_structure.xsd", swapped(item, " timeDependent=\"false\"", "")) != "");
    CHECK(faults("qti_structure.xsd", swapped(item, "toleranceMode=\"absolute\"", "toleranceMode=\"about\"")) != "");
    CHECK(faults("qti_structure.xsd", swapped(item, "imsqti_v2p1", "imsqti_v3p0")) != "");
    CHECK(faults("package_structure.xsd", swapped(package.files[0].bytes, "identifierref=\"linefall", "identifierref=\"someone")) != "");
}

TEST_CASE("the manifest names every file once and nothing that is not there, and every picture that an item shows is its own") {
    const Lesson lesson = towerLesson();
    Truths truths(lesson, 1);
    const QtiPackage package = qtiPackage(truths);
    std::set<std::string> files, named{"imsmanifest.xml"};
    for (const PackageFile& file : package.files) CHECK(files.insert(file.path).second);
    for (const std::string& href : all(package.files[0].bytes, "<file href=\"", "\"")) named.insert(href);
    CHECK(files == named);
    for (const std::string& id : package.items) {
        const std::string& item = bytesOf(package, "items/" + id + ".xml");
        for (const char* attribute : {" src=\"../", " data=\"../"}) {
            for (const std::string& path : all(item, attribute, "\"")) CHECK(files.count(path) == 1);
        }
        CHECK(occurrences(item, "http") == 1);  // the namespace: nothing is fetched
    }
    CHECK(occurrences(bytesOf(package, "test.xml"), "<assessmentItemRef ") == package.items.size());
}

TEST_CASE("the numbers in the items are the truths of the variant") {
    const Lesson lesson = towerLesson();
    for (int variant = 0; variant < lesson.variants.count(); ++variant) {
        Truths truths(lesson, variant);
        const QtiPackage package = qtiPackage(truths);
        const Part& length = *lesson.findPart("length");
        const double truth = truths.evaluate(length.truth, "noon").value, tolerance = truths.evaluate(length.tolerance, "noon").value;
        const std::string& number = bytesOf(package, "items/length.xml");
        CHECK(std::stod(all(number, "<correctResponse><value>", "<").at(0)) == Approx(truth));
        CHECK(truth == Approx(towerVariant(variant).shadow_m()).margin(tolerance));
        CHECK(std::stod(all(number, "tolerance=\"", " ").at(0)) == Approx(tolerance));
        const std::vector<std::string> ends = all(number, "<baseValue baseType=\"float\">", "<");
        REQUIRE(ends.size() == 6);  // none: 0; right: 2 points; the mistake's interval and its share; otherwise
        CHECK(std::stod(ends[1]) == 2.0);
        CHECK(std::stod(ends[2]) == Approx(towerVariant(variant).zenith_m() - tolerance));
        CHECK(std::stod(ends[3]) == Approx(towerVariant(variant).zenith_m() + tolerance));
        CHECK(std::stod(ends[4]) == 0.5);
        CHECK(number.find("That uses the zenith angle. The tangent of the elevation leads there.") != std::string::npos);
        CHECK(number.find("Give the number in m") != std::string::npos);

        const std::string& choice = bytesOf(package, "items/longer.xml");
        CHECK(all(choice, "<correctResponse><value>", "<").at(0) == (towerVariant(variant).elevation_rad < std::acos(-1.0) / 4.0 ? "a" : "b"));
        CHECK(choice.find("longer than the tower &lt; or shorter") != std::string::npos);
        CHECK(choice.find("<em>low</em>") != std::string::npos);

        const std::string& point = bytesOf(package, "items/tip.xml");
        const Colours picture = [&] {
            writeText(folder() + "/noon.png", bytesOf(package, "images/noon-A.png"));
            return coloursOf(folder() + "/noon.png");
        }();
        CHECK(std::stoi(all(point, "width=\"", "\"").at(0)) == picture.columns);
        CHECK(std::stoi(all(point, "height=\"", "\"").at(0)) == picture.rows);
        REQUIRE(picture.columns == 480);
        const std::string circle = all(point, "<areaMapEntry shape=\"circle\" coords=\"", "\"").at(0);
        const PicturePlace tip = truths.place("tip", "noon");
        CHECK(std::abs(std::stod(circle) + 0.5 - 4.0 * tip.sample) <= 0.5);
        CHECK(circle.substr(circle.rfind(',')) == ",8");  // two pixels, each four pixels wide in the file
    }
}

}  // namespace linefall
