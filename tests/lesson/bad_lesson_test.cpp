// Broken and hostile lessons: each is told where it goes wrong, and none does harm.
#include <catch2/catch.hpp>

#include <fstream>
#include <sstream>

#include "lesson/answer.h"
#include "lesson/lesson.h"
#include "support/folders.h"

using namespace linefall;

namespace {

std::string sound() {
    std::ifstream in(testsFolder() + "/lesson/tower/lesson.md");
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

std::string with(const std::string& from, const std::string& to) {
    std::string text = sound();
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

std::string complaint(const std::string& text) {
    try {
        (void)readLessonText(text, "/lessons/x");
        return "";
    } catch (const InputError& error) {
        return error.what();
    }
}

struct Broken {
    std::string from, to, says;
};

}  // namespace

TEST_CASE("the sound lesson is sound before it is broken") { CHECK(complaint(sound()).empty()); }

TEST_CASE("each mistake of a lesson is told with its place and what was expected") {
    const std::vector<Broken> all{
        {"minutes = 5\n", "", "minutes: expected this key; it is missing"},
        {"minutes = 5\n", "minutes = 0\n", "lesson.md:4:11: minutes"},
        {"outcome =", "outcom =", "outcom"},
        {"instruments = [\"camera.toml\"]\n", "", "scene.high.instruments"},
        {"like = \"high\"", "like = \"hgih\"", "scene.low.like: read 'hgih', expected the name of a scene that stands above"},
        {"\"sun.elevation\" = \"{high}\"", "\"sun.elevatoin\" = \"{high}\"", "did you mean 'sun.elevation'?"},
        {"of = \"ground distance\"", "of = \"ground distanse\"", "did you mean 'ground distance'?"},
        {"points = [\"foot\", \"tip\"] }", "points = [\"foot\"] }", "2 name(s) of points for 'ground distance'"},
        {"points = [\"foot\", \"tip\"] }", "points = [\"foot\", \"tipp\"] }", "did you mean 'tip'?"},
        {"part = \"top\"", "part = \"roof\"", "points.top.part"},
        {"pick = \"2 * A.spacing_along\"", "pick = \"2 * A.spacing_alogn\"", "did you mean 'A.spacing_along'?"},
        {"pick = \"2 * A.spacing_along\"", "pick = \"2 * * 3\"", "'* 3' where a number, a name or '(' was expected"},
        {"pick = \"2 * A.spacing_along\"", "pick = \"2 * B.spacing_along\"", "'B.spacing_along'"},
        {"pick = \"2 * A.spacing_along\"", "shadow = \"2 m\"", "a name that stands for one thing"},
        {"```toml number\nid = \"length\"", "```toml numbr\nid = \"length\"", "did you mean 'number'?"},
        {"```toml number\nid = \"length\"", "```toml\nid = \"length\"", "a block of toml without a second word"},
        {"id = \"height\"", "id = \"length\"", "an id that no other question has"},
        {"id = \"height\"", "id = \"the height\"", "a word of letters, digits, - and _"},
        {"unit = \"m\"\ntolerance = \"pick\"", "unit = \"mertes\"\ntolerance = \"pick\"", "number.unit: read 'mertes'"},
        {"truth = \"shadow\"\n", "", "number.truth: expected this key; it is missing"},
        {"share = 0.25", "share = 2", "a number from -1 to 1"},
        {"follow = { shadow = \"length\" }", "follow = { shadow = \"tip\" }", "the id of a number that was asked before"},
        {"follow = { shadow = \"length\" }", "follow = { low_shadow = \"length\" }", "a name that the truth asks for"},
        {"points = 2", "points = -1", "a number from 0 to 1000"},
        {"id = \"why\"", "id = \"why\"\npoints = 3", "words are stored and not marked"},
        {"share = 0.5, say = \"The ground", "share = 0.7, say = \"The ground", "shares that make 1.2"},
        {"[\"54 m\", \"52 deg\"]", "[\"54 m\"]", "2 values: one for each of 'given'"},
        {"drop = [3]", "drop = [9]", "a variant's number, 1 to 4"},
        {"drop = [3]", "drop = [1, 2, 3, 4]", "at least one variant that stays"},
        {"truth = \"tip\"\ntolerance = 3", "truth = \"end\"\ntolerance = 3", "the name of a point of [points]"},
        {"{ text = \"It grows.\", when = \"low_shadow > shadow + pick\",", "{ text = \"It grows.\", whn = \"low_shadow > shadow\",", "did you mean 'when'?"},
        {"## Read: What there is", "Words.\n\n## Read: What there is", "text before the first step"},
        {"A mast of {tower}", "![x](../secret.png) A mast of {tower}", "the name of a PNG file of the lesson's own folder"},
        {"A mast of {tower}", "![x](https://a.b/c.png) A mast of {tower}", "the name of a PNG file of the lesson's own folder"},
        {"answers = { length", "answers = { lengthh", "did you mean 'length'?"},
        {"variant = 2", "variant = 7", "a variant's number, at most 4"},
        {"## Predict: A lower sun", "## Prediction: A lower sun", "'Prediction:' before the title of a step"},
        {"## Predict: A lower sun", "## predict: A lower sun", "did you mean 'Predict'?"},
        {"## Predict: A lower sun", "## Try First: A lower sun", "did you mean 'Try first'?"},
        {"## Predict: A lower sun", "## Task: A lower sun", "expected what the step is for: Read, Try first, Predict, Observe, Measure, Explain"},
        {"level = \"first year\"", "level = \"third year\"", "level: read 'third year'"},
        {"top = { object = \"mast\", part = \"top\" }", "top = { object = \"mast\", part = \"top\", words = \"its top\" }", "a thing has a name of its own"},
        {"+++\n\n# A mast", "\n# A mast", "no second +++"},
        {"+++\ntitle", "title", "+++ alone in the first line"},
    };
    for (const Broken& broken : all) {
        INFO(broken.from << " -> " << broken.to);
        const std::string said = complaint(with(broken.from, broken.to));
        CHECK_THAT(said, Catch::Contains(broken.says));
        CHECK_THAT(said, Catch::Contains("/lessons/x/lesson.md:"));
    }
}

TEST_CASE("a problem in a block stands at its own line of the file") {
    const std::string text = with("share = 0.25", "share = 2");
    int line = 1;
    for (std::size_t i = 0; i < text.find("share = 2"); ++i) line += text[i] == '\n' ? 1 : 0;
    CHECK_THAT(complaint(text), Catch::Contains("lesson.md:" + std::to_string(line) + ":"));
}

TEST_CASE("a heading may have a colon of its own after its kind, or behind more than one word") {
    CHECK(complaint(with("## Explain: Why", "## Explain: Why: the light")).empty());
    CHECK(complaint(with("## Read: What there is", "## What there is: a mast")).empty());
    CHECK(complaint(with("## Read: What there is", "## What there is")).empty());
}

TEST_CASE("many mistakes are told together") {
    std::string text = with("minutes = 5", "minutes = 5000");
    text.replace(text.find("drop = [3]"), 10, "drop = [0]");
    text.replace(text.find("share = 0.25"), 12, "share = 2");
    const std::string said = complaint(text);
    for (const char* key : {"minutes", "variants.drop", "wrong.share"}) CHECK_THAT(said, Catch::Contains(key));
}

TEST_CASE("hostile lessons are refused in no time") {
    std::string deep = sound(), many = sound();
    deep += "\n" + std::string(5000, '>') + " deep\n";
    CHECK_THAT(complaint(deep), Catch::Contains("nested more than 30 deep"));
    for (int i = 0; i < 5000; ++i) many += "\n## Read: again\n";
    CHECK_THAT(complaint(many), Catch::Contains("at most 60"));
    CHECK_FALSE(complaint(std::string(1 << 20, '*')).empty());
    CHECK_FALSE(complaint("+++\n" + std::string(100000, '[') + "\n+++\n").empty());
    CHECK_FALSE(complaint("").empty());
    CHECK_FALSE(complaint(std::string(1000, '\0')).empty());
}

TEST_CASE("an answer file is read with care") {
    Answers answers;
    answers.lesson = "tower";
    answers.student = "Ann \"the\" one\\two";
    answers.version = 3;
    answers.variant = 2;
    RawAnswer one;
    one.text = "52 m\nand \"more\" \xC3\xA9";
    one.points = {{1.5, 2.25}, {1e5, 0.1}};
    one.settings = {{"sun.elevation", "40 deg"}};
    one.evidence = "length 1,2 3,4";
    answers.parts["a-b"].attempts = {one, {}};
    answers.parts["a-b"].hints = 2;
    answers.parts["a-b"].confidence = 70;
    const Answers again = readAnswers(answersText(answers), "a.toml");
    CHECK(again.student == answers.student);
    CHECK(again.parts.at("a-b").attempts == answers.parts.at("a-b").attempts);
    CHECK(again.parts.at("a-b").hints == 2);
    CHECK(again.parts.at("a-b").confidence == 70);

    const auto said = [](const std::string& text) {
        try {
            (void)readAnswers(text, "a.toml");
            return std::string();
        } catch (const InputError& error) {
            return std::string(error.what());
        }
    };
    const std::string head = "linefall_answers = 1\nlesson = \"l\"\nversion = 1\nstudent = \"s\"\nvariant = 1\n";
    CHECK(said(head).empty());
    CHECK(said(head + "score = 100\n").empty());  // a claimed score is ignored
    CHECK_THAT(said("linefall_answers = 2\n"), Catch::Contains("answer files of version 1"));
    CHECK_THAT(said(head + "[part.a]\nattempt = 3\n"), Catch::Contains("attempt"));
    CHECK_THAT(said(head + "[[part.a.attempt]]\ntext = 52\n"), Catch::Contains("text"));
    CHECK_THAT(said(head + "[[part.a.attempt]]\npoints = [[1e300, 2]]\n"), Catch::Contains("far outside any picture"));
    CHECK_THAT(said(head + "[[part.a.attempt]]\npoints = [[nan, 2]]\n"), Catch::Contains("far outside any picture"));
    CHECK_THAT(said(head + "[[part.a.attempt]]\npoints = [[1, 2, 3]]\n"), Catch::Contains("one or two places"));
    CHECK_THAT(said(std::string(300000, ' ')), Catch::Contains("at most 256 KiB"));
    CHECK_THAT(said(std::string("a\0b", 3)), Catch::Contains("bytes that are no text"));
    CHECK_THROWS_AS(readAnswersFile("/"), InputError);
    CHECK_THROWS_AS(readAnswersFile("/nowhere/at/all.toml"), InputError);
}
