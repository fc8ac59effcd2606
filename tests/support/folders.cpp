#include "support/folders.h"

namespace linefall {

std::string testsFolder() { return LINEFALL_TESTS_DIR; }
std::string sourceFolder() { return LINEFALL_SOURCE_DIR; }

}  // namespace linefall
