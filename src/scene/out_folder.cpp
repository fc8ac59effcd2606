#include "scene/out_folder.h"

#include <cerrno>
#include <cstdio>
#include <cstring>

#include "base/problem.h"

namespace linefall {

namespace fs = std::filesystem;

OutFolder::OutFolder(const std::string& folder) {
    const auto refuse = [&](const std::string& read) {
        throw InputError(Problem{{folder, 0, 0}, "--out", read, "a folder that can be made and written to", ""});
    };
    if (folder.empty()) refuse("''");
    std::error_code error;
    fs::path path = fs::absolute(folder, error).lexically_normal();
    if (!path.has_filename()) path = path.parent_path();
    std::vector<fs::path> missing;
    for (; !fs::exists(path, error) && path != path.parent_path(); path = path.parent_path()) missing.push_back(path);
    fs::create_directories(folder, error);
    if (error) refuse(error.message());
    made_ = missing;
    if (!fs::is_directory(folder, error)) refuse("a file");
    // Whether files can be made here is found out by making one.
    const std::string probe = (fs::path(folder) / ".linefall.part").string();
    if (std::FILE* file = std::fopen(probe.c_str(), "wx")) {
        std::fclose(file);
        std::remove(probe.c_str());
    } else if (errno != EEXIST) {
        refuse(std::strerror(errno));
    }
}

OutFolder::~OutFolder() {
    std::error_code error;
    for (const fs::path& path : made_) fs::remove(path, error);  // only while it is empty
}

}  // namespace linefall
