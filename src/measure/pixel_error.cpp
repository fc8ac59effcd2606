#include "measure/pixel_error.h"

#include <cmath>
#include <limits>
#include <vector>

namespace linefall {

double pixelSigma(std::span<const PicturePlace> places, const OfPlaces& f) {
    std::vector<PicturePlace> moved(places.begin(), places.end());
    const std::optional<double> middle = f(moved);
    if (!middle) return std::numeric_limits<double>::infinity();
    double sum = 0.0;
    for (std::size_t i = 0; i < moved.size(); ++i) {
        for (double PicturePlace::*axis : {&PicturePlace::sample, &PicturePlace::line}) {
            const auto side = [&](double pixels) {
                moved[i].*axis += pixels;
                const std::optional<double> value = f(moved);
                moved[i] = places[i];
                return value;
            };
            const std::optional<double> after = side(0.5);
            const std::optional<double> before = side(-0.5);
            if (!after && !before) return std::numeric_limits<double>::infinity();
            const double change = after && before ? *after - *before : 2.0 * ((after ? *after : *before) - *middle);
            sum += change * change / 12.0;
        }
    }
    return std::sqrt(sum);
}

}  // namespace linefall
