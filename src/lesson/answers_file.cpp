// The answer file: TOML, so that a student can read it. It holds what was given, and nothing that was worked out.

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <cstring>
#include <filesystem>
#include <fstream>

#include "lesson/answer.h"
#include "scene/toml_reader.h"

namespace linefall {

namespace {

constexpr int answers_version = 1;
constexpr double furthest_pixel = 1e6;

RawAnswer readAttempt(const toml::table& table, const std::string& file, Problems& problems) {
    TableReader r(table, file, "attempt", problems);
    RawAnswer answer;
    answer.text = r.text("text", "");
    answer.evidence = r.text("evidence", "");
    if (answer.text.size() > most_text_bytes || answer.evidence.size() > most_text_bytes)
        r.refuse(answer.text.size() > most_text_bytes ? "text" : "evidence", "more than " + std::to_string(most_text_bytes) + " bytes", "a shorter text");
    if (const toml::node* node = r.node("points")) {
        const toml::array* list = node->as_array();
        const bool good = list != nullptr && list->size() <= 2 && std::all_of(list->begin(), list->end(), [](const toml::node& one) {
            const toml::array* pair = one.as_array();
            return pair != nullptr && pair->size() == 2 && pair->get(0)->value<double>() && pair->get(1)->value<double>();
        });
        if (!good) r.refuse("points", shown(*node), "one or two places [sample, line]");
        for (std::size_t i = 0; good && i < list->size(); ++i) {
            const toml::array& pair = *list->get_as<toml::array>(i);
            const PicturePlace place{*pair.get(0)->value<double>(), *pair.get(1)->value<double>()};
            if (!(std::abs(place.sample) <= furthest_pixel && std::abs(place.line) <= furthest_pixel))
                r.refuse("points", "a place far outside any picture", "places in the picture, in pixels");
            else answer.points.push_back(place);
        }
    }
    if (const toml::table* settings = r.table("settings")) {
        if (settings->size() > 40) r.refuse("settings", std::to_string(settings->size()) + " settings", "at most 40");
        for (const auto& [key, value] : *settings) {
            if (answer.settings.size() >= 40) break;
            if (!value.is_string()) problems.push_back({placeOf(value, file), std::string(key.str()).substr(0, 60), shown(value), "a text, such as \"40 deg\"", ""});
            else answer.settings[std::string(key.str())] = writtenAs(value).substr(0, 200);
        }
    }
    r.finish();
    return answer;
}

PartAnswers readPartAnswers(const std::string& id, const toml::table& table, const std::string& file, Problems& problems) {
    TableReader r(table, file, "part." + id.substr(0, 60), problems);
    PartAnswers part;
    part.hints = r.whole("hints", 0, 0, 1000);
    part.confidence = r.whole("confidence", -1, -1, 100);
    const std::vector<const toml::table*> attempts = r.tables("attempt");
    if (attempts.size() > most_attempts) r.refuse("attempt", std::to_string(attempts.size()) + " attempts", "at most " + std::to_string(most_attempts));
    for (std::size_t i = 0; i < std::min(attempts.size(), most_attempts); ++i) part.attempts.push_back(readAttempt(*attempts[i], file, problems));
    (void)r.node("score");  // a claimed score is nobody's business: it is neither read nor an error
    r.finish();
    return part;
}

}  // namespace

const RawAnswer* Answers::counted(const Lesson& of, const std::string& part) const {
    const auto found = parts.find(part);
    if (found == parts.end() || found->second.attempts.empty()) return nullptr;
    const Part* asked = of.findPart(part);
    bool first = of.marks_first;
    for (const Step& one : of.steps) {  // what was predicted is what was said before anything was seen
        if (asked != nullptr && one.kind == StepKind::predict && std::any_of(one.parts.begin(), one.parts.end(), [&](const Part& p) { return &p == asked; })) first = false;
    }
    return first ? &found->second.attempts.front() : &found->second.attempts.back();
}

std::string answersText(const Answers& a) {
    std::string out = "# Answers to a Linefall lesson: what was given. Marks are worked out from it, never read from it.\n";
    out += fmt::format("linefall_answers = {}\nlesson = {}\nversion = {}\nfingerprint = {}\nprogram = {}\nstudent = {}\nvariant = {}\nsalt = {}\nstep = {}\nopened = {}\n", answers_version,
                       quotedToml(a.lesson), a.version, quotedToml(a.fingerprint), quotedToml(a.program), quotedToml(a.student), a.variant, quotedToml(a.salt), a.step, a.opened);
    for (const auto& [id, part] : a.parts) {
        out += "\n[part." + quotedToml(id) + "]\nhints = " + std::to_string(part.hints) + "\n";
        if (part.confidence >= 0) out += "confidence = " + std::to_string(part.confidence) + "\n";
        for (const RawAnswer& attempt : part.attempts) {
            out += "[[part." + quotedToml(id) + ".attempt]]\n";
            if (!attempt.text.empty()) out += "text = " + quotedToml(attempt.text) + "\n";
            if (!attempt.points.empty()) {
                out += "points = [";
                for (std::size_t i = 0; i < attempt.points.size(); ++i)
                    out += (i > 0 ? ", [" : "[") + exactText(attempt.points[i].sample, Kind::number) + ", " + exactText(attempt.points[i].line, Kind::number) + "]";
                out += "]\n";
            }
            if (!attempt.settings.empty()) {
                out += "settings = { ";
                bool first = true;
                for (const auto& [key, value] : attempt.settings) {
                    out += (first ? "" : ", ") + quotedToml(key) + " = " + quotedToml(value);
                    first = false;
                }
                out += " }\n";
            }
            if (!attempt.evidence.empty()) out += "evidence = " + quotedToml(attempt.evidence) + "\n";
        }
    }
    return out;
}

Answers readAnswers(const std::string& text, const std::string& file) {
    if (text.size() > most_answer_bytes)
        throw InputError(Problem{{file, 0, 0}, "", std::to_string(text.size()) + " bytes", "an answer file of at most " + std::to_string(most_answer_bytes / 1024) + " KiB", ""});
    if (text.find('\0') != std::string::npos) throw InputError(Problem{{file, 0, 0}, "", "bytes that are no text", "an answer file: text", ""});
    Problems problems;
    const auto table = parseToml(text, file, problems);
    if (!table) throw InputError(problems);
    Answers a;
    TableReader r(*table, file, "", problems);
    const toml::node* version = r.node("linefall_answers");
    if (version == nullptr || version->value_exact<std::int64_t>() != answers_version)
        r.refuse("linefall_answers", version == nullptr ? "" : shown(*version), "linefall_answers = 1: this program reads answer files of version 1");
    a.lesson = r.text("lesson", "", true);
    a.version = r.whole("version", 0, 0, 1000000, true);
    a.fingerprint = r.text("fingerprint", "");
    a.program = r.text("program", "");
    a.student = r.name("student");
    a.variant = r.whole("variant", 0, 0, 1000000, true);
    a.salt = r.text("salt", "");
    a.step = r.whole("step", 0, 0, 1000);
    a.opened = r.whole("opened", 0, 0, 1000);
    for (const char* claimed : {"score", "max", "mark"}) (void)r.node(claimed);
    if (const toml::table* parts = r.table("part")) {
        if (parts->size() > 500) r.refuse("part", std::to_string(parts->size()) + " parts", "at most 500");
        for (const auto& [id, node] : *parts) {
            if (a.parts.size() >= 500 || enough(problems)) break;
            if (const toml::table* one = node.as_table()) a.parts[std::string(id.str())] = readPartAnswers(std::string(id.str()), *one, file, problems);
            else problems.push_back({placeOf(node, file), "part." + std::string(id.str()).substr(0, 60), shown(node), "a table with attempts", ""});
        }
    }
    r.finish();
    if (!problems.empty()) throw InputError(problems);
    return a;
}

Answers readAnswersFile(const std::string& path) {
    std::error_code error;
    const auto refuse = [&](const std::string& read, const std::string& expected) { throw InputError(Problem{{path, 0, 0}, "", read, expected, ""}); };
    const std::filesystem::file_status status = std::filesystem::symlink_status(path, error);
    if (std::filesystem::is_symlink(status)) refuse("a link", "a file of its own");
    if (!std::filesystem::is_regular_file(status)) refuse(std::filesystem::exists(status) ? "a folder or device" : "no such file", "an answer file");
    std::ifstream stream(path, std::ios::binary);
    if (!stream) refuse(std::strerror(errno), "a file that can be read");
    std::string text(most_answer_bytes + 1, '\0');
    stream.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(stream.gcount()));
    if (text.size() > most_answer_bytes) refuse("more than " + std::to_string(most_answer_bytes / 1024) + " KiB", "an answer file of at most that size");
    return readAnswers(text, path);
}

}  // namespace linefall
