#pragma once
// What lies in a folder that others fill: names and sizes, without opening anything.

#include <cstdint>
#include <string>
#include <vector>

namespace linefall {

struct FolderFile {
    std::string name;         ///< within the folder: "a.toml", "group/b.toml"
    std::uintmax_t bytes = 0;
    std::string what, fault;  ///< why it is not read: "link", "folder", "no file"; empty: an ordinary file
};

struct FolderList {
    std::vector<FolderFile> files;  ///< sorted by name, bytewise
    std::size_t more = 0;           ///< how many beyond `most` are not in the list
};

/// The files of a folder and of the folders in it, one level deep. Links, deeper folders, and what is neither file nor folder are
/// listed with their fault. `left_out`: paths that are no matter at all. Throws InputError when the folder cannot be read.
[[nodiscard]] FolderList listFolder(const std::string& folder, const std::vector<std::string>& left_out, std::size_t most);

}  // namespace linefall
