#include "support/golden.h"

#include <png.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <thread>

#include "support/colours.h"
#include "support/folders.h"

namespace linefall {

namespace fs = std::filesystem;

namespace {

constexpr int longer_side = 112;

/// Grey 128 where both are the same; four times what is between them, so that it is seen.
Shot difference(const Shot& got, const Shot& expected) {
    Shot out{got.width, got.height, got.pixels};
    for (std::size_t i = 0; i < out.pixels.size(); ++i) {
        for (std::size_t c = 0; c < 3; ++c) out.pixels[i][c] = static_cast<std::uint8_t>(std::clamp(128 + 4 * (got.pixels[i][c] - expected.pixels[i][c]), 0, 255));
    }
    return out;
}

/// As it is once it stands: the same for four seconds.
std::optional<Shot> standing(const std::function<std::optional<Shot>()>& take) {
    std::optional<Shot> kept = take();
    for (int still = 0, tries = 0; kept && still < 8 && tries < 200; ++tries) {
        std::this_thread::sleep_for(std::chrono::milliseconds(500));
        std::optional<Shot> now = take();
        if (now && apart(*now, *kept).worst < 0.5) {
            ++still;
            continue;
        }
        still = 0;
        kept = std::move(now);
    }
    return kept;
}

}  // namespace

Crop Crop::part(double left, double top, double right, double bottom) const {
    const auto at = [](double share, int length) { return static_cast<int>(std::lround(share * length)); };
    return {x + at(left, w), y + at(top, h), at(right, w) - at(left, w), at(bottom, h) - at(top, h)};
}

Crop wholeOf(const Shot& shot) { return {0, 0, shot.width, shot.height}; }

Shot shrunk(const Shot& shot, const Crop& box, int columns, int rows) {
    Shot out{columns, rows, {}};
    out.pixels.reserve(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows));
    for (int row = 0; row < rows; ++row) {
        const double top = box.y + static_cast<double>(row) * box.h / rows, bottom = box.y + (row + 1.0) * box.h / rows;
        for (int column = 0; column < columns; ++column) {
            const double left = box.x + static_cast<double>(column) * box.w / columns, right = box.x + (column + 1.0) * box.w / columns;
            std::array<double, 3> sum{};
            double all = 0.0;
            for (int y = std::max(0, static_cast<int>(top)); y < std::min<double>(bottom, shot.height); ++y) {
                const double high = std::min(bottom, y + 1.0) - std::max<double>(top, y);
                for (int x = std::max(0, static_cast<int>(left)); x < std::min<double>(right, shot.width); ++x) {
                    const double share = high * (std::min(right, x + 1.0) - std::max<double>(left, x));
                    for (std::size_t c = 0; c < 3; ++c) sum[c] += share * shot.at(x, y)[c];
                    all += share;
                }
            }
            Rgb mean{};
            for (std::size_t c = 0; c < 3 && all > 0.0; ++c) mean[c] = static_cast<std::uint8_t>(std::lround(sum[c] / all));
            out.pixels.push_back(mean);
        }
    }
    return out;
}

Shot shrunk(const Shot& shot, const Crop& box) {
    const double scale = std::min(0.5, static_cast<double>(longer_side) / std::max({box.w, box.h, 1}));
    const auto side = [&](int length) { return std::max(8, static_cast<int>(std::lround(scale * length))); };
    return shrunk(shot, box, side(box.w), side(box.h));
}

Apart apart(const Shot& a, const Shot& b) {
    if (a.width != b.width || a.height != b.height || a.pixels.empty()) return {};
    const auto mean = [&](int x0, int y0, int x1, int y1) {
        double sum = 0.0;
        for (int y = y0; y < y1; ++y) {
            for (int x = x0; x < x1; ++x) {
                for (std::size_t c = 0; c < 3; ++c) sum += std::abs(a.at(x, y)[c] - b.at(x, y)[c]);
            }
        }
        return sum / (3.0 * (x1 - x0) * (y1 - y0));
    };
    Apart out{mean(0, 0, a.width, a.height), 0.0};
    for (int y = 0; y < a.height; y += 4) {
        for (int x = 0; x < a.width; x += 4) {
            const int x0 = std::max(0, std::min(x, a.width - 8)), y0 = std::max(0, std::min(y, a.height - 8));
            out.worst = std::max(out.worst, mean(x0, y0, std::min(x0 + 8, a.width), std::min(y0 + 8, a.height)));
        }
    }
    return out;
}

std::optional<Shot> readShot(const std::string& path) {
    if (!fs::exists(path)) return std::nullopt;
    const test::Colours colours = test::coloursOf(path);
    Shot shot{colours.columns, colours.rows, {}};
    for (std::size_t i = 0; i + 2 < colours.values.size(); i += 3) shot.pixels.push_back({colours.values[i], colours.values[i + 1], colours.values[i + 2]});
    return shot;
}

void writeShot(const std::string& path, const Shot& shot) {
    fs::create_directories(fs::path(path).parent_path());
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    image.width = static_cast<png_uint_32>(shot.width);
    image.height = static_cast<png_uint_32>(shot.height);
    image.format = PNG_FORMAT_RGB;
    png_image_write_to_file(&image, path.c_str(), 0, shot.pixels.data(), 0, nullptr);
}

bool approving() { return std::getenv("LINEFALL_APPROVE") != nullptr; }

std::string goldenPath(const std::string& name) { return testsFolder() + "/golden/window/" + name + ".png"; }

std::string unlikeGolden(const std::string& name, const std::function<std::optional<Shot>()>& take, const std::string& left, double patience_s) {
    if (approving()) {
        const std::optional<Shot> shot = standing(take);
        if (!shot) return name + ": nothing is seen";
        writeShot(goldenPath(name), *shot);
        return {};
    }
    const std::optional<Shot> golden = readShot(goldenPath(name));
    if (!golden) return name + ": there is no " + goldenPath(name) + "; `./check goldens` makes it";
    const auto until = std::chrono::steady_clock::now() + std::chrono::duration<double>(patience_s);
    std::optional<Shot> shot;
    Apart off;
    do {
        if (shot) std::this_thread::sleep_for(std::chrono::milliseconds(300));
        shot = take();
        if (!shot) return name + ": nothing is seen";
        off = apart(*shot, *golden);
        if (off.same()) return {};
    } while (std::chrono::steady_clock::now() < until);
    writeShot(left + "/" + name + ".got.png", *shot);
    writeShot(left + "/" + name + ".expected.png", *golden);
    std::string words = name + ": differs from its golden by " + std::to_string(off.mean) + " counts in the mean and " + std::to_string(off.worst) + " in the worst 8 by 8 pixels";
    if (shot->width == golden->width && shot->height == golden->height) writeShot(left + "/" + name + ".difference.png", difference(*shot, *golden));
    else words = name + ": is " + std::to_string(shot->width) + " by " + std::to_string(shot->height) + " pixels, its golden " + std::to_string(golden->width) + " by " + std::to_string(golden->height);
    return words + "; the pictures lie in " + left;
}

}  // namespace linefall
