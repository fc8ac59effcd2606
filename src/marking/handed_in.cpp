#include "marking/handed_in.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <new>
#include <set>

#include "base/problem.h"
#include "base/threads.h"
#include "lesson/variant.h"
#include "marking/csv.h"
#include "marking/folder_list.h"

namespace linefall {

namespace {

/// More files of one student are a mistake of their own, and are not compared.
constexpr std::size_t most_files_of_one = 50;

/// A file while it is being judged.
struct Met {
    FolderFile file;
    Answers answers;
    std::string unreadable;  ///< why
    bool read = false;
};

void read(Met& met, const std::string& folder) {
    try {
        met.answers = readAnswersFile(folder + "/" + met.file.name);
        met.read = true;
    } catch (const InputError& e) {
        const Problems& problems = e.problems();
        met.unreadable = problems.empty() ? e.what() : problems.front().text();
        if (problems.size() > 1) met.unreadable += fmt::format(" (and {} more)", problems.size() - 1);
    } catch (const std::bad_alloc&) {
        met.unreadable = "too large for the memory";
    } catch (const std::exception& e) {
        met.unreadable = e.what();
    }
    // The folder's own path is the lecturer's business: only the name within it is told.
    const std::string path = folder + "/" + met.file.name;
    for (std::size_t at = met.unreadable.find(path); at != std::string::npos; at = met.unreadable.find(path)) met.unreadable.replace(at, path.size(), met.file.name);
}

class Sorter {
public:
    Sorter(const Lesson& lesson, const Roster& roster, const HandInRules& rules, HandIns& out) : lesson_(lesson), roster_(roster), rules_(rules), out_(out) {}

    void notice(const std::string& file, const std::string& student, const std::string& what, const std::string& why, bool marked = false) {
        out_.notices.push_back({file, student, what, why, marked});
    }

    /// Puts a file to its student, or says why it is none of them.
    void take(Met& met) {
        const Answers& a = met.answers;
        const std::string& file = met.file.name;
        const std::string key = keyOf(a.student);
        if (!met.read) return notice(file, "", "unreadable", met.unreadable);
        if (a.lesson != lesson_.id) return notice(file, a.student, "foreign lesson", "answers to the lesson '" + a.lesson + "'");
        if (key.empty()) return notice(file, "", "no student", "the file names no student");
        if (a.student.size() > most_student_bytes) {
            return notice(file, a.student.substr(0, 40) + "...", "no student", fmt::format("an id of {} bytes, expected at most {}", a.student.size(), most_student_bytes));
        }
        if (a.version != lesson_.version && !rules_.any_version) {
            return notice(file, a.student, "other version", fmt::format("answers to version {} of the lesson, which is at version {}; --any-version marks them too", a.version, lesson_.version));
        }
        by_student_[key].push_back(&met);
    }

    void finish() {
        for (auto& [key, files] : by_student_) choose(key, files);
        tellFingerprints();
        for (const std::string& problem : roster_.problems) notice("", "", "roster", problem);
        for (const RosterEntry& entry : roster_.students) {
            if (by_student_.count(keyOf(entry.id)) == 0) notice("", entry.id, "missing", "on the roster, but there is no answer file that could be marked");
        }
        std::stable_sort(out_.marked.begin(), out_.marked.end(), [&](const HandedIn& a, const HandedIn& b) { return rank(a.key) < rank(b.key); });
    }

private:
    [[nodiscard]] std::size_t rank(const std::string& key) const {
        const auto at = roster_.by_key.find(key);
        return at == roster_.by_key.end() ? roster_.students.size() : at->second;
    }

    /// One file of a student stands for all, or none does.
    void choose(const std::string& key, const std::vector<Met*>& files) {
        const std::string student = files.front()->answers.student;
        const auto best = std::find_if(files.begin(), files.end(), [&](const Met* candidate) {
            return files.size() <= most_files_of_one && std::all_of(files.begin(), files.end(), [&](const Met* other) { return goesOnFrom(candidate->answers, other->answers); });
        });
        for (const Met* met : files) {
            if (best == files.end()) {
                notice(met->file.name, student, "duplicate", fmt::format("{} files of this student contradict each other: none is marked; leave the one that counts", files.size()));
            } else if (met != *best) {
                const bool alike = goesOnFrom(met->answers, (*best)->answers);
                notice(met->file.name, student, "duplicate", (alike ? "the same answers as " : "an earlier state of ") + (*best)->file.name + ", which is marked", true);
            }
        }
        if (best == files.end()) return;
        HandedIn handed{(*best)->file.name, std::move((*best)->answers), key, student, "", 0};
        if (const RosterEntry* entry = roster_.find(key)) {
            handed.id = entry->id;
            handed.name = entry->name;
        } else if (roster_.given()) {
            notice(handed.file, student, "not on the roster", "marked all the same", true);
        }
        if (!settleVariant(handed)) return;
        tellUnknownParts(handed);
        ++fingerprints_[handed.answers.fingerprint];
        out_.marked.push_back(std::move(handed));
    }

    /// False: cannot be marked, and was told.
    bool settleVariant(HandedIn& handed) {
        const Answers& a = handed.answers;
        const std::vector<int> own = variantsOf(lesson_, a.student);
        if (own.empty()) {
            notice(handed.file, a.student, "no variant", "the lesson has no variant for this student");
            return false;
        }
        handed.variant = own.back();
        const int claimed = a.variant - 1;
        if (a.version != lesson_.version) {
            if (claimed < 0 || claimed >= lesson_.variants.count()) {
                notice(handed.file, a.student, "other version", fmt::format("version {} with variant {}, which the lesson lacks", a.version, a.variant));
                return false;
            }
            handed.variant = claimed;
            notice(handed.file, a.student, "other version", fmt::format("answers to version {}, marked by version {}, variant {}", a.version, lesson_.version, a.variant), true);
            return true;
        }
        if (claimed == own.back()) return true;
        if (std::find(own.begin(), own.end(), claimed) != own.end()) {
            handed.variant = claimed;
            notice(handed.file, a.student, "dropped variant", fmt::format("variant {} was given out before it was dropped: marked by it", a.variant), true);
        } else {
            const std::string salt = a.salt == lesson_.variants.salt ? "" : " and another salt";
            notice(handed.file, a.student, "other variant",
                   fmt::format("the file says variant {}{}, this student's is {}: marked by {}", a.variant, salt, own.back() + 1, own.back() + 1), true);
        }
        return true;
    }

    void tellUnknownParts(const HandedIn& handed) {
        std::string unknown;
        int count = 0;
        for (const auto& [id, answers] : handed.answers.parts) {
            if (lesson_.findPart(id) != nullptr) continue;
            if (++count <= 3) unknown += (unknown.empty() ? "" : ", ") + id.substr(0, 60);
        }
        if (count > 0) notice(handed.file, handed.answers.student, "unknown part", fmt::format("{} of the parts that it answers are not in the lesson: {}{}", count, unknown, count > 3 ? ", ..." : ""), true);
    }

    /// The lesson may have been mended without a new version: told once, not for every file.
    void tellFingerprints() {
        for (const auto& [fingerprint, count] : fingerprints_) {
            if (fingerprint == lesson_.fingerprint) continue;
            notice("", "", "lesson changed", fmt::format("{} {} given under another state of the lesson ({}; now {})", count, count == 1 ? "answer file was" : "answer files were",
                                                         fingerprint.substr(0, 32), lesson_.fingerprint), true);
        }
    }

    const Lesson& lesson_;
    const Roster& roster_;
    const HandInRules& rules_;
    HandIns& out_;
    std::map<std::string, std::vector<Met*>> by_student_;
    std::map<std::string, int> fingerprints_;
};

}  // namespace

bool goesOnFrom(const Answers& later, const Answers& earlier) {
    if (later.variant != earlier.variant || later.version != earlier.version || later.salt != earlier.salt) return false;
    for (const auto& [id, part] : earlier.parts) {
        if (part.attempts.empty()) continue;
        const auto at = later.parts.find(id);
        if (at == later.parts.end() || at->second.attempts.size() < part.attempts.size()) return false;
        if (!std::equal(part.attempts.begin(), part.attempts.end(), at->second.attempts.begin())) return false;
    }
    return true;
}

std::vector<int> variantsOf(const Lesson& lesson, const std::string& student) {
    std::vector<int> out;
    if (lesson.variants.count() == 0) return out;
    Lesson then;  // what the choice of a variant depends on, and no more
    then.id = lesson.id;
    then.variants = lesson.variants;
    then.variants.drop.clear();
    while (static_cast<int>(out.size()) <= lesson.variants.count()) {
        const int variant = variantOf(then, student);
        out.push_back(variant);
        if (!lesson.variants.dropped(variant)) return out;
        then.variants.drop.push_back(variant + 1);
        if (static_cast<int>(then.variants.drop.size()) >= lesson.variants.count()) break;
    }
    return {};  // all are dropped
}

HandIns readHandIns(const std::string& folder, const Lesson& lesson, const Roster& roster, const HandInRules& rules) {
    FolderList list = listFolder(folder, rules.left_out, most_answer_files);
    HandIns out;
    Sorter sorter(lesson, roster, rules, out);
    std::vector<Met> met;
    std::size_t total = 0;
    for (FolderFile& file : list.files) {
        ++out.files;
        if (!file.fault.empty()) {
            sorter.notice(file.name, "", file.what, file.fault);
        } else if (file.bytes > most_answer_bytes) {
            sorter.notice(file.name, "", "too large", fmt::format("{} bytes, expected at most {}", file.bytes, most_answer_bytes));
        } else if (total + file.bytes > most_answer_total) {
            sorter.notice(file.name, "", "too many", fmt::format("not read: all files together hold more than {} MiB", most_answer_total >> 20));
        } else {
            total += file.bytes;
            met.push_back({std::move(file), {}, "", false});
        }
    }
    if (list.more > 0) sorter.notice("", "", "too many", fmt::format("{} files more were not read: at most {} are", list.more, most_answer_files));
    parallelFor(static_cast<int>(met.size()), rules.threads, [&](int i) { read(met[static_cast<std::size_t>(i)], folder); });
    for (Met& one : met) sorter.take(one);
    sorter.finish();
    return out;
}

}  // namespace linefall
