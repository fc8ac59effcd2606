// Linefall against its peers, each a ratio within one run on one machine. `--json` for a machine, `--quick` for a glance.

#include <fmt/format.h>

#include <cstring>
#include <fstream>
#include <nlohmann/json.hpp>

#include "base/quantity.h"
#include "base/threads.h"
#include "bench.h"

namespace {

std::string processorName() {
    std::ifstream file("/proc/cpuinfo");
    std::string line;
    while (std::getline(file, line)) {
        if (line.rfind("model name", 0) == 0) return line.substr(line.find(':') + 2);
    }
    return "unknown processor";
}

}  // namespace

int main(int argc, char** argv) {
    bool json = false;
    bool quick = false;
    for (int i = 1; i < argc; ++i) {
        if (std::strcmp(argv[i], "--json") == 0) json = true;
        else if (std::strcmp(argv[i], "--quick") == 0) quick = true;
        else {
            fmt::print(stderr, "usage: linefall_bench [--json] [--quick]\n");
            return 2;
        }
    }
    std::vector<linefall::BenchRow> rows;
    linefall::benchLooks(rows, quick);
    linefall::benchForming(rows, quick);
    linefall::benchWindow(rows, quick);

    if (json) {
        nlohmann::ordered_json out;
        out["machine"] = {{"processor", processorName()}, {"processors", linefall::processors()}, {"compiler", __VERSION__}};
        out["rows"] = nlohmann::ordered_json::array();
        for (const linefall::BenchRow& r : rows) {
            out["rows"].push_back({{"what", r.what}, {"threads", r.threads}, {"ours", r.ours}, {"value", r.ours_value},
                                   {"peer", r.peer.empty() ? nlohmann::ordered_json(nullptr) : nlohmann::ordered_json(r.peer)},
                                   {"peer_value", r.peer.empty() ? nlohmann::ordered_json(nullptr) : nlohmann::ordered_json(r.peer_value)},
                                   {"unit", r.unit},
                                   {"ratio", r.peer.empty() ? nlohmann::ordered_json(nullptr) : nlohmann::ordered_json(r.ratio())}});
        }
        fmt::print("{}\n", out.dump(2));
        return 0;
    }
    fmt::print("{}, {} processors, compiler {}\n", processorName(), linefall::processors(), __VERSION__);
    fmt::print("medians of wall time; a ratio above 1 is in our favour\n\n");
    for (const linefall::BenchRow& r : rows) {
        fmt::print("{} ({} thread{})\n    {:<44}{} {}\n", r.what, r.threads, r.threads == 1 ? "" : "s", r.ours,
                   linefall::figuresText(r.ours_value, 3), r.unit);
        if (!r.peer.empty()) {
            fmt::print("    {:<44}{} {}    ratio {}\n", r.peer, linefall::figuresText(r.peer_value, 3), r.unit,
                       linefall::figuresText(r.ratio(), 3));
        }
    }
    return 0;
}
