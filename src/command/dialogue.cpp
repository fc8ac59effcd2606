#include "command/dialogue.h"

#include <fmt/format.h>

#include <algorithm>

#include "lesson/names.h"

namespace linefall {

namespace {

constexpr int width = 78;

std::vector<std::string> wordsOf(const std::string& line) {
    std::vector<std::string> words(1);
    for (const char c : line) {
        if (c != ' ' && c != '\t') words.back() += c;
        else if (!words.back().empty()) words.emplace_back();
    }
    if (words.back().empty()) words.pop_back();
    return words;
}

std::string trimmed(const std::string& text) {
    const std::size_t first = text.find_first_not_of(" \t\r\n"), last = text.find_last_not_of(" \t\r\n");
    return first == std::string::npos ? "" : text.substr(first, last - first + 1);
}

const std::vector<std::string>& commands() {
    static const std::vector<std::string> words{"next", "back", "go", "steps", "hint", "ask", "picture", "repeat", "pixel", "length", "area", "profile", "sure", "score", "help", "quit"};
    return words;
}

}  // namespace

std::string Dialogue::wrapped(const std::string& words) {
    Prose paragraph, piece;
    piece.kind = Prose::Kind::text;
    piece.text = words;
    paragraph.parts.push_back(piece);
    return plainText({paragraph}, width);
}

std::string Dialogue::text(const std::string& words) const { return runner_.truths().text(words, sceneNow()); }

std::string Dialogue::sceneNow() const {
    const Part* part = current();
    return part != nullptr && !part->scene.empty() ? part->scene : runner_.step().scene;
}

const Part* Dialogue::current() const {
    for (const Part& part : runner_.step().parts) {
        if (part.id == chosen_) return &part;
    }
    const std::vector<const Part*> open = runner_.open();
    return open.empty() ? nullptr : open.front();
}

std::string Dialogue::prompt() const {
    const Part* part = current();
    return part == nullptr ? "> " : "[" + part->id + "] > ";
}

void Dialogue::begin() {
    const Lesson& lesson = runner_.lesson();
    print_(lesson.title + "\n");
    print_(wrapped("Afterwards you can: " + lesson.outcome));
    print_(fmt::format("About {} minutes, {} steps. Your variant: {}. Answers are kept after every one.\n", lesson.minutes, lesson.steps.size(), runner_.answers().variant));
    print_("Type an answer, or a command: 'help' lists them, 'picture' tells what the picture shows.\n");
    tellStep();
}

void Dialogue::tellStep() {
    const Step& step = runner_.step();
    print_(fmt::format("\nStep {} of {}, {}: {}\n", runner_.index() + 1, runner_.lesson().steps.size(), nameOf(step.kind), runner_.truths().text(step.title, step.scene)));
    chosen_.clear();
    for (const StepItem& item : step.items) {
        print_("\n");
        if (item.what == StepItem::What::prose) print_(plainText(runner_.truths().text(item.prose, step.scene), width));
        if (item.what == StepItem::What::part) tellPart(step.parts[item.index]);
        if (item.what == StepItem::What::figure) tellFigure(item.index);
    }
    if (!step.figures.empty()) print_(step.figures.size() == 1 ? "\n'picture' tells its greys and what stands where in it.\n" : "\n'picture 1' tells the greys of figure 1 and what stands where in it, and so on.\n");
    tellOpen();
}

void Dialogue::tellPart(const Part& part) {
    const std::string scene = part.scene.empty() ? runner_.step().scene : part.scene;
    const auto said = [&](const std::string& words) { return runner_.truths().text(words, scene); };
    std::string points = part.points > 0.0 ? fmt::format(" ({} point{})", part.points, part.points == 1.0 ? "" : "s") : "";
    print_(wrapped("Question " + part.id + points + ": " + said(part.ask)));
    for (std::size_t i = 0; i < part.options.size(); ++i) print_(wrapped(std::string("  ") + static_cast<char>('a' + i) + ") " + said(part.options[i].text)));
    if (part.kind == Part::Kind::number) {
        const UnitOfText& unit = *findUnit(part.unit);
        // A share of the truth would tell the truth: where the author says the tolerance in words, the words are enough.
        const std::string room = part.tolerance_says.empty() ? textIn({unit.name, unit.dimension, unit.scale, 0.0}, runner_.truths().evaluate(part.tolerance, scene).value, 2) : said(part.tolerance_says);
        print_(wrapped("Answer with a number" + (unit.name.empty() ? std::string() : " and its unit, such as " + unitInWords(unit)) + ". What counts as right: within " + room + "."));
    }
    if (part.kind == Part::Kind::point) print_("Answer with a place in the picture: sample,line\n");
    if (part.kind == Part::Kind::line) print_("Answer with two places in the picture: sample,line sample,line\n");
    if (part.kind == Part::Kind::match || part.kind == Part::Kind::plan) {
        std::string keys;
        for (const WantedSetting& setting : part.settings) keys += (keys.empty() ? "" : "; ") + setting.key + " = ...";
        print_(wrapped("Answer in one line: " + keys));
        for (const WantedSetting& setting : part.settings) {
            const Parameter* row = findDeclaredKey(setting.key);
            if (row == nullptr) continue;
            const std::string unit = unitsOf(row->kind).empty() ? "" : unitsOf(row->kind).front();
            print_(wrapped(setting.key + ": " + row->help + (unit.empty() ? "" : ", with its unit, such as " + unit)));
        }
    }
    if (part.kind == Part::Kind::because) print_("Answer in your own words: they are stored and not marked.\n");
}

void Dialogue::tellOpen() {
    const std::vector<const Part*> open = runner_.open();
    if (!open.empty()) return;
    print_(runner_.last() ? "\nThis was the last step. 'score' tells how it went, 'back' goes back, 'quit' leaves.\n" : "\nType 'next' to go on.\n");
}

void Dialogue::help() {
    print_("A line that is no command answers the question in brackets.\n"
           "  next, back, go N      the next step, the one before, step N\n"
           "  steps                 the steps and what is open in them\n"
           "  repeat                this step again\n"
           "  ask ID                choose a question of this step; a later answer replaces an earlier one\n"
           "  hint                  the next hint to the question\n"
           "  sure PERCENT          how sure you are of your last answer\n"
           "  picture [N or A]      what figure N, or the picture of instrument A, shows, in words\n"
           "  pixel S,L [A]         the counts and the place of a pixel\n"
           "  length S,L S,L [A]    the distance between two pixels\n"
           "  area S,L SIZE [A]     mean and spread of a square about a pixel\n"
           "  profile S,L S,L [A]   the counts along a line\n"
           "  score                 how it went so far\n"
           "  quit                  leave; everything is kept\n");
}

void Dialogue::steps() {
    for (std::size_t i = 0; i < runner_.lesson().steps.size(); ++i) {
        const Step& step = runner_.lesson().steps[i];
        const int open = static_cast<int>(std::count_if(step.parts.begin(), step.parts.end(), [&](const Part& part) {
            const auto found = runner_.answers().parts.find(part.id);
            return found == runner_.answers().parts.end() || found->second.attempts.empty();
        }));
        const bool reached = static_cast<int>(i) <= runner_.answers().opened;
        print_(fmt::format("  {}{} {}: {}{}\n", static_cast<int>(i) == runner_.index() ? "* " : "  ", i + 1, nameOf(step.kind), step.title,
                           !reached ? " (not yet open)" : open > 0 ? fmt::format(" ({} open)", open) : ""));
    }
}

void Dialogue::next() {
    std::string why;
    if (runner_.gated(&why)) return print_(wrapped(why));
    if (!runner_.next()) return print_("This is the last step.\n");
    tellStep();
}

void Dialogue::score() {
    if (!runner_.lesson().feedback) return print_("Marks are given when the lesson is marked.\n");
    const Score score = runner_.score();
    for (const PartScore& part : score.parts) {
        if (part.most > 0.0) print_(fmt::format("  {}: {} of {}{}\n", part.part, figuresText(part.points, 3), part.most, part.verdict.rule == "none" ? ", no answer yet" : ""));
    }
    print_(fmt::format("Together {} of {}.\n", figuresText(score.points, 3), score.most));
}

void Dialogue::hint() {
    const Part* part = current();
    if (part == nullptr) return print_("No question is open here; 'ask ID' chooses one.\n");
    const std::string words = runner_.hint(part->id);
    print_(words.empty() ? "There is no further hint.\n" : wrapped("Hint: " + words));
}

void Dialogue::ask(const Words& words) {
    std::string ids;
    for (const Part& part : runner_.step().parts) {
        if (words.size() == 2 && part.id == words[1]) {
            chosen_ = part.id;
            return tellPart(part);
        }
        ids += (ids.empty() ? "" : ", ") + part.id;
    }
    print_(ids.empty() ? "This step asks nothing.\n" : "The questions of this step: " + ids + "\n");
}

void Dialogue::answer(const Part& part, const std::string& words) {
    RawAnswer answer;
    if (part.kind == Part::Kind::point || part.kind == Part::Kind::line) {
        for (const std::string& word : wordsOf(words)) {
            double sample = 0.0, line = 0.0;
            int used = 0;
            if (std::sscanf(word.c_str(), "%lf,%lf%n", &sample, &line, &used) != 2 || used != static_cast<int>(word.size()))
                return print_("'" + word.substr(0, 40) + "' is no place: sample,line, such as 120,45\n");
            answer.points.push_back({sample + 0.5, line + 0.5});  // a pixel's centre
        }
    } else if (part.kind == Part::Kind::match || part.kind == Part::Kind::plan) {
        std::string rest = words + ";";
        for (std::size_t end = rest.find(';'); end != std::string::npos; end = rest.find(';')) {
            const std::string pair = rest.substr(0, end);
            rest = rest.substr(end + 1);
            const std::size_t equals = pair.find('=');
            if (trimmed(pair).empty()) continue;
            if (equals == std::string::npos && part.settings.size() == 1) {  // one setting is asked for: its value alone is enough
                answer.settings[part.settings.front().key] = trimmed(pair);
                continue;
            }
            if (equals == std::string::npos) return print_("'" + trimmed(pair).substr(0, 60) + "' is no setting: write " + part.settings.front().key + " = ..., and ; between two settings\n");
            answer.settings[trimmed(pair.substr(0, equals))] = trimmed(pair.substr(equals + 1));
        }
    } else {
        answer.text = words;
    }
    answer.evidence = evidence_;
    const Said said = runner_.answer(part.id, answer);
    print_(wrapped(said.message));
    if (!said.taken) return;
    const bool again = runner_.lesson().feedback && runner_.changeable(part) && runner_.step().kind != StepKind::predict && !said.verdict.right() && said.verdict.rule != "stored";
    if (again) print_("To try again: ask " + part.id + "\n");
    evidence_.clear();
    chosen_.clear();
    const Part* open = current();
    if (open != nullptr) print_("\n"), tellPart(*open);
    else tellOpen();
}

bool Dialogue::take(const std::string& raw) {
    const std::string line = trimmed(raw);
    const Words words = wordsOf(line);
    if (words.empty()) return true;
    try {
        const std::string& first = words[0];
        if (first == "quit" || first == "exit") return print_("Kept. Until next time.\n"), false;
        if (first == "help" && words.size() == 1) return help(), true;
        if (first == "next" && words.size() == 1) return next(), true;
        if (first == "back" && words.size() == 1) return runner_.back() ? tellStep() : print_("This is the first step.\n"), true;
        if (first == "steps" && words.size() == 1) return steps(), true;
        if (first == "repeat" && words.size() == 1) return tellStep(), true;
        if (first == "score" && words.size() == 1) return score(), true;
        if (first == "hint" && words.size() == 1) return hint(), true;
        if (first == "ask") return ask(words), true;
        if (first == "picture") return picture(words), true;
        if (first == "go" && words.size() == 2) {
            if (!runner_.go(std::atoi(words[1].c_str()) - 1)) print_("That step is not open yet; 'steps' lists them.\n");
            else tellStep();
            return true;
        }
        if (first == "pixel" || first == "length" || first == "area" || first == "profile") return measure(first, words), true;
        if (first == "sure" && words.size() == 2) {
            for (const Part& part : runner_.step().parts) {
                const auto own = runner_.answers().parts.find(part.id);
                if (own != runner_.answers().parts.end() && !own->second.attempts.empty()) chosen_ = part.id;
            }
            if (chosen_.empty()) return print_("Answer first, then say how sure you are.\n"), true;
            runner_.confidence(chosen_, std::atoi(words[1].c_str()));
            chosen_.clear();
            return print_("Noted.\n"), true;
        }
        const Part* part = current();
        if (part == nullptr) {
            const std::string nearest = nearestName(first, commands());
            print_("No question is open here" + (nearest.empty() ? std::string(".") : "; did you mean '" + nearest + "'?") + " 'next' goes on, 'ask ID' answers one again, 'help' lists the commands.\n");
            return true;
        }
        answer(*part, line);
    } catch (const InputError& error) {
        print_(std::string(error.what()) + "\n");
    }
    return true;
}

}  // namespace linefall
