#include "scene/png_file.h"

#include <png.h>

#include <algorithm>
#include <cerrno>
#include <csetjmp>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>
#include <new>

namespace linefall {

namespace {

struct CloseFile {
    void operator()(std::FILE* file) const { std::fclose(file); }
};
using File = std::unique_ptr<std::FILE, CloseFile>;

[[noreturn]] void refuse(const std::string& path, const std::string& read, const std::string& expected) {
    throw InputError(Problem{{path, 0, 0}, "", read, expected, ""});
}

// libpng reports errors by a jump: messages are kept here, and nothing that needs a destructor lives across one.
struct Message {
    char text[256] = "";
    std::jmp_buf jump{};
};

void onError(png_structp png, png_const_charp text) {
    auto* message = static_cast<Message*>(png_get_error_ptr(png));
    std::snprintf(message->text, sizeof message->text, "%s", text);
    std::longjmp(message->jump, 1);
}

void onWarning(png_structp, png_const_charp) {}

struct Header {
    png_uint_32 columns = 0, rows = 0;
    int bits = 0, colour = 0;
    friend bool operator==(const Header&, const Header&) = default;
};

/// Reads the header; when `rows` is given, all rows of a file that must have the given header. Returns false with message.text
/// set.
bool readAll(std::FILE* file, Message& message, Header& header, png_bytep* rows) {
    png_structp png = png_create_read_struct(PNG_LIBPNG_VER_STRING, &message, onError, onWarning);
    if (png == nullptr) return false;
    png_infop info = png_create_info_struct(png);
    if (info == nullptr || setjmp(message.jump) != 0) {
        png_destroy_read_struct(&png, &info, nullptr);
        return false;
    }
    png_set_user_limits(png, 16384, 16384);
    png_set_chunk_malloc_max(png, 8000000);
    png_init_io(png, file);
    png_read_info(png, info);
    Header found;
    png_get_IHDR(png, info, &found.columns, &found.rows, &found.bits, &found.colour, nullptr, nullptr, nullptr);
    if (rows == nullptr) {
        header = found;
    } else {
        if (!(found == header)) png_error(png, "the file changed while it was read");
        if (header.bits == 16) png_set_swap(png);  // file order is big-endian
        png_set_interlace_handling(png);
        png_read_update_info(png, info);
        png_read_image(png, rows);
        png_read_end(png, nullptr);
    }
    png_destroy_read_struct(&png, &info, nullptr);
    return true;
}

struct WriteJob {
    int columns, rows, bits, colour;
    const png_const_bytep* row_pointers;
    png_textp texts;
    int text_count;
    int pixels_a_metre;
};

void appendBytes(png_structp png, png_bytep data, png_size_t length) {
    auto* out = static_cast<std::string*>(png_get_io_ptr(png));
    bool full = false;
    try {
        out->append(reinterpret_cast<const char*>(data), length);
    } catch (...) {
        full = true;
    }
    if (full) png_error(png, "no memory");
}

void flushNothing(png_structp) {}

/// Into a file, or where there is none into `bytes`.
bool writeAll(std::FILE* file, std::string* bytes, Message& message, const WriteJob& job) {
    png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, &message, onError, onWarning);
    if (png == nullptr) return false;
    png_infop info = png_create_info_struct(png);
    if (info == nullptr || setjmp(message.jump) != 0) {
        png_destroy_write_struct(&png, &info);
        return false;
    }
    if (file != nullptr) png_init_io(png, file);
    else png_set_write_fn(png, bytes, appendBytes, flushNothing);
    png_set_IHDR(png, info, static_cast<png_uint_32>(job.columns), static_cast<png_uint_32>(job.rows), job.bits, job.colour,
                 PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
    png_set_compression_level(png, 4);
    if (job.pixels_a_metre > 0) {
        const auto density = static_cast<png_uint_32>(job.pixels_a_metre);
        png_set_pHYs(png, info, density, density, PNG_RESOLUTION_METER);
    }
    if (job.text_count > 0) png_set_text(png, info, job.texts, job.text_count);
    png_write_info(png, info);
    if (job.bits == 16) png_set_swap(png);
    for (int row = 0; row < job.rows; ++row) png_write_row(png, job.row_pointers[row]);
    png_write_end(png, nullptr);
    png_destroy_write_struct(&png, &info);
    return true;
}

void writeRows(WholeFiles& files, const std::string& path, WriteJob job, const std::vector<png_const_bytep>& rows,
               const std::vector<PngText>& texts) {
    std::vector<png_text> chunks(texts.size());
    for (std::size_t i = 0; i < texts.size(); ++i) {
        // The plain chunk is Latin-1; the other one is UTF-8.
        const bool plain = std::all_of(texts[i].text.begin(), texts[i].text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80; });
        chunks[i].compression = plain ? PNG_TEXT_COMPRESSION_NONE : PNG_ITXT_COMPRESSION_NONE;
        chunks[i].key = const_cast<char*>(texts[i].key.c_str());  // libpng does not write through it
        chunks[i].text = const_cast<char*>(texts[i].text.c_str());
        if (plain) chunks[i].text_length = texts[i].text.size();
        else chunks[i].itxt_length = texts[i].text.size();
    }
    job.row_pointers = rows.data();
    job.texts = chunks.data();
    job.text_count = static_cast<int>(chunks.size());
    files.add(path, [&](std::FILE* file) -> std::string {
        Message message;
        if (writeAll(file, nullptr, message, job)) return "";
        return message.text[0] != '\0' ? message.text : "no memory";
    });
}

int colourOf(int channels) { return channels == 1 ? PNG_COLOR_TYPE_GRAY : PNG_COLOR_TYPE_RGB; }

std::vector<png_const_bytep> rowsOf(int columns, int rows, int channels, std::span<const std::uint8_t> pixels) {
    std::vector<png_const_bytep> pointers(static_cast<std::size_t>(rows));
    const std::size_t pitch = static_cast<std::size_t>(columns) * static_cast<std::size_t>(channels);
    for (std::size_t r = 0; r < pointers.size(); ++r) pointers[r] = pixels.data() + r * pitch;
    return pointers;
}

}  // namespace

GreyPicture readGreyPng(const std::string& path, int least, int most) {
    const std::string limits =
        "a grey PNG of 8 or 16 bits, " + std::to_string(least) + " to " + std::to_string(most) + " pixels a side";
    std::error_code error;
    const std::filesystem::file_status status = std::filesystem::status(path, error);
    if (status.type() == std::filesystem::file_type::not_found) refuse(path, "no such file", limits);
    if (!error && !std::filesystem::is_regular_file(status)) refuse(path, "a folder or device", limits);
    File file(std::fopen(path.c_str(), "rb"));
    if (!file) refuse(path, std::strerror(errno), limits);
    Message message;
    Header header;
    const auto refuseBroken = [&] {
        refuse(path, std::string("a broken PNG (") + (message.text[0] != '\0' ? message.text : "no memory") + ")", limits);
    };
    if (!readAll(file.get(), message, header, nullptr)) refuseBroken();
    const auto outside = [&](png_uint_32 n) { return n < static_cast<png_uint_32>(least) || n > static_cast<png_uint_32>(most); };
    if (outside(header.columns) || outside(header.rows)) {
        refuse(path, std::to_string(header.columns) + " x " + std::to_string(header.rows) + " pixels", limits);
    }
    if (header.colour != PNG_COLOR_TYPE_GRAY) refuse(path, "a picture in colour, with a palette or with transparency", limits);
    if (header.bits != 8 && header.bits != 16) refuse(path, std::to_string(header.bits) + " bits", limits);

    GreyPicture picture{Raster<std::uint16_t>(static_cast<int>(header.columns), static_cast<int>(header.rows)), header.bits};
    // 16 bits are read in place; 8 bits into the second half of each row, then spread from its beginning.
    const std::size_t spare = header.bits == 16 ? 0 : header.columns;
    std::vector<png_bytep> rows(header.rows);
    for (std::size_t r = 0; r < rows.size(); ++r) {
        rows[r] = reinterpret_cast<png_bytep>(picture.values.row(static_cast<int>(r)).data()) + spare;
    }
    std::rewind(file.get());
    if (!readAll(file.get(), message, header, rows.data())) refuseBroken();
    for (std::size_t r = 0; header.bits == 8 && r < rows.size(); ++r) {
        const std::span<std::uint16_t> row = picture.values.row(static_cast<int>(r));
        for (std::size_t c = 0; c < row.size(); ++c) row[c] = rows[r][c];
    }
    return picture;
}

void writePng8(WholeFiles& files, const std::string& path, int columns, int rows, int channels,
               std::span<const std::uint8_t> pixels, const std::vector<PngText>& texts, int pixels_a_metre) {
    writeRows(files, path, {columns, rows, 8, colourOf(channels), nullptr, nullptr, 0, pixels_a_metre},
              rowsOf(columns, rows, channels, pixels), texts);
}

std::string pngBytes(int columns, int rows, int channels, std::span<const std::uint8_t> pixels) {
    const std::vector<png_const_bytep> pointers = rowsOf(columns, rows, channels, pixels);
    std::string bytes;
    Message message;
    if (!writeAll(nullptr, &bytes, message, {columns, rows, 8, colourOf(channels), pointers.data(), nullptr, 0, 0})) throw std::bad_alloc();
    return bytes;
}

void writePng16(WholeFiles& files, const std::string& path, const Raster<std::uint16_t>& values,
                const std::vector<PngText>& texts) {
    std::vector<png_const_bytep> pointers(static_cast<std::size_t>(values.rows()));
    for (std::size_t r = 0; r < pointers.size(); ++r) {
        pointers[r] = reinterpret_cast<png_const_bytep>(values.row(static_cast<int>(r)).data());
    }
    writeRows(files, path, {values.columns(), values.rows(), 16, PNG_COLOR_TYPE_GRAY, nullptr, nullptr, 0, 0}, pointers, texts);
}

}  // namespace linefall
