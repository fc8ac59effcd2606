#include "base/parameter.h"

#include <algorithm>
#include <cmath>

namespace linefall {

namespace {

std::string listed(const std::vector<std::string>& words) {
    std::string out;
    for (const std::string& word : words) out += (out.empty() ? "" : ", ") + word;
    return out;
}

std::string quoted(const std::string& text) {
    constexpr std::size_t most = 60;
    return "'" + (text.size() > most ? text.substr(0, most) + "..." : text) + "'";
}

}  // namespace

void Settings::give(const Parameter& parameter, Setting setting, Problems& problems) {
    if (const auto old = given_.find(parameter.key); old != given_.end()) {
        if (old->second.layer > setting.layer) return;
        if (old->second.layer == setting.layer && setting.layer != Layer::user) {
            problems.push_back({setting.place, parameter.key, "", "this key once; it is already set at " +
                                old->second.place.text(), ""});
            return;
        }
    }
    for (const std::string& partner : parameter.partners) {
        if (std::holds_alternative<Auto>(setting.value)) break;  // "auto" asks for what follows from the partners: keep them
        const auto other = given_.find(partner);
        if (other == given_.end()) continue;
        if (other->second.layer > setting.layer) return;
        if (other->second.layer == setting.layer && !std::holds_alternative<Auto>(other->second.value)) {
            problems.push_back({setting.place, parameter.key, "",
                                "either " + parameter.key + " or " + partner + ", not both: each follows from the other", ""});
            return;
        }
        given_.erase(other);
    }
    given_[parameter.key] = std::move(setting);
}

void Settings::replace(const Parameter& parameter, Value value) {
    if (!std::holds_alternative<Auto>(value)) {
        for (const std::string& partner : parameter.partners) given_.erase(partner);
    }
    given_[parameter.key] = {std::move(value), {"the window", 0, 0}, Layer::user};
}

const Setting* Settings::find(const std::string& key) const {
    const auto found = given_.find(key);
    return found == given_.end() ? nullptr : &found->second;
}

std::optional<Value> readValue(const Parameter& parameter, const std::string& text, const Place& place,
                               Problems& problems) {
    const auto refuse = [&](const std::string& expected, const std::string& nearest = "") -> std::optional<Value> {
        problems.push_back({place, parameter.key, quoted(text), expected, nearest});
        return std::nullopt;
    };
    if (parameter.may_be_auto && text == "auto") return Value{Auto{}};
    switch (parameter.kind) {
        case Kind::flag:
            if (text == "true" || text == "on") return Value{true};
            if (text == "false" || text == "off") return Value{false};
            return refuse("true or false");
        case Kind::choice:
            if (std::find(parameter.choices.begin(), parameter.choices.end(), text) != parameter.choices.end()) {
                return Value{text};
            }
            return refuse(rangeText(parameter), nearestName(text, parameter.choices));
        case Kind::text:
            return Value{text};
        default: break;
    }
    const ParsedQuantity parsed = parseQuantity(text, parameter.kind);
    if (!parsed.ok()) return refuse(parsed.error + (parameter.may_be_auto ? ", or auto" : ""));
    if (parsed.value < parameter.least || parsed.value > parameter.most) return refuse(rangeText(parameter));
    return Value{parsed.value};
}

std::string exactText(const Parameter& parameter, const Value& value) {
    if (std::holds_alternative<Auto>(value)) return "auto";
    if (const bool* flag = std::get_if<bool>(&value)) return *flag ? "true" : "false";
    if (const double* number = std::get_if<double>(&value)) return exactText(*number, parameter.kind);
    return std::get<std::string>(value);
}

std::string rangeText(const Parameter& parameter) {
    switch (parameter.kind) {
        case Kind::flag: return "true or false";
        case Kind::choice: return "one of " + listed(parameter.choices);
        case Kind::text: return "text";
        default:
            return shortText(parameter.least, parameter.kind, 6) + " to " + shortText(parameter.most, parameter.kind, 6) +
                   (parameter.may_be_auto ? ", or auto" : "");
    }
}

}  // namespace linefall
