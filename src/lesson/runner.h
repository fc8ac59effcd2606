#pragma once
// One student in one lesson: which step stands open, what may be answered, what is said. A terminal, a page or a window
// shows it; none of them decides anything.

#include <functional>
#include <memory>
#include <string>

#include "lesson/judge.h"

namespace linefall {

/// What an answer led to.
struct Said {
    bool taken = false;       ///< stored; false: it could not be read, and `message` says what was expected
    Verdict verdict;          ///< without feedback at once only `message` is set
    std::string message;
};

class Runner {
public:
    /// `save` is called after every change with the whole of the answers; it throws when they cannot be kept.
    using Save = std::function<void(const Answers&)>;
    /// A new run, or, with `earlier`, one that goes on. Throws InputError when `earlier` belongs to another lesson, version,
    /// or student.
    Runner(Lesson lesson, const std::string& student, const Answers* earlier, Save save, bool gate = true, int threads = 0);

    [[nodiscard]] const Lesson& lesson() const { return *lesson_; }
    [[nodiscard]] Truths& truths() { return *truths_; }
    [[nodiscard]] const Answers& answers() const { return answers_; }
    [[nodiscard]] int index() const { return answers_.step; }
    [[nodiscard]] const Step& step() const { return lesson_->steps[static_cast<std::size_t>(answers_.step)]; }
    [[nodiscard]] bool last() const { return answers_.step + 1 == static_cast<int>(lesson_->steps.size()); }

    /// Parts of the open step that have no answer yet, in order.
    [[nodiscard]] std::vector<const Part*> open() const;
    /// True when the step must be answered before the next: a prediction. `why` says it.
    [[nodiscard]] bool gated(std::string* why = nullptr) const;
    /// Goes on; false at the gate or at the end.
    bool next();
    bool back();
    bool go(int step);  ///< to a step that was opened

    /// A prediction can be changed until the next step was opened.
    [[nodiscard]] bool changeable(const Part& part) const;
    Said answer(const std::string& part, const RawAnswer& answer);
    /// The next hint of a part; empty when there is none left.
    [[nodiscard]] std::string hint(const std::string& part);
    void confidence(const std::string& part, int percent);

    [[nodiscard]] bool finished() const;  ///< every part has an answer
    [[nodiscard]] Score score();

private:
    [[nodiscard]] const Part& part(const std::string& id) const;
    std::shared_ptr<const Lesson> lesson_;
    std::unique_ptr<Truths> truths_;
    Answers answers_;
    Save save_;
    bool gate_;
};

}  // namespace linefall
