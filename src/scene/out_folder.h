#pragma once
// The folder that files are written to.

#include <filesystem>
#include <string>
#include <vector>

namespace linefall {

/// The folder to write to, made when it is missing; what was made of it is taken away again when nothing was put into it.
/// Throws InputError.
class OutFolder {
public:
    explicit OutFolder(const std::string& folder);
    ~OutFolder();
    OutFolder(const OutFolder&) = delete;
    OutFolder& operator=(const OutFolder&) = delete;

private:
    std::vector<std::filesystem::path> made_;  // innermost first
};

}  // namespace linefall
