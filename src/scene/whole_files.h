#pragma once
// Files that appear together, each whole, or not at all.

#include <cstdio>
#include <functional>
#include <string>
#include <vector>

namespace linefall {

/// Each file is written beside its place as PATH.part; `commit` puts all of them in place, and older files of the same
/// names go only then. Without a commit, or when one fails, the folder is as it was.
class WholeFiles {
public:
    WholeFiles() = default;
    WholeFiles(const WholeFiles&) = delete;
    WholeFiles& operator=(const WholeFiles&) = delete;
    /// Removes what was not put in place.
    ~WholeFiles();

    /// Writes one part. `write` returns what went wrong, or "". Throws InputError.
    void add(const std::string& path, const std::function<std::string(std::FILE*)>& write);
    void addText(const std::string& path, const std::string& text);
    /// Puts all parts in place. Throws InputError when one cannot be; then none is.
    void commit();

private:
    std::vector<std::string> paths_;  ///< written as parts, not yet in place
};

}  // namespace linefall
