#pragma once
// The rules of the house as tables: who may include whom, which library and which standard header may be used where.

#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

namespace linefall::architecture {

using Tree = std::map<std::string, std::string>;  // path from the top ("src/base/angle.h") -> text
using Names = std::set<std::string>;
using Complaints = std::vector<std::string>;

/// What each module may include besides itself. Nothing points back; app and command do not know each other.
inline const std::map<std::string, Names> arrows{
    {"base", {}},
    {"ground", {"base"}},
    {"physics", {"base"}},
    {"instruments", {"base", "ground", "physics"}},
    {"scene", {"base", "ground", "physics", "instruments"}},
    {"flight", {"base", "ground", "physics", "instruments", "scene"}},
    {"measure", {"base", "ground", "physics", "instruments", "scene", "flight"}},
    {"lesson", {"base", "ground", "physics", "instruments", "scene", "flight", "measure"}},
    {"marking", {"base", "ground", "physics", "instruments", "scene", "flight", "measure", "lesson"}},
    {"view", {"base", "ground", "physics", "instruments", "scene", "flight"}},
    {"figure", {"base", "ground", "physics", "instruments", "scene", "flight", "measure", "view"}},
    {"paper", {"base", "ground", "physics", "instruments", "scene", "flight", "measure", "lesson", "view", "figure"}},
    {"app", {"base", "ground", "physics", "instruments", "scene", "flight", "measure", "lesson", "view", "figure"}},
    {"command", {"base", "ground", "physics", "instruments", "scene", "flight", "measure", "lesson", "marking", "view", "figure", "paper"}},
    {"main", {"base", "ground", "physics", "instruments", "scene", "flight", "measure", "lesson", "marking", "view", "figure", "paper", "app", "command"}},
};

/// A stage of the light path knows base, the signals that travel between stages, and its own files (sun_position belongs
/// to sun). These pairs are the exceptions: stage, and what it asks besides.
inline const std::set<std::pair<std::string, std::string>> stage_exceptions{
    {"sun", "calendar"},           // where the sun stands is a matter of time and place
    {"sun", "solar_spectrum"},     // and what it sends a matter of wavelength
    {"sun_position", "calendar"},
    {"sun_path", "sun_position"},  // the same sun, once every few minutes
    {"atmosphere_air", "atmosphere_tables"},    // one stage in two files, and what both need of its tables
    {"atmosphere_spans", "atmosphere_tables"},
};

struct Library {
    std::string name;
    std::vector<std::string> headers;  ///< beginnings of header names
    Names modules;                     ///< where it may be included; empty: anywhere
    bool one_file = false;             ///< in a single file only, because it is slow to compile
};

inline const std::vector<Library> libraries{
    {"glm", {"glm/"}, {}},
    {"fmt", {"fmt/"}, {}},
    {"ERFA", {"erfa"}, {"physics"}},
    {"toml++", {"toml++/"}, {"scene", "lesson"}},
    {"libpng", {"png.h"}, {"scene"}},
    {"stb", {"stb/", "stb_"}, {"scene"}},
    {"nlohmann json", {"nlohmann/"}, {"command", "app", "lesson", "marking"}},
    {"md4c", {"md4c"}, {"lesson"}},
    {"CLI11", {"CLI/"}, {"command"}, true},
    {"OpenGL", {"glad/", "GL/", "GLES", "EGL/", "KHR/"}, {"view"}},
    {"SDL", {"SDL"}, {"app"}},
    {"Dear ImGui", {"imgui", "backends/imgui"}, {"app"}},
    {"FreeType", {"ft2build.h", "freetype/"}, {"app", "figure"}},
    {"Cairo", {"cairo"}, {"figure"}},
    {"the operating system", {"unistd.h", "sys/", "fcntl.h", "termios.h", "poll.h", "pwd.h"}, {"app", "command"}},
};

/// Standard headers that only some files may include: "module" or "src/module/file.cpp".
inline const std::map<std::string, Names> rationed_headers{
    {"thread", {"src/base/threads.cpp"}},
    {"condition_variable", {"src/base/threads.cpp"}},
    {"future", {}},
    {"mutex", {"src/base/threads.cpp", "scene", "flight", "app"}},
    {"shared_mutex", {"src/base/threads.cpp"}},
    {"atomic", {"src/base/threads.cpp", "src/base/threads.h", "scene", "flight", "app", "command"}},
    {"csignal", {"command", "app"}},
    {"csetjmp", {"scene"}},
    // The core needs no files: it is handed what was read.
    {"filesystem", {"scene", "flight", "lesson", "marking", "view", "figure", "paper", "app", "command"}},
    {"fstream", {"scene", "flight", "lesson", "marking", "view", "figure", "paper", "app", "command"}},
    {"iostream", {"app", "command", "main"}},
    {"cstdio", {"scene", "flight", "lesson", "app", "command", "main"}},
};

/// Every other standard header that our compilers and a web build (Clang 14 with libc++ 13) share.
inline const Names standard_headers{
    "algorithm", "any", "array", "bit", "bitset", "cassert", "cctype", "cerrno", "cfenv", "cfloat", "chrono", "cinttypes",
    "climits", "clocale", "cmath", "compare", "complex", "concepts", "cstdarg", "cstddef", "cstdint", "cstdlib", "cstring",
    "ctime", "deque", "exception", "forward_list", "functional", "initializer_list", "iomanip", "ios", "iosfwd", "istream",
    "iterator", "limits", "list", "locale", "map", "memory", "new", "numbers", "numeric", "optional", "ostream", "queue",
    "ratio", "set", "span", "sstream", "stack", "stdexcept", "streambuf", "string", "string_view", "system_error", "tuple",
    "type_traits", "typeindex", "typeinfo", "unordered_map", "unordered_set", "utility", "valarray", "variant", "vector",
    "version"};

/// Names that a web build lacks, or that differ between libraries.
inline const std::vector<std::string> kept_off{
    "std::format", "std::ranges", "std::views", "std::bit_cast", "std::source_location", "std::jthread", "std::atomic_ref",
    "std::pmr", "std::from_chars", "std::to_chars", "std::execution", "co_await", "co_yield", "co_return"};

}  // namespace linefall::architecture
