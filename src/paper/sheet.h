#pragma once
// The page itself: its style, its head and foot. Everything that stands in it is escaped by whoever writes it.

#include <string>

namespace linefall {

/// A whole HTML document. `running`: words at the foot of each printed page, beside its number.
[[nodiscard]] std::string sheetDocument(const std::string& title, const std::string& running, const std::string& body);

/// The caution that stands on every sheet, HTML.
[[nodiscard]] std::string cautionHtml();

}  // namespace linefall
