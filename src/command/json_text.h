#pragma once
// JSON as the commands print it.

#include <nlohmann/json.hpp>
#include <string>

namespace linefall {

/// Two spaces a level. Bytes that are not UTF-8 (of a file name, say) become the replacement character.
[[nodiscard]] inline std::string jsonText(const nlohmann::ordered_json& json) {
    return json.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

}  // namespace linefall
