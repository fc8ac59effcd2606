// Frames a second of the window while two images form, on a virtual screen of 1280 x 720 with software OpenGL, read from
// the program's own report. Left out where there is no virtual screen.

#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>

#include "bench.h"

namespace linefall {

void benchWindow(std::vector<BenchRow>& rows, bool quick) {
    if (std::system("command -v xvfb-run >/dev/null 2>&1") != 0) return;
    const std::string report = "/tmp/linefall-bench-" + std::to_string(getpid()) + ".jsonl";
    const std::string command = std::string("timeout -s INT ") + (quick ? "8" : "20") +
                                " xvfb-run -a -s '-screen 0 1280x720x24' " LINEFALL_PROGRAM " --width 1280 --height 720 --report " +
                                report + " >/dev/null 2>&1";
    (void)!std::system(command.c_str());
    std::ifstream file(report);
    std::vector<double> rates;
    std::string line;
    while (std::getline(file, line)) {
        const auto row = nlohmann::json::parse(line, nullptr, false);
        if (row.is_object() && row.contains("frames_per_s") && row["frames_per_s"].is_number() && row["frames_per_s"].get<double>() > 0.0) {
            rates.push_back(row["frames_per_s"].get<double>());
        }
    }
    std::remove(report.c_str());
    if (rates.empty()) return;
    std::sort(rates.begin(), rates.end());
    rows.push_back({"the window at 1280 x 720 while two images form", "median of its own report", rates[rates.size() / 2], "", 0.0, "frames/s", true, 2});
}

}  // namespace linefall
