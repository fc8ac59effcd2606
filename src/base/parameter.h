#pragma once
// A parameter is said once: key, kind, default, range and one line of help stand beside the physics that uses them.
// That one row serves scene files, --set, the sliders, the lessons and the manual.

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "base/problem.h"
#include "base/quantity.h"

namespace linefall {

/// "auto": the program derives the value.
struct Auto {
    friend bool operator==(Auto, Auto) { return true; }
};

/// A value of any kind: numbers in the kind's core unit; choices and texts as strings.
using Value = std::variant<Auto, bool, double, std::string>;

/// One declared parameter.
struct Parameter {
    std::string key;  ///< "flight.height"
    Kind kind = Kind::number;
    Value default_value;
    double least = 0.0;  ///< in the core unit, inclusive
    double most = 0.0;   ///< in the core unit, inclusive
    bool may_be_auto = false;
    std::vector<std::string> partners;  ///< keys that this one is an alternative to: setting it solves for them
    std::vector<std::string> choices;
    std::string help;
    bool logarithmic = false;  ///< a slider should move in factors
};

/// Where a setting came from; a later layer overrides an earlier one.
enum class Layer { preset = 0, scene = 1, user = 2 };

/// One value that was given, and where.
struct Setting {
    Value value;
    Place place;
    Layer layer = Layer::scene;
};

/// All values given for a set of parameters. Holds checked values only.
class Settings {
public:
    /// Takes a value; a value of a later layer replaces an earlier one, and removes its partners given in an
    /// earlier layer. Two partners in the same layer, or a key twice in the same file, are a problem.
    void give(const Parameter& parameter, Setting setting, Problems& problems);
    /// Replaces whatever was given (the window's sliders).
    void replace(const Parameter& parameter, Value value);
    void forget(const std::string& key) { given_.erase(key); }

    [[nodiscard]] const Setting* find(const std::string& key) const;
    [[nodiscard]] const std::map<std::string, Setting>& all() const { return given_; }

private:
    std::map<std::string, Setting> given_;
};

/// Checks text against a parameter: unit, range, choice, "auto". Adds a problem and returns nothing when it does not fit.
[[nodiscard]] std::optional<Value> readValue(const Parameter& parameter, const std::string& text, const Place& place,
                                             Problems& problems);
/// The text that readValue reads back as the same value.
[[nodiscard]] std::string exactText(const Parameter& parameter, const Value& value);
/// "1 m .. 40 000 km", "true or false", "one of a, b".
[[nodiscard]] std::string rangeText(const Parameter& parameter);

/// The declared parameters of a plain struct `T`: each row also knows the member it fills.
template <class T>
class Keys {
public:
    explicit Keys(std::string prefix) : prefix_(std::move(prefix)) {}

    Keys& number(const std::string& name, Kind kind, double T::*member, double default_value, double least, double most,
                 std::string help) {
        return add({prefix_ + name, kind, default_value, least, most, false, {}, {}, std::move(help), spread(least, most)},
                   [member](T& t, const Value& v) { t.*member = std::get<double>(v); });
    }
    Keys& count(const std::string& name, int T::*member, int default_value, int least, int most, std::string help) {
        return add({prefix_ + name, Kind::count, static_cast<double>(default_value), static_cast<double>(least),
                    static_cast<double>(most), false, {}, {}, std::move(help), false},
                   [member](T& t, const Value& v) { t.*member = static_cast<int>(std::get<double>(v)); });
    }
    /// A value that the program derives unless it is given.
    Keys& derived(const std::string& name, Kind kind, std::optional<double> T::*member, double least, double most,
                  std::string help) {
        return add({prefix_ + name, kind, Auto{}, least, most, true, {}, {},
                    std::move(help), spread(least, most)},
                   [member](T& t, const Value& v) {
                       if (const double* given = std::get_if<double>(&v)) t.*member = *given;
                       else t.*member = std::nullopt;
                   });
    }
    /// Makes the row just added and another row alternatives: only one of them may be given.
    Keys& insteadOf(const std::string& name) {
        rows_.back().partners.push_back(prefix_ + name);
        for (Parameter& row : rows_) {
            if (row.key == prefix_ + name) row.partners.push_back(rows_.back().key);
        }
        return *this;
    }
    Keys& flag(const std::string& name, bool T::*member, bool default_value, std::string help) {
        return add({prefix_ + name, Kind::flag, default_value, 0, 1, false, {}, {}, std::move(help), false},
                   [member](T& t, const Value& v) { t.*member = std::get<bool>(v); });
    }
    Keys& text(const std::string& name, std::string T::*member, std::string default_value, std::string help) {
        return add({prefix_ + name, Kind::text, std::move(default_value), 0, 0, false, {}, {}, std::move(help), false},
                   [member](T& t, const Value& v) { t.*member = std::get<std::string>(v); });
    }
    /// One of some words, kept as it is.
    Keys& word(const std::string& name, std::string T::*member, std::string default_value, std::vector<std::string> words, std::string help) {
        return add({prefix_ + name, Kind::choice, std::move(default_value), 0, 0, false, {}, std::move(words), std::move(help), false},
                   [member](T& t, const Value& v) { t.*member = std::get<std::string>(v); });
    }
    /// One of a list of words; the enumerators of E must count from 0 in the same order.
    template <class E>
    Keys& choice(const std::string& name, E T::*member, E default_value, std::vector<std::string> words, std::string help) {
        const std::string standard = words.at(static_cast<std::size_t>(default_value));
        return add({prefix_ + name, Kind::choice, standard, 0, 0, false, {}, words, std::move(help), false},
                   [member, words](T& t, const Value& v) {
                       for (std::size_t i = 0; i < words.size(); ++i) {
                           if (words[i] == std::get<std::string>(v)) t.*member = static_cast<E>(i);
                       }
                   });
    }

    [[nodiscard]] const std::vector<Parameter>& rows() const { return rows_; }

    /// A T with every declared member set: given value or default.
    [[nodiscard]] T read(const Settings& settings) const {
        T out{};
        for (std::size_t i = 0; i < rows_.size(); ++i) {
            const Setting* given = settings.find(rows_[i].key);
            setters_[i](out, given != nullptr ? given->value : rows_[i].default_value);
        }
        return out;
    }
    [[nodiscard]] T defaults() const { return read(Settings{}); }

private:
    static bool spread(double least, double most) { return least > 0.0 && most / least > 200.0; }
    Keys& add(Parameter row, std::function<void(T&, const Value&)> setter) {
        rows_.push_back(std::move(row));
        setters_.push_back(std::move(setter));
        return *this;
    }

    std::string prefix_;
    std::vector<Parameter> rows_;
    std::vector<std::function<void(T&, const Value&)>> setters_;
};

}  // namespace linefall
