#include "scene/givens.h"

namespace linefall {

namespace {

void put(toml::node& node, const Givens& givens) {
    if (toml::table* table = node.as_table()) {
        for (auto&& [key, child] : *table) put(child, givens);
    } else if (toml::array* array = node.as_array()) {
        for (toml::node& child : *array) put(child, givens);
    } else if (toml::value<std::string>* text = node.as_string()) {
        if (text->get().find('{') != std::string::npos) text->get() = withGivens(text->get(), givens);
    }
}

}  // namespace

std::string withGivens(const std::string& text, const Givens& givens) {
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t end = text[i] == '{' ? text.find('}', i) : std::string::npos;
        const auto found = end == std::string::npos ? givens.end() : givens.find(text.substr(i + 1, end - i - 1));
        if (found == givens.end()) {
            out += text[i++];
            continue;
        }
        out += found->second;
        i = end + 1;
    }
    return out;
}

void putGivens(toml::table& file, const Givens& givens) {
    if (!givens.empty()) put(file, givens);
}

}  // namespace linefall
