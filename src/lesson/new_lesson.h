#pragma once
// The lesson that an author begins with: small, sound, and with a block of every common kind to be changed.

#include <string>
#include <vector>

namespace linefall {

struct NewFile {
    std::string name, text;
};

/// lesson.md, place.toml, camera.toml and flight.toml. The title stands in them as it is given; control characters become blanks.
[[nodiscard]] std::vector<NewFile> newLessonFiles(const std::string& title);

/// The text of its lesson.md, with TITLE where the title stands.
[[nodiscard]] const char* newLessonText();

/// True for lower-case words joined by hyphens, "shadow-to-height": what the folder of a lesson is called.
[[nodiscard]] bool lessonId(const std::string& name);

}  // namespace linefall
