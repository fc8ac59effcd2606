// A lesson's folder: cut into steps, each block read by its kind.

#include <algorithm>
#include <cctype>
#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "lesson/block_reader.h"
#include "lesson/variant.h"

namespace linefall {

namespace fs = std::filesystem;

namespace {

constexpr std::uintmax_t most_bytes = 1u << 20;
const std::vector<std::string> part_words{"choice", "number", "point", "line", "match", "because", "plan"};

/// Front matter and the rest. Lines are kept: both parts begin with as many empty ones as they need.
struct Cut {
    std::string front, body;
    int body_line = 1;
};

Cut cutFront(const std::string& text, const std::string& file) {
    const auto lineEnd = [&](std::size_t from) { return std::min(text.find('\n', from), text.size()); };
    const auto isFence = [&](std::size_t from, std::size_t to) {
        while (to > from && (text[to - 1] == '\r' || text[to - 1] == ' ')) --to;
        return text.compare(from, to - from, "+++") == 0 && to - from == 3;
    };
    const std::size_t start = text.compare(0, 3, "\xEF\xBB\xBF") == 0 ? 3 : 0;
    const std::size_t first = lineEnd(start);
    if (!isFence(start, first)) throw InputError(Problem{{file, 1, 1}, "", "'" + text.substr(start, std::min<std::size_t>(first - start, 40)) + "'", "+++ alone in the first line, TOML, and +++ again", ""});
    int line = 2;
    for (std::size_t at = first + 1; at < text.size(); ++line) {
        const std::size_t end = lineEnd(at);
        if (isFence(at, end)) return {"\n" + text.substr(first + 1, at - first - 1), end < text.size() ? text.substr(end + 1) : "", line + 1};
        at = end + 1;
    }
    throw InputError(Problem{{file, 1, 1}, "", "no second +++", "a line +++ that ends the front matter", ""});
}

class LessonReader {
public:
    LessonReader(const std::string& text, Lesson& lesson, Problems& problems) : text_(text), lesson_(lesson), problems_(problems) {}

    void read() {
        const Cut cut = cutFront(text_, lesson_.file);
        if (const auto front = parseToml(cut.front, lesson_.file, problems_)) readFront(*front, lesson_, problems_);
        for (Prose& block : readProse(cut.body, lesson_.file, cut.body_line)) take(std::move(block));
        if (lesson_.steps.empty()) problems_.push_back({{lesson_.file, 0, 0}, "", "no step", "a heading of level 2, such as '## Predict: how long is the shadow?'", ""});
    }

private:
    void take(Prose block) {
        if (enough(problems_)) return;
        if (block.kind == Prose::Kind::heading && block.level == 2) return beginStep(block);
        if (block.kind == Prose::Kind::code && (block.info == "toml" || block.info.rfind("toml ", 0) == 0)) return takeBlock(block);
        if (block.kind == Prose::Kind::heading && block.level == 1 && lesson_.steps.empty()) return;  // the title again, for a reader of the file
        if (lesson_.steps.empty()) {
            if (block.kind == Prose::Kind::rule) return;
            problems_.push_back({{lesson_.file, block.line, 1}, "", "text before the first step", "a heading of level 2 first: '## Read: ...'", ""});
            return;
        }
        checkPictures(block);
        std::vector<StepItem>& items = lesson_.steps.back().items;
        if (items.empty() || items.back().what != StepItem::What::prose) items.push_back({StepItem::What::prose, {}, 0});
        items.back().prose.push_back(std::move(block));
    }

    void beginStep(const Prose& heading) {
        const std::string words = wordsOf(heading);
        Step step;
        step.place = {lesson_.file, heading.line, 1};
        step.title = words;
        const std::size_t colon = words.find(':');
        if (colon != std::string::npos) {
            const std::string first = words.substr(0, colon);
            for (std::size_t i = 0; i < stepWords().size(); ++i) {
                if (first != stepWords()[i]) continue;
                step.kind = static_cast<StepKind>(i);
                step.title = words.substr(std::min(words.find_first_not_of(' ', colon + 1), words.size()));
            }
            if (step.title.size() == words.size()) checkKind(first, step.place);
        }
        if (lesson_.steps.size() == most_steps) problems_.push_back({step.place, "", "one more step", "at most " + std::to_string(most_steps), ""});
        else lesson_.steps.push_back(std::move(step));
    }

    /// One word before a colon, or nearly a kind, means a kind of step: taken for words, it would lose the gate of a prediction.
    void checkKind(const std::string& first, const Place& at) {
        std::string spelled = first;
        std::transform(spelled.begin(), spelled.end(), spelled.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
        if (!spelled.empty()) spelled[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(spelled[0])));
        const std::string nearest = nearestName(spelled, stepWords());
        if (nearest.empty() && first.find(' ') != std::string::npos) return;
        std::string kinds;
        for (const std::string& word : stepWords()) kinds += (kinds.empty() ? "" : ", ") + word;
        problems_.push_back({at, "", "'" + first.substr(0, 40) + ":' before the title of a step", "what the step is for: " + kinds + "; a title with a colon of its own stands after one of them", nearest});
    }

    void checkPictures(const Prose& piece) {
        if (piece.kind == Prose::Kind::image) {
            const fs::path path(piece.target);
            const bool outside = path.is_absolute() || piece.target.find(':') != std::string::npos || piece.target.find("..") != std::string::npos ||
                                 piece.target.find('\\') != std::string::npos || piece.target.find('\0') != std::string::npos;
            if (piece.target.empty() || outside)
                problems_.push_back({{lesson_.file, piece.line, 1}, "", "a picture at '" + piece.target.substr(0, 80) + "'", "the name of a PNG file of the lesson's own folder", ""});
        }
        for (const Prose& part : piece.parts) checkPictures(part);
    }

    void takeBlock(const Prose& block) {
        static const std::vector<std::string> words{"step", "choice", "number", "point", "line", "match", "because", "plan", "figure", "variants", "test"};
        const std::string word = block.info.size() > 5 ? block.info.substr(5) : "";
        const Place at{lesson_.file, std::max(block.line - 1, 1), 1};
        if (std::find(words.begin(), words.end(), word) == words.end()) {
            problems_.push_back({at, "", word.empty() ? "a block of toml without a second word" : "'toml " + word.substr(0, 40) + "'",
                                 "one of step, choice, number, point, line, match, because, plan, figure, variants, test", nearestName(word, words)});
            return;
        }
        // As many empty lines before it as stand in the file, so that problems are told at their own lines.
        const std::size_t before = problems_.size();
        if (const auto table = parseToml(std::string(static_cast<std::size_t>(std::max(block.line - 1, 0)), '\n') + block.text, lesson_.file, problems_))
            readBlock(word, *table, at);
        for (std::size_t i = before; i < problems_.size(); ++i) {
            if (problems_[i].place.line == 1 && at.line > 1) problems_[i].place = at;  // the table as a whole is the block
        }
    }

    void readBlock(const std::string& word, const toml::table& table, const Place& at) {
        if (word == "variants") {
            if (lesson_.variants.count() > 0) problems_.push_back({at, "", "a second block of variants", "one", ""});
            else readVariants(table, lesson_.variants, lesson_.file, problems_), lesson_.variants.place = at;
            return;
        }
        if (word == "test") {
            if (lesson_.tests.size() >= most_names) return;
            lesson_.tests.push_back(readTest(table, lesson_.file, problems_));
            lesson_.tests.back().place = at;
            return;
        }
        if (lesson_.steps.empty()) {
            problems_.push_back({at, "", "a block '" + word + "' before the first step", "a heading of level 2 first", ""});
            return;
        }
        Step& step = lesson_.steps.back();
        if (word == "step") return readStepBlock(table, step, lesson_.file, problems_);
        if (word == "figure") {
            step.items.push_back({StepItem::What::figure, {}, step.figures.size()});
            step.figures.push_back(readLessonFigure(table, lesson_.file, problems_));
            step.figures.back().place = at;
            return;
        }
        if (++parts_ > most_parts) {
            if (parts_ == most_parts + 1) problems_.push_back({at, "", "one more question", "at most " + std::to_string(most_parts), ""});
            return;
        }
        const auto kind = static_cast<Part::Kind>(std::find(part_words.begin(), part_words.end(), word) - part_words.begin());
        step.items.push_back({StepItem::What::part, {}, step.parts.size()});
        step.parts.push_back(readPart(kind, table, lesson_.file, problems_));
        step.parts.back().place = at;
    }

    const std::string& text_;
    Lesson& lesson_;
    Problems& problems_;
    std::size_t parts_ = 0;
};

Lesson read(const std::string& text, const std::string& folder, bool files) {
    Lesson lesson;
    lesson.folder = folder;
    lesson.file = folder + "/lesson.md";
    lesson.id = fs::path(folder).filename().string();
    Problems problems;
    try {
        LessonReader(text, lesson, problems).read();
    } catch (const InputError& error) {
        problems.insert(problems.end(), error.problems().begin(), error.problems().end());
    }
    if (problems.empty()) checkReferences(lesson, problems);
    if (problems.empty() && files) checkFiles(lesson, problems);
    if (!problems.empty()) {
        inReadingOrder(problems);
        throw InputError(problems);
    }
    return lesson;
}

std::string contents(const fs::path& path, std::uintmax_t most) {
    std::error_code error;
    const auto refuse = [&](const std::string& read, const std::string& expected) { throw InputError(Problem{{path.string(), 0, 0}, "", read, expected, ""}); };
    if (!fs::is_regular_file(path, error)) refuse(fs::exists(path, error) ? "a folder or device" : "no such file", "a lesson: a folder with the file lesson.md");
    if (fs::file_size(path, error) > most) refuse("more than " + std::to_string(most >> 10) + " KiB", "a lesson of at most that size");
    std::ifstream stream(path, std::ios::binary);
    if (!stream) refuse(std::strerror(errno), "a file that can be read");
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

/// Of lesson.md and the scene files beside it: whatever marks depend on.
std::string fingerprintOf(const std::string& folder) {
    std::vector<fs::path> paths;
    std::error_code error;
    for (const fs::directory_entry& entry : fs::directory_iterator(folder, error)) {
        const std::string kind = entry.path().extension().string();
        if (entry.is_regular_file(error) && (kind == ".md" || kind == ".toml")) paths.push_back(entry.path());
    }
    std::sort(paths.begin(), paths.end());
    std::uint64_t hash = hashOf("lesson");
    for (const fs::path& path : paths) hash = hashOf(path.filename().string() + '\n' + contents(path, 4u << 20), hash);
    std::string digits;
    for (int shift = 60; shift >= 0; shift -= 4) digits += "0123456789abcdef"[(hash >> shift) & 15];
    return digits;
}

}  // namespace

Lesson readLessonText(const std::string& text, const std::string& folder) { return read(text, folder, false); }

Lesson readLesson(const std::string& folder) {
    std::error_code error;
    std::string whole = fs::weakly_canonical(folder, error).string();
    if (error || whole.empty()) whole = folder;
    Lesson lesson = read(contents(fs::path(whole) / "lesson.md", most_bytes), whole, true);
    lesson.fingerprint = fingerprintOf(whole);
    return lesson;
}

}  // namespace linefall
