#pragma once
// Values that are put into scene files when they are read: {name} in any text of a file stands for the value given for it.

#include <map>
#include <string>

#include "scene/toml_reader.h"

namespace linefall {

/// Name and text: {"tower", "60 m"}.
using Givens = std::map<std::string, std::string>;

/// A text with every {name} that is given put in; other braces stay.
[[nodiscard]] std::string withGivens(const std::string& text, const Givens& givens);
/// The same for every text of a parsed file; keys stay, and so do places in messages.
void putGivens(toml::table& file, const Givens& givens);

}  // namespace linefall
