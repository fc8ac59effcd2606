#pragma once
// The type of figures: packaged fonts found by file, and how wide words are. The only door to FreeType; with Cairo the way
// from a text to its glyphs.

#include <memory>
#include <string>

#include "figure/drawing.h"

namespace linefall {

/// Path of a font file in the folders where Debian's packages put it, or "".
[[nodiscard]] std::string fontFile(const std::string& name);

/// Faces of one thread. What a face lacks is taken from the regular one; where no file is found, from the system's own
/// sans-serif.
class Type {
public:
    Type();
    ~Type();
    Type(const Type&) = delete;
    Type& operator=(const Type&) = delete;

    /// Width of a line of text, pixels at 1x.
    [[nodiscard]] double width(const std::string& text, double size, Weight weight = Weight::regular) const;
    /// The packages to install for the type that is meant; empty when all was found.
    [[nodiscard]] const std::string& missing() const;
    /// The text, shortened with "…" so that it is no wider.
    [[nodiscard]] std::string fitted(const std::string& text, double size, Weight weight, double width) const;
    /// The text broken between words into lines that are no wider.
    [[nodiscard]] std::vector<std::string> wrapped(const std::string& text, double size, Weight weight, double width) const;

    struct Faces;
    [[nodiscard]] const Faces& faces() const { return *faces_; }

private:
    std::unique_ptr<Faces> faces_;
};

}  // namespace linefall
