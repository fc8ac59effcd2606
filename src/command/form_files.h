#pragma once
// What `form` writes: per instrument a display picture and the raw counts of each band, once the state and the facts.

#include <memory>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "flight/formation.h"

namespace linefall {

/// The bands to show of each formation, as the scene's `show.bands` says. Throws InputError when one has no such band;
/// `by_option`: it came from --show.
[[nodiscard]] std::vector<BandChoice> chosenBands(const std::vector<std::unique_ptr<Formation>>& formations, const Scene& scene,
                                                  bool by_option);

/// What was written.
struct FormReport {
    std::vector<std::string> files;
    nlohmann::ordered_json json;
};

/// Writes all files into an existing folder, or none of them. Nothing comes back when `cancel` was set: then nothing stays.
[[nodiscard]] std::optional<FormReport> writeImages(const Scene& scene, const std::vector<std::unique_ptr<Formation>>& formations,
                                                    const std::string& folder, const Cancel& cancel);

/// Samples that look past the ground.
[[nodiscard]] std::size_t skySamples(const Image& image);

}  // namespace linefall
