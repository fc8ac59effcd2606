#pragma once
// The pictures of all variants of a lesson side by side, to be looked at by its author.

#include <functional>
#include <string>
#include <vector>

#include "figure/drawing.h"
#include "figure/type.h"
#include "lesson/lesson.h"

namespace linefall {

struct Tile {
    int variant = 0;                    ///< from 1
    Pixels picture;                     ///< as the scene shows it
    std::vector<std::string> captions;  ///< "tower 60 m"
    bool dropped = false, flagged = false;
    std::string remark;                 ///< why it stands out
};

/// One tile a variant, of the first instrument in a scene (empty: the first). Throws InputError. `progress`: variants done.
[[nodiscard]] std::vector<Tile> variantTiles(const Lesson& lesson, const std::string& scene, int threads = 0, const std::function<void(int)>& progress = {});
/// All tiles on one page: a drawing to be painted at 1x.
[[nodiscard]] Drawing contactSheet(const Lesson& lesson, const std::string& scene, const std::vector<Tile>& tiles, const Type& type);
/// The same as self-contained HTML, three tiles a row.
[[nodiscard]] std::string contactSheetHtml(const Lesson& lesson, const std::string& scene, const std::vector<Tile>& tiles);

}  // namespace linefall
