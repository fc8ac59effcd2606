#pragma once
// Formulas in textbook type: what follows an underscore is set small and low, what follows a caret small and raised. Broken at spaces to a width.

#include <string>

#include "app/ui.h"

namespace linefall {

/// Width of one line of formula text.
[[nodiscard]] float formulaWidth(const Ui& ui, ImFont* font, const std::string& words);
/// Draws words with their subscripts, broken to a width, later lines further in by `hang`; returns the height used.
float drawFormula(Ui& ui, float x, float y, float width, ImFont* font, ImU32 colour, const std::string& words, float hang = 0.0f);

}  // namespace linefall
