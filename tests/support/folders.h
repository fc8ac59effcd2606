#pragma once
// Where the tests' own files lie. Functions, so that no path is compiled into every test: a second checkout shares their objects.

#include <string>

namespace linefall {

/// The folder `tests` of the source tree.
[[nodiscard]] std::string testsFolder();
/// The top of the source tree.
[[nodiscard]] std::string sourceFolder();

}  // namespace linefall
