#include "figure/type.h"

#include <cairo-ft.h>
#include <freetype/freetype.h>

#include <fstream>
#include <memory>

#include "figure/glyphs.h"

namespace linefall {

std::string fontFile(const std::string& name) {
    for (const char* folder : {"/usr/share/fonts/opentype/inter/", "/usr/share/fonts/truetype/inter/", "/usr/share/fonts/truetype/jetbrains-mono/",
                               "/usr/share/fonts/opentype/jetbrains-mono/", "/usr/local/share/fonts/"}) {
        for (const char* ending : {".otf", ".ttf"}) {
            const std::string path = folder + name + ending;
            if (std::ifstream(path)) return path;
        }
    }
    return "";
}

namespace {

/// A face and the library it was opened with. Cairo keeps faces in a cache of its own and says when it lets one go.
struct OwnFace {
    FT_Library library = nullptr;
    FT_Face face = nullptr;
    ~OwnFace() {
        if (face != nullptr) FT_Done_Face(face);
        if (library != nullptr) FT_Done_FreeType(library);
    }
};

void letGo(void* own) { delete static_cast<OwnFace*>(own); }

cairo_font_face_t* open(const std::string& path, void*& freetype) {
    auto own = std::make_unique<OwnFace>();
    if (path.empty() || FT_Init_FreeType(&own->library) != 0 || FT_New_Face(own->library, path.c_str(), 0, &own->face) != 0) return nullptr;
    static const cairo_user_data_key_t key{};
    cairo_font_face_t* face = cairo_ft_font_face_create_for_ft_face(own->face, FT_LOAD_NO_HINTING);
    freetype = own->face;
    if (cairo_font_face_set_user_data(face, &key, own.get(), letGo) != CAIRO_STATUS_SUCCESS) {
        cairo_font_face_destroy(face);
        freetype = nullptr;
        return nullptr;
    }
    (void)own.release();
    return face;
}

bool has(void* freetype, char32_t code) { return freetype == nullptr || FT_Get_Char_Index(static_cast<FT_Face>(freetype), code) != 0; }

}  // namespace

Type::Faces::Faces() {
    const char* files[3] = {"Inter-Regular", "Inter-SemiBold", "JetBrainsMono-Regular"};
    const char* stand_ins[3] = {"sans-serif", "sans-serif", "monospace"};
    for (std::size_t i = 0; i < 3; ++i) {
        cairo[i] = open(fontFile(files[i]), freetype[i]);
        if (cairo[i] != nullptr) continue;
        cairo[i] = cairo_toy_font_face_create(stand_ins[i], CAIRO_FONT_SLANT_NORMAL, i == 1 ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
        const std::string package = i == 2 ? "fonts-jetbrains-mono" : "fonts-inter";
        if (missing.find(package) == std::string::npos) missing += (missing.empty() ? "" : " ") + package;
    }
}

Type::Faces::~Faces() {
    for (cairo_font_face_t* face : cairo) cairo_font_face_destroy(face);
}

std::vector<Letter> lettersOf(const std::string& text) {
    std::vector<Letter> letters;
    for (std::size_t i = 0; i < text.size();) {
        const auto first = static_cast<unsigned char>(text[i]);
        const std::size_t length = first < 0x80 ? 1 : first >= 0xC2 && first < 0xE0 ? 2 : first >= 0xE0 && first < 0xF0 ? 3 : first >= 0xF0 && first < 0xF5 ? 4 : 0;
        char32_t code = length <= 1 ? first : first & (0x7Fu >> length);
        bool sound = length > 0 && i + length <= text.size();
        for (std::size_t k = 1; sound && k < length; ++k) {
            const auto next = static_cast<unsigned char>(text[i + k]);
            sound = (next & 0xC0u) == 0x80u;
            code = code << 6 | (next & 0x3Fu);
        }
        // Overlong forms, halves of pairs, and what lies beyond the last letter.
        if ((length == 3 && code < 0x800) || (length == 4 && (code < 0x10000 || code > 0x10FFFF)) || (code >= 0xD800 && code < 0xE000)) sound = false;
        if (sound) letters.push_back({code, text.substr(i, length)});
        else letters.push_back({0xFFFD, "\xEF\xBF\xBD"});
        i += sound ? length : 1;
    }
    return letters;
}

GlyphLine glyphsOf(const Type::Faces& faces, const std::string& text, double size, Weight weight) {
    struct Piece {
        std::size_t face;
        std::string text;
    };
    std::vector<Piece> pieces;
    const auto wanted = static_cast<std::size_t>(weight);
    for (const Letter& letter : lettersOf(text)) {
        if (letter.code < 0x20) continue;
        const std::size_t face = has(faces.freetype[wanted], letter.code) ? wanted : 0;
        if (pieces.empty() || pieces.back().face != face) pieces.push_back({face, ""});
        pieces.back().text += letter.bytes;
    }
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_matrix_t matrix, identity;
    cairo_matrix_init_scale(&matrix, size, size);
    cairo_matrix_init_identity(&identity);
    GlyphLine line;
    for (const Piece& piece : pieces) {
        cairo_scaled_font_t* font = cairo_scaled_font_create(faces.cairo[piece.face], &matrix, &identity, options);
        cairo_glyph_t* glyphs = nullptr;
        int count = 0;
        if (cairo_scaled_font_text_to_glyphs(font, line.width, 0.0, piece.text.data(), static_cast<int>(piece.text.size()), &glyphs, &count,
                                             nullptr, nullptr, nullptr) == CAIRO_STATUS_SUCCESS) {
            cairo_text_extents_t extents;
            cairo_scaled_font_glyph_extents(font, glyphs, count, &extents);
            line.runs.push_back({faces.cairo[piece.face], std::vector<cairo_glyph_t>(glyphs, glyphs + count)});
            line.width += extents.x_advance;
        }
        cairo_glyph_free(glyphs);
        cairo_scaled_font_destroy(font);
    }
    cairo_font_options_destroy(options);
    return line;
}

Type::Type() : faces_(std::make_unique<Faces>()) {}
Type::~Type() = default;

const std::string& Type::missing() const { return faces_->missing; }

double Type::width(const std::string& text, double size, Weight weight) const { return glyphsOf(*faces_, text, size, weight).width; }

std::string Type::fitted(const std::string& text, double size, Weight weight, double most) const {
    if (width(text, size, weight) <= most) return text;
    std::vector<Letter> letters = lettersOf(text);
    std::string shorter;
    while (!letters.empty()) {
        letters.pop_back();
        while (!letters.empty() && letters.back().code == U' ') letters.pop_back();
        shorter.clear();
        for (const Letter& letter : letters) shorter += letter.bytes;
        shorter += "…";
        if (width(shorter, size, weight) <= most) break;
    }
    return shorter;
}

std::vector<std::string> Type::wrapped(const std::string& text, double size, Weight weight, double most) const {
    std::vector<std::string> lines(1);
    std::string word;
    const auto put = [&] {
        if (word.empty()) return;
        const std::string longer = lines.back().empty() ? word : lines.back() + " " + word;
        if (lines.back().empty() || width(longer, size, weight) <= most) lines.back() = longer;
        else lines.push_back(word);
        word.clear();
    };
    for (const char c : text) {
        if (c == ' ') put();
        else word += c;
    }
    put();
    return lines;
}

}  // namespace linefall
