#include "scene/whole_files.h"

#include <cerrno>
#include <cstring>
#include <filesystem>

#include "base/problem.h"

namespace linefall {

namespace fs = std::filesystem;

namespace {

std::string part(const std::string& path) {
    return path + ".part";
}
std::string old(const std::string& path) {
    return path + ".old";
}

[[noreturn]] void refuse(const std::string& path, const std::string& read, const std::string& expected) {
    throw InputError(Problem{{path, 0, 0}, "", read, expected, ""});
}

/// One file being put in place.
struct Move {
    std::string path;
    bool had_old = false;
    bool placed = false;
};

void undo(const std::vector<Move>& moves) {
    std::error_code error;
    for (const Move& move : moves) {
        if (move.placed) fs::remove(move.path, error);
        if (move.had_old) fs::rename(old(move.path), move.path, error);
    }
}

}  // namespace

WholeFiles::~WholeFiles() {
    std::error_code error;
    for (const std::string& path : paths_) fs::remove(part(path), error);
}

void WholeFiles::add(const std::string& path, const std::function<std::string(std::FILE*)>& write) {
    std::error_code error;
    if (fs::is_directory(path, error)) refuse(path, "a folder of this name", "a name that is free for a file");
    std::FILE* file = std::fopen(part(path).c_str(), "wb");
    if (file == nullptr) refuse(path, std::strerror(errno), "a folder that can be written to");
    paths_.push_back(path);
    std::string failure;
    try {
        failure = write(file);
    } catch (...) {
        std::fclose(file);
        throw;
    }
    if (failure.empty() && (std::fflush(file) != 0 || std::ferror(file) != 0)) failure = std::strerror(errno);
    if (std::fclose(file) != 0 && failure.empty()) failure = std::strerror(errno);
    if (!failure.empty()) refuse(path, failure, "room to write the whole file");
}

void WholeFiles::addText(const std::string& path, const std::string& text) {
    add(path, [&](std::FILE* file) -> std::string {
        return std::fwrite(text.data(), 1, text.size(), file) == text.size() ? "" : std::strerror(errno);
    });
}

void WholeFiles::commit() {
    std::vector<Move> moves;
    std::error_code error;
    for (const std::string& path : paths_) {
        moves.push_back({path});
        Move& move = moves.back();
        if (fs::exists(fs::symlink_status(path, error))) {
            fs::rename(path, old(path), error);
            move.had_old = !error;
        } else {
            error.clear();
        }
        if (!error) {
            fs::rename(part(path), path, error);
            move.placed = !error;
        }
        if (error) {
            const std::string message = error.message();
            undo(moves);
            refuse(path, message, "a file that can be put in place");
        }
    }
    for (const Move& move : moves) {
        if (move.had_old) fs::remove(old(move.path), error);
    }
    paths_.clear();
}

}  // namespace linefall
