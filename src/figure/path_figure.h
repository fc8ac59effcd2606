#pragma once
// The light path of one pixel on a page: eight stops with their telling numbers, and the trace behind them.

#include "figure/figures.h"

namespace linefall {

/// Forms the pixel's line when needed; `request.pixel` must be given.
[[nodiscard]] Figure pathFigure(const Scene& scene, Formations& formations, const FigureRequest& request, const Type& type);

/// The whole trace as comma-separated text with a header: stage, symbol, meaning, value, unit, band, contribution. Every
/// number reads back as the same double.
[[nodiscard]] std::string traceCsv(const Trace& trace, const std::vector<Band>& bands);

/// A field of comma-separated text: quoted when it holds a comma, a quote or a line's end (RFC 4180).
[[nodiscard]] std::string csvField(const std::string& text);

}  // namespace linefall
