#pragma once
// Quantities that depend on wavelength, and the bands that gather them.

#include <string>
#include <vector>

namespace linefall {

/// A quantity over wavelength: points, linear between them, constant beyond the first and the last.
/// Wavelengths in micrometres, strictly increasing. The unit of the values is the owner's.
class Spectrum {
public:
    struct Point {
        double wavelength_um = 0.0;
        double value = 0.0;
        friend bool operator==(const Point&, const Point&) = default;
    };

    Spectrum() = default;
    explicit Spectrum(std::vector<Point> points) : points_(std::move(points)) {}
    /// The same value at every wavelength.
    static Spectrum constant(double value) { return Spectrum({{0.55, value}}); }

    [[nodiscard]] double at(double wavelength_um) const;
    [[nodiscard]] const std::vector<Point>& points() const { return points_; }
    [[nodiscard]] bool empty() const { return points_.empty(); }

    friend bool operator==(const Spectrum&, const Spectrum&) = default;

private:
    std::vector<Point> points_;
};

/// One band of an instrument: its relative spectral response (1 at full response) is a trapezoid that rises over
/// `edge_um` centred on `from_um` and falls over `edge_um` centred on `to_um`; edge 0 is a box. A band with a `response`
/// has that curve between `from_um` and `to_um` instead, for each photon, and nothing outside.
struct Band {
    std::string name;
    double from_um = 0.5;
    double to_um = 0.6;
    double edge_um = 0.0;
    /// Electrons per photon, 0..1.
    double quantum_efficiency = 0.5;
    Spectrum response{};
    /// Kind of receptor of an eye: "L", "M", "S", "rod"; empty: none.
    std::string receptor{};
    /// Electrons at which a saturating reading is half of its largest; 0: the reading is linear.
    double half_saturation_e = 0.0;

    [[nodiscard]] double responseAt(double wavelength_um) const;
    /// The integral of the response, um. Equal to to - from for every edge width of a trapezoid.
    [[nodiscard]] double width_um() const;
    [[nodiscard]] double first_um() const { return from_um - 0.5 * edge_um; }
    [[nodiscard]] double last_um() const { return to_um + 0.5 * edge_um; }
    /// Where the band is said to lie: the middle of a trapezoid, the mean wavelength of a curve, um.
    [[nodiscard]] double middle_um() const;

    friend bool operator==(const Band&, const Band&) = default;
};

/// Mean of `quantity` over the band, weighted by the response. The integral is a midpoint rule with 2000 steps over
/// the band; its relative error on the piecewise linear spectra used here is below 1e-5.
[[nodiscard]] double bandMean(const Spectrum& quantity, const Band& band);

/// Mean of `quantity` over the band, weighted by response and by `light` (for a reflectance: the sun's spectrum).
[[nodiscard]] double bandMeanUnder(const Spectrum& quantity, const Spectrum& light, const Band& band);

/// Mean wavelength of the band, weighted by response and `light`, um.
[[nodiscard]] double effectiveWavelength_um(const Spectrum& light, const Band& band);

}  // namespace linefall
