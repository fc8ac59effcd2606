#pragma once
// What the receptors of a human eye catch: the share of photons that each pigment takes, over wavelength.

#include <string>
#include <vector>

#include "base/spectrum.h"

namespace linefall {

/// "L", "M", "S": cones for long, middle and short waves; "rod".
[[nodiscard]] const std::vector<std::string>& receptorNames();

/// Wavelength of the pigment's peak, um: L 0.5584, M 0.5308, S 0.4190, rod 0.4963. Source: Dartnall, Bowmaker and Mollon
/// 1983, human receptors measured one by one under a microscope (from memory). L and M differ from eye to eye by some nm.
[[nodiscard]] double receptorPeak_um(const std::string& receptor);

/// Sensitivity of a pigment for photons, 1 near its peak, from the peak's wavelength alone:
///   S = 1 / (exp(A (a - x)) + exp(B (b - x)) + exp(C (c - x)) + D) + 0.26 exp(-((w - w_b) / b_b)^2),  x = w_peak / w
/// w: wavelength, nm; A 69.7, B 28, b 0.922, C -14.9, c 1.104, D 0.674, a = 0.8795 + 0.0459 exp(-(w_peak - 300)^2 / 11940);
/// the second band: w_b = 189 + 0.315 w_peak, b_b = -40.5 + 0.195 w_peak. For pigments of vitamin A1 with peaks from 330 to
/// 700 nm. Source: Govardovskii, Fyhrquist, Reuter, Kuzmin and Donner 2000, Visual Neuroscience 17 (from memory).
/// Left out: self-screening in a long receptor, which makes the curve a little wider.
[[nodiscard]] double pigmentSensitivity(double wavelength_um, double peak_um);

/// The sensitivity of a receptor's pigment from 380 to 780 nm, a point every 2 nm; peak 1 within 0.5 %.
[[nodiscard]] Spectrum pigmentSpectrum(const std::string& receptor);
inline constexpr double pigment_from_um = 0.38;
inline constexpr double pigment_to_um = 0.78;

}  // namespace linefall
