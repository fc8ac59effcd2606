#pragma once
// A lesson on paper: a worksheet for one variant and, apart from it, its key. Self-contained HTML that prints well on A4 and
// letter: no script, nothing fetched, pictures inside.

#include <string>

#include "lesson/truth.h"

namespace linefall {

struct Papers {
    std::string worksheet, key;   ///< HTML
    std::string missing_fonts;    ///< packages to install; the system's own stand in for them
};

/// The sheets of a variant. `student`: whose sheet it is; empty: a line to write a name on. Scenes are flown and pictures
/// formed as they are needed. Throws InputError for a fault of the lesson.
[[nodiscard]] Papers printLesson(Truths& truths, const std::string& student, int threads = 0);

}  // namespace linefall
