#include "lesson/expression.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "lesson/expression_node.h"

namespace linefall {

namespace {

using Node = Expression::Node;

[[noreturn]] void fail(const Node& node, const std::string& what) { throw ExpressionError(what, node.offset); }

Amount finite(const Node& node, Amount amount) {
    if (!std::isfinite(amount.value)) fail(node, "no finite value here");
    return amount;
}

void needSame(const Node& node, const Amount& a, const Amount& b) {
    if (!(a.dimension == b.dimension)) fail(node, a.dimension.text() + " and " + b.dimension.text() + " do not go together with '" + node.word + "'");
}

void needPure(const Node& node, const Amount& a) {
    if (!a.dimension.pure()) fail(node, a.dimension.text() + " where " + node.word + " needs a pure number");
}

double needAngle(const Node& node, const Amount& a) {
    if (!a.dimension.angle()) fail(node, node.word + " needs an angle, such as 60 deg, and not " + a.dimension.text());
    return a.value;
}

using Arguments = std::vector<Amount>;
struct Function {
    std::size_t least, most;
    Amount (*give)(const Node&, const Arguments&);
};

const Dimension an_angle = Dimension::of(Dimension::radian);

template <double (*f)(double)>
Amount ofAngle(const Node& node, const Arguments& a) { return {f(needAngle(node, a[0])), {}}; }
template <double (*f)(double)>
Amount givesAngle(const Node& node, const Arguments& a) { return needPure(node, a[0]), Amount{f(a[0].value), an_angle}; }
template <double (*f)(double)>
Amount ofPure(const Node& node, const Arguments& a) { return needPure(node, a[0]), Amount{f(a[0].value), {}}; }
template <double (*f)(double)>
Amount keeps(const Node&, const Arguments& a) { return {f(a[0].value), a[0].dimension}; }

double sine(double x) { return std::sin(x); }
double cosine(double x) { return std::cos(x); }
double tangent(double x) { return std::tan(x); }
double arcSine(double x) { return std::asin(x); }
double arcCosine(double x) { return std::acos(x); }
double arcTangent(double x) { return std::atan(x); }
double exponential(double x) { return std::exp(x); }
double logarithm(double x) { return std::log(x); }
double decimalLogarithm(double x) { return std::log10(x); }
double absolute(double x) { return std::abs(x); }
double lower(double x) { return std::floor(x); }
double upper(double x) { return std::ceil(x); }
double nearest(double x) { return std::round(x); }

const std::map<std::string, Function>& functions() {
    static const std::map<std::string, Function> table{
        {"sin", {1, 1, ofAngle<sine>}},
        {"cos", {1, 1, ofAngle<cosine>}},
        {"tan", {1, 1, ofAngle<tangent>}},
        {"asin", {1, 1, givesAngle<arcSine>}},
        {"acos", {1, 1, givesAngle<arcCosine>}},
        {"atan", {1, 1, givesAngle<arcTangent>}},
        {"exp", {1, 1, ofPure<exponential>}},
        {"ln", {1, 1, ofPure<logarithm>}},
        {"log10", {1, 1, ofPure<decimalLogarithm>}},
        {"abs", {1, 1, keeps<absolute>}},
        {"floor", {1, 1, keeps<lower>}},
        {"ceil", {1, 1, keeps<upper>}},
        {"round", {1, 1, keeps<nearest>}},
        {"sqrt", {1, 1,
                  [](const Node& node, const Arguments& a) {
                      const auto dimension = a[0].dimension.root();
                      if (!dimension) fail(node, "no square root of " + a[0].dimension.text());
                      return Amount{std::sqrt(a[0].value), *dimension};
                  }}},
        {"min", {2, 20,
                 [](const Node& node, const Arguments& a) {
                     Amount least = a[0];
                     for (const Amount& one : a) needSame(node, a[0], one), least.value = std::min(least.value, one.value);
                     return least;
                 }}},
        {"max", {2, 20,
                 [](const Node& node, const Arguments& a) {
                     Amount most = a[0];
                     for (const Amount& one : a) needSame(node, a[0], one), most.value = std::max(most.value, one.value);
                     return most;
                 }}},
        {"hypot", {2, 2, [](const Node& node, const Arguments& a) { return needSame(node, a[0], a[1]), Amount{std::hypot(a[0].value, a[1].value), a[0].dimension}; }}},
        {"atan2", {2, 2, [](const Node& node, const Arguments& a) { return needSame(node, a[0], a[1]), Amount{std::atan2(a[0].value, a[1].value), an_angle}; }}},
        {"number", {1, 1, [](const Node& node, const Arguments& a) { return Amount{needAngle(node, a[0]), {}}; }}},
        {"angle", {1, 1, [](const Node& node, const Arguments& a) { return needPure(node, a[0]), Amount{a[0].value, an_angle}; }}},
    };
    return table;
}

Amount valueOf(const Node& node, const NameLookup& lookup);

Amount called(const Node& node, const NameLookup& lookup) {
    if (node.word == "if") {
        if (node.parts.size() != 3) fail(node, "if takes a condition and two values");
        const Amount condition = valueOf(*node.parts[0], lookup);
        needPure(node, condition);
        return valueOf(*node.parts[condition.value != 0.0 ? 1 : 2], lookup);
    }
    const Function& function = functions().at(node.word);
    if (node.parts.size() < function.least || node.parts.size() > function.most)
        fail(node, node.word + " takes " + std::to_string(function.least) + (function.most > function.least ? " or more values" : " value(s)"));
    Arguments arguments;
    for (const auto& part : node.parts) arguments.push_back(valueOf(*part, lookup));
    return finite(node, function.give(node, arguments));
}

Amount joined(const Node& node, const NameLookup& lookup) {
    const std::string& sign = node.word;
    const Amount a = valueOf(*node.parts[0], lookup);
    if (sign == "and" || sign == "or") {
        needPure(node, a);
        if ((a.value != 0.0) == (sign == "or")) return {a.value != 0.0 ? 1.0 : 0.0, {}};
        const Amount b = valueOf(*node.parts[1], lookup);
        return needPure(node, b), Amount{b.value != 0.0 ? 1.0 : 0.0, {}};
    }
    const Amount b = valueOf(*node.parts[1], lookup);
    if (sign == "*" || sign == "/") {
        const auto dimension = a.dimension.times(b.dimension, sign == "*" ? 1 : -1);
        if (!dimension) fail(node, "a unit that no quantity has");
        return finite(node, {sign == "*" ? a.value * b.value : a.value / b.value, *dimension});
    }
    if (sign == "^") {
        if (!b.dimension.pure()) fail(node, "a power is a pure number");
        if (a.dimension.pure()) return finite(node, {std::pow(a.value, b.value), {}});
        const double whole = std::round(b.value);
        const auto dimension = std::abs(whole) <= 9.0 && whole == b.value ? a.dimension.raised(static_cast<int>(whole)) : std::nullopt;
        if (!dimension) fail(node, "a whole power from -9 to 9 for what has a unit");
        return finite(node, {std::pow(a.value, whole), *dimension});
    }
    needSame(node, a, b);
    if (sign == "+") return finite(node, {a.value + b.value, a.dimension});
    if (sign == "-") return finite(node, {a.value - b.value, a.dimension});
    const bool holds = sign == "<" ? a.value < b.value : sign == "<=" ? a.value <= b.value : sign == ">" ? a.value > b.value
                     : sign == ">=" ? a.value >= b.value : sign == "==" ? a.value == b.value : a.value != b.value;
    return {holds ? 1.0 : 0.0, {}};
}

Amount valueOf(const Node& node, const NameLookup& lookup) {
    switch (node.what) {
        case Node::What::number: return node.number;
        case Node::What::name:
            try {
                return finite(node, lookup(node.word));
            } catch (const ExpressionError&) {
                throw;
            } catch (const InputError&) {  // told at its own place
                throw;
            } catch (const std::runtime_error& error) {
                fail(node, error.what());
            }
        case Node::What::call: return called(node, lookup);
        case Node::What::unary: {
            const Amount a = valueOf(*node.parts[0], lookup);
            if (node.word == "-") return {-a.value, a.dimension};
            return needPure(node, a), Amount{a.value == 0.0 ? 1.0 : 0.0, {}};
        }
        case Node::What::binary: return joined(node, lookup);
    }
    fail(node, "no value");
}

void gather(const Node& node, std::vector<std::string>& names) {
    if (node.what == Node::What::name && std::find(names.begin(), names.end(), node.word) == names.end()) names.push_back(node.word);
    for (const auto& part : node.parts) gather(*part, names);
}

}  // namespace

bool isFunction(const std::string& name) { return name == "if" || functions().count(name) != 0; }

const std::vector<std::string>& functionNames() {
    static const std::vector<std::string> names = [] {
        std::vector<std::string> all{"if"};
        for (const auto& [name, function] : functions()) all.push_back(name);
        return all;
    }();
    return names;
}

Expression::Expression(const std::string& text) : text_(text), root_(readExpression(text)) {}

std::vector<std::string> Expression::names() const {
    std::vector<std::string> names;
    if (root_ != nullptr) gather(*root_, names);
    return names;
}

Amount Expression::evaluate(const NameLookup& lookup) const {
    if (root_ == nullptr) throw ExpressionError("nothing where an expression was expected", 0);
    return valueOf(*root_, lookup);
}

bool Expression::holds(const NameLookup& lookup) const {
    const Amount value = evaluate(lookup);
    if (!value.dimension.pure()) throw ExpressionError(value.dimension.text() + " where a condition was expected", 0);
    return value.value != 0.0;
}

}  // namespace linefall
