#include "lesson/new_lesson.h"

#include <algorithm>

namespace linefall {

namespace {

constexpr const char* place_text = R"toml(# An invented place of its own.
title = "A hall on a plain"
beyond = "sand"
object = [
  { name = "hall", shape = "box", east = "0 m", north = "0 m", length = "{hall}", width = "24 m", heading = "90 deg", height = "1 m", material = "concrete", sides = "concrete" },
  { name = "poplar", shape = "cylinder", east = "60 m", north = "-60 m", diameter = "6 m", height = "18 m", material = "deciduous", sides = "deciduous" },
  { name = "shed", shape = "box", east = "-70 m", north = "50 m", length = "14 m", width = "9 m", height = "4 m", material = "concrete", sides = "concrete" },
]

[terrain]
kind = "level"
size = "2 km"
spacing = "20 m"
material = "sand"
)toml";

constexpr const char* camera_text = R"toml(kind = "frame-camera"
title = "Small frame camera"
focal_length = "40 mm"
detector_pitch = "50 um"
samples = 260
rows = 220
exposure = "2 ms"
f_number = 8
transmission = "75 %"
dark_current = "900 e/s"
read_noise = "25 e"
full_well = "600000 e"
bits = 12

[[band]]
name = "green"
from = "525 nm"
to = "585 nm"
quantum_efficiency = "50 %"
)toml";

constexpr const char* flight_text = R"toml(title = "Over the hall"
start_east = "0 m"
start_north = "30 m"
heading = "180 deg"         # flying south gives a picture with north at the top
height = "800 m"
speed = "60 m/s"
length = "60 m"
)toml";

std::string replaced(std::string text, const std::string& word, const std::string& with) {
    for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + with.size())) text.replace(at, word.size(), with);
    return text;
}

}  // namespace

std::vector<NewFile> newLessonFiles(const std::string& title) {
    std::string plain, quoted;
    for (const char c : title) {
        plain += static_cast<unsigned char>(c) < 0x20 || c == 0x7F ? ' ' : c;
        quoted += plain.back() == '"' || plain.back() == '\\' ? std::string("\\") + plain.back() : std::string(1, plain.back());
    }
    const std::string text = replaced(newLessonText(), "title = \"TITLE\"", "title = \"" + quoted + "\"");
    return {{"lesson.md", replaced(text, "\n# TITLE\n", "\n# " + plain + "\n")}, {"place.toml", place_text}, {"camera.toml", camera_text}, {"flight.toml", flight_text}};
}

bool lessonId(const std::string& name) {
    const bool plain = std::all_of(name.begin(), name.end(), [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-'; });
    return plain && !name.empty() && name.front() != '-' && name.back() != '-' && name.size() <= 80;
}

}  // namespace linefall
