#include "base/random.h"

#include "base/constants.h"

#include <cmath>

namespace linefall {

std::array<double, 2> normalsFromWords(std::uint32_t first, std::uint32_t second) {
    const double radius = std::sqrt(-2.0 * std::log(uniformFromWord(first)));
    const double turn = 2.0 * constants::pi * uniformFromWord(second);
    return {radius * std::cos(turn), radius * std::sin(turn)};
}

}  // namespace linefall
