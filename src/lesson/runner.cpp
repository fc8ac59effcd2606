#include "lesson/runner.h"

#include <algorithm>

#include "lesson/variant.h"

namespace linefall {

namespace {

[[noreturn]] void refuse(const std::string& what, const std::string& read, const std::string& expected) {
    throw InputError(Problem{{"the answer file", 0, 0}, what, "'" + read.substr(0, 80) + "'", expected, ""});
}

/// Answers that go on must be to this very lesson, or what was asked and what is marked would differ.
void checkEarlier(const Lesson& lesson, const std::string& student, const Answers& earlier) {
    if (earlier.lesson != lesson.id) refuse("lesson", earlier.lesson, "answers to " + lesson.id);
    if (earlier.version != lesson.version) refuse("version", std::to_string(earlier.version), "version " + std::to_string(lesson.version) + " of the lesson; begin anew in another file");
    if (!student.empty() && earlier.student != student) refuse("student", earlier.student, "answers of '" + student + "'");
}

}  // namespace

Runner::Runner(Lesson lesson, const std::string& student, const Answers* earlier, Save save, bool gate, int threads)
    : lesson_(std::make_shared<const Lesson>(std::move(lesson))), save_(std::move(save)), gate_(gate) {
    if (earlier != nullptr) {
        checkEarlier(*lesson_, student, *earlier);
        answers_ = *earlier;
    }
    answers_.lesson = lesson_->id;
    answers_.version = lesson_->version;
    answers_.fingerprint = lesson_->fingerprint;
    answers_.program = LINEFALL_VERSION;
    if (answers_.student.empty()) answers_.student = student;
    const int variant = variantOf(*lesson_, answers_.student);
    answers_.variant = variant + 1;
    answers_.salt = lesson_->variants.salt;
    answers_.opened = std::clamp(answers_.opened, 0, static_cast<int>(lesson_->steps.size()) - 1);
    answers_.step = std::clamp(answers_.step, 0, answers_.opened);
    truths_ = std::make_unique<Truths>(*lesson_, variant, threads);
}

const Part& Runner::part(const std::string& id) const {
    const Part* part = lesson_->findPart(id);
    if (part == nullptr) throw InputError(Problem{{"", 0, 0}, "part", "'" + id + "'", "the id of a question of this lesson", ""});
    return *part;
}

std::vector<const Part*> Runner::open() const {
    std::vector<const Part*> open;
    for (const Part& part : step().parts) {
        const auto found = answers_.parts.find(part.id);
        if (found == answers_.parts.end() || found->second.attempts.empty()) open.push_back(&part);
    }
    return open;
}

bool Runner::gated(std::string* why) const {
    if (!gate_ || step().kind != StepKind::predict || open().empty()) return false;
    if (why != nullptr) *why = "This step asks what you expect before you see it. A guess is enough; nothing is lost by it.";
    return true;
}

bool Runner::next() {
    if (last() || gated()) return false;
    ++answers_.step;
    answers_.opened = std::max(answers_.opened, answers_.step);
    save_(answers_);
    return true;
}

bool Runner::back() { return go(answers_.step - 1); }

bool Runner::go(int step) {
    if (step < 0 || step > answers_.opened || step == answers_.step) return false;
    answers_.step = step;
    save_(answers_);
    return true;
}

bool Runner::changeable(const Part& part) const {
    for (std::size_t i = 0; i < lesson_->steps.size(); ++i) {
        const Step& step = lesson_->steps[i];
        const bool here = std::any_of(step.parts.begin(), step.parts.end(), [&](const Part& p) { return p.id == part.id; });
        if (here) return static_cast<int>(i) <= answers_.opened && (step.kind != StepKind::predict || answers_.opened == static_cast<int>(i));
    }
    return false;
}

Said Runner::answer(const std::string& id, const RawAnswer& answer) {
    const Part& asked = part(id);
    Said said;
    if (!changeable(asked)) {
        said.message = "A prediction stays as it was once the next step is open: it is worth most when it is compared with what happened.";
        return said;
    }
    const auto owner = std::find_if(lesson_->steps.begin(), lesson_->steps.end(), [&](const Step& s) {
        return std::any_of(s.parts.begin(), s.parts.end(), [&](const Part& p) { return p.id == id; });
    });
    if (answer.text.size() > most_text_bytes) {
        said.message = "At most " + std::to_string(most_text_bytes) + " bytes can be stored; this is longer.";
        return said;
    }
    said.verdict = judge(asked, *owner, &answer, *truths_, &answers_);
    if (said.verdict.rule == "unreadable" || said.verdict.rule == "none") {
        said.message = said.verdict.rule == "none" ? "Nothing was written." : said.verdict.message;
        return said;
    }
    std::vector<RawAnswer>& attempts = answers_.parts[id].attempts;
    if (attempts.size() >= most_attempts) attempts.erase(attempts.begin() + 1);  // the first one may count
    attempts.push_back(answer);
    save_(answers_);
    said.taken = true;
    if (!lesson_->feedback) {
        said.verdict = {};
        said.message = "Stored.";
        return said;
    }
    said.message = said.verdict.message;
    const std::string scene = asked.scene.empty() ? owner->scene : asked.scene;
    if (!asked.explain.empty() && said.verdict.rule != "stored") said.message += (said.message.empty() ? "" : " ") + truths_->text(asked.explain, scene);
    if (owner->kind == StepKind::predict) said.message = "Noted: you will see.";  // what happens is the answer
    if (said.message.empty()) said.message = said.verdict.right() ? "That agrees with the picture." : said.verdict.rule == "stored" ? "Stored." : "Not yet: look again, or ask for a hint.";
    return said;
}

std::string Runner::hint(const std::string& id) {
    const Part& asked = part(id);
    PartAnswers& own = answers_.parts[id];
    if (own.hints >= static_cast<int>(asked.hints.size())) return "";
    const std::string text = truths_->text(asked.hints[static_cast<std::size_t>(own.hints)], asked.scene.empty() ? step().scene : asked.scene);
    ++own.hints;
    save_(answers_);
    return text;
}

void Runner::confidence(const std::string& id, int percent) {
    answers_.parts[part(id).id].confidence = std::clamp(percent, 0, 100);
    save_(answers_);
}

bool Runner::finished() const {
    for (const Part* one : lesson_->parts()) {
        const auto found = answers_.parts.find(one->id);
        if (found == answers_.parts.end() || found->second.attempts.empty()) return false;
    }
    return true;
}

Score Runner::score() { return linefall::score(answers_, *truths_); }

}  // namespace linefall
