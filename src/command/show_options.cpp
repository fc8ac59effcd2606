#include "command/show_options.h"

namespace linefall {

void giveStretch(const std::string& text, Scene& scene) {
    const auto give = [&](const char* key, Value value) { scene.settings.replace(*findSceneRow(key), std::move(value)); };
    if (text == "percent" || text == "none") {
        give("show.stretch", text);
        return;
    }
    const std::size_t dots = text.find("..");
    if (dots != std::string::npos) {
        const ParsedQuantity low = parseQuantity(text.substr(0, dots), Kind::count);
        const ParsedQuantity high = parseQuantity(text.substr(dots + 2), Kind::count);
        if (low.ok() && high.ok() && low.value < high.value) {
            give("show.stretch", std::string("value"));
            give("show.low_count", low.value);
            give("show.high_count", high.value);
            return;
        }
    }
    throw InputError(Problem{{"--stretch", 0, 0}, "", "'" + text + "'", "percent, none, or LOW..HIGH in counts", ""});
}

}  // namespace linefall
