#pragma once
// What tests of figures share.

#include <cstdlib>
#include <fstream>
#include <string>

#include "figure/figures.h"
#include "support/colours.h"
#include "support/scenes.h"

namespace linefall::test {

inline Formations formationsOf(const Scene& scene) {
    Formations out;
    for (std::size_t i = 0; i < scene.instruments.size(); ++i) out.push_back(std::make_unique<Formation>(scene, i));
    return out;
}

/// What xmllint says of a file; empty: it is well-formed.
inline std::string xmlFaults(const std::string& path) {
    const std::string said = path + ".xmllint";
    const int code = std::system(("xmllint --nonet --huge --noout '" + path + "' > '" + said + "' 2>&1").c_str());
    std::ifstream in(said);
    std::string words{std::istreambuf_iterator<char>(in), {}};
    in.close();
    std::remove(said.c_str());
    if (code != 0 && words.empty()) return "xmllint did not run: ./check installs it (libxml2-utils)";
    return words;
}

inline std::size_t occurrences(const std::string& text, const std::string& part) {
    std::size_t n = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + part.size())) ++n;
    return n;
}

}  // namespace linefall::test
