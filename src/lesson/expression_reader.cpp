#include <cctype>
#include <cmath>
#include <cstdlib>

#include "lesson/expression_node.h"

namespace linefall {

namespace {

using Node = Expression::Node;
using Pointer = std::shared_ptr<const Node>;

constexpr int deepest = 50;
constexpr std::size_t longest = 1000;

class Reader {
public:
    explicit Reader(const std::string& text) : text_(text) {}

    Pointer whole() {
        Pointer node = logicOr();
        space();
        if (at_ < text_.size()) fail("an operator, or the end");
        return node;
    }

private:
    [[noreturn]] void fail(const std::string& expected) const {
        const std::string read = at_ < text_.size() ? "'" + text_.substr(at_, 12) + "'" : "the end";
        throw ExpressionError(read + " where " + expected + " was expected", at_);
    }
    void space() {
        while (at_ < text_.size() && (text_[at_] == ' ' || text_[at_] == '\t' || text_[at_] == '\n')) ++at_;
    }
    static bool letter(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_'; }
    bool take(std::string_view sign) {
        space();
        if (text_.compare(at_, sign.size(), sign) != 0) return false;
        if (letter(sign.front()) && at_ + sign.size() < text_.size() && letter(text_[at_ + sign.size()])) return false;
        at_ += sign.size();
        return true;
    }
    Pointer binary(std::size_t offset, std::string_view sign, Pointer a, Pointer b) const {
        return std::make_shared<Node>(Node{Node::What::binary, offset, {}, std::string(sign), {std::move(a), std::move(b)}});
    }
    template <class Next>
    Pointer chain(std::initializer_list<std::string_view> signs, Next next) {
        Pointer left = next();
        for (int length = 0;; ++length) {
            if (length > 500) fail("a shorter expression");
            space();
            const std::size_t offset = at_;
            std::string_view met;
            for (const std::string_view sign : signs) {
                if (met.empty() && take(sign)) met = sign;
            }
            if (met.empty()) return left;
            left = binary(offset, met, left, next());
        }
    }
    Pointer logicOr() {
        const Deeper deeper(*this);
        return chain({"or"}, [this] { return logicAnd(); });
    }
    Pointer logicAnd() {
        return chain({"and"}, [this] { return logicNot(); });
    }
    Pointer logicNot() {
        space();
        const std::size_t offset = at_;
        if (!take("not")) return comparison();
        const Deeper deeper(*this);
        return std::make_shared<Node>(Node{Node::What::unary, offset, {}, "not", {logicNot()}});
    }
    Pointer comparison() {
        Pointer left = sum();
        space();
        const std::size_t offset = at_;
        for (const std::string_view sign : {"<=", ">=", "==", "!=", "<", ">"}) {
            if (take(sign)) return binary(offset, sign, left, sum());
        }
        return left;
    }
    Pointer sum() {
        return chain({"+", "-"}, [this] { return product(); });
    }
    Pointer product() {
        return chain({"*", "/"}, [this] { return sign(); });
    }
    Pointer sign() {
        space();
        const std::size_t offset = at_;
        if (!take("-")) return power();
        const Deeper deeper(*this);
        return std::make_shared<Node>(Node{Node::What::unary, offset, {}, "-", {sign()}});
    }
    Pointer power() {
        Pointer base = atom();
        space();
        const std::size_t offset = at_;
        if (!take("^")) return base;
        const Deeper deeper(*this);
        return binary(offset, "^", base, sign());
    }
    Pointer atom() {
        space();
        if (at_ >= text_.size()) fail("a number, a name or '('");
        const char c = text_[at_];
        if (c == '(') {
            ++at_;
            Pointer inside = logicOr();
            if (!take(")")) fail("')'");
            return inside;
        }
        if (std::isdigit(static_cast<unsigned char>(c)) != 0 || c == '.') return number();
        if (std::isalpha(static_cast<unsigned char>(c)) != 0 || c == '_') return word();
        fail("a number, a name or '('");
    }
    /// A number, and the unit that follows it when one does: "60 deg", "2 pixels", "40 %".
    Pointer number() {
        const std::size_t offset = at_;
        const char* begin = text_.c_str() + at_;
        if (begin[0] == '0' && (begin[1] == 'x' || begin[1] == 'X')) fail("a decimal number");
        char* end = nullptr;
        const double value = std::strtod(begin, &end);
        if (end == begin || !std::isfinite(value)) fail("a number");
        at_ += static_cast<std::size_t>(end - begin);
        Node node{Node::What::number, offset, {value, {}}, {}, {}};
        const std::size_t after = at_;
        space();
        std::size_t last = at_;
        while (last < text_.size() && (std::isalpha(static_cast<unsigned char>(text_[last])) != 0 || text_[last] == '%')) ++last;
        std::string unit = text_.substr(at_, last - at_);
        if (last < text_.size() && text_[last] == '/' && !unit.empty()) {  // "m/s", "km/h", "e/s": a unit before a division
            std::size_t further = last + 1;
            while (further < text_.size() && std::isalpha(static_cast<unsigned char>(text_[further])) != 0) ++further;
            const std::string longer = text_.substr(at_, further - at_);
            if (findUnit(longer) != nullptr) unit = longer, last = further;
        }
        if (!unit.empty() && last < text_.size() && (letter(text_[last]) || text_[last] == '.')) {
            // "2 m2", but "2 sun.elevation" is a mistake that the caller finds
            std::size_t further = last;
            while (further < text_.size() && letter(text_[further])) ++further;
            unit = text_.substr(at_, further - at_);
            last = further;
        }
        const bool word = unit == "and" || unit == "or";
        if (!unit.empty() && !word) {
            const UnitOfText* known = findUnit(unit);
            if (known == nullptr) fail("a unit, an operator or the end");
            node.number = {(value + known->offset) * known->scale, known->dimension};
            at_ = last;
        } else {
            at_ = after;
        }
        return std::make_shared<Node>(std::move(node));
    }
    Pointer word() {
        const std::size_t offset = at_;
        std::size_t last = at_;
        while (last < text_.size() && (letter(text_[last]) || text_[last] == '.')) ++last;
        const std::string name = text_.substr(at_, last - at_);
        at_ = last;
        if (name == "and" || name == "or" || name == "not") at_ = offset, fail("a number, a name or '('");
        space();
        if (at_ >= text_.size() || text_[at_] != '(') return std::make_shared<Node>(Node{Node::What::name, offset, {}, name, {}});
        if (!isFunction(name)) {
            at_ = offset;
            const std::string nearest = nearestName(name, functionNames());
            fail(nearest.empty() ? "a function of the list" : "a function (did you mean " + nearest + "?)");
        }
        ++at_;
        Node node{Node::What::call, offset, {}, name, {}};
        do {
            if (node.parts.size() == 20) fail("at most 20 arguments");
            node.parts.push_back(logicOr());
        } while (take(","));
        if (!take(")")) fail("',' or ')'");
        return std::make_shared<Node>(std::move(node));
    }

    /// Counts how deep the reading is, so that a hostile text cannot exhaust the stack.
    struct Deeper {
        explicit Deeper(Reader& reader) : of(reader) {
            if (++of.depth_ > deepest) of.fail("a shallower expression: at most " + std::to_string(deepest) + " deep");
        }
        Deeper(const Deeper&) = delete;
        Deeper& operator=(const Deeper&) = delete;
        ~Deeper() { --of.depth_; }
        Reader& of;
    };

    const std::string& text_;
    std::size_t at_ = 0;
    int depth_ = 0;
};

}  // namespace

std::shared_ptr<const Node> readExpression(const std::string& text) {
    if (text.size() > longest) throw ExpressionError("more than " + std::to_string(longest) + " characters", longest);
    return Reader(text).whole();
}

}  // namespace linefall
