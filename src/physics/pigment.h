#pragma once
// What the receptors of a human eye catch: the share of photons that each pigment takes, over wavelength.

#include <string>
#include <vector>

#include "base/parameter.h"
#include "base/spectrum.h"

namespace linefall {

/// "L", "M", "S": cones for long, middle and short waves; "rod".
[[nodiscard]] const std::vector<std::string>& receptorNames();

/// To what light receptors have adapted: the photons at which a reading is half of its largest.
struct ReceptorSettings {
    double half_saturation_e, s_half_saturation_e, rod_half_saturation_e;
};
[[nodiscard]] const Keys<ReceptorSettings>& receptorKeys();

/// Wavelength of the pigment's peak, um: L 0.5584, M 0.5308, S 0.4190, rod 0.4963. Source: Dartnall, Bowmaker and Mollon
/// 1983, human receptors measured one by one under a microscope (from memory). L and M differ from eye to eye by some nm.
[[nodiscard]] double receptorPeak_um(const std::string& receptor);

/// Sensitivity of a pigment for photons, 1 near its peak, from the peak's wavelength alone:
///   S = 1 / (exp(A (a - x)) + exp(B (b - x)) + exp(C (c - x)) + D) + 0.26 exp(-((w - w_b) / b_b)^2),  x = w_peak / w
/// w: wavelength, nm; A 69.7, B 28, b 0.922, C -14.9, c 1.104, D 0.674, a = 0.8795 + 0.0459 exp(-(w_peak - 300)^2 / 11940);
/// the second band: w_b = 189 + 0.315 w_peak, b_b = -40.5 + 0.195 w_peak. For pigments of vitamin A1 with peaks from 330 to
/// 700 nm. Source: Govardovskii, Fyhrquist, Reuter, Kuzmin and Donner 2000, Visual Neuroscience 17 (from memory).
[[nodiscard]] double pigmentSensitivity(double wavelength_um, double peak_um);

/// Optical density of a receptor's pigment along its length at the peak: L and M 0.5, S and rod 0.4 (CIE 170-1:2006 for the
/// cones of the fovea; rods common practice; both from memory).
[[nodiscard]] double receptorDensity(const std::string& receptor);

/// What a whole receptor catches of the photons along it, 1 at the peak: (1 - 10^(-d S)) / (1 - 10^-d), with S the
/// sensitivity of its pigment and d its density. A long receptor screens itself, which widens the curve. Beer and Lambert.
[[nodiscard]] double receptorSensitivity(double wavelength_um, const std::string& receptor);

/// The sensitivity of a receptor from 380 to 780 nm, a point every 2 nm; peak 1 within 0.5 %.
[[nodiscard]] Spectrum pigmentSpectrum(const std::string& receptor);
inline constexpr double pigment_from_um = 0.38;
inline constexpr double pigment_to_um = 0.78;

}  // namespace linefall
