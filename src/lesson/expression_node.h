#pragma once
// Inside the expressions: what the reader builds and the evaluation walks.

#include "lesson/expression.h"

namespace linefall {

struct Expression::Node {
    enum class What { number, name, call, unary, binary } what = What::number;
    std::size_t offset = 0;  ///< in the text
    Amount number;
    std::string word;  ///< name, function, or operator
    std::vector<std::shared_ptr<const Node>> parts;
};

/// Throws ExpressionError.
[[nodiscard]] std::shared_ptr<const Expression::Node> readExpression(const std::string& text);
/// True when there is a function of that name.
[[nodiscard]] bool isFunction(const std::string& name);
[[nodiscard]] const std::vector<std::string>& functionNames();

}  // namespace linefall
