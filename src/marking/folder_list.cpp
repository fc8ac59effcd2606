#include "marking/folder_list.h"

#include <algorithm>
#include <filesystem>
#include <set>

#include "base/problem.h"

namespace linefall {

namespace fs = std::filesystem;

namespace {

class Lister {
public:
    Lister(FolderList& list, const std::vector<std::string>& left_out) : list_(list) {
        std::error_code error;
        for (const std::string& path : left_out) {
            const fs::path whole = fs::weakly_canonical(path, error);
            if (!path.empty() && !error) left_out_.insert(whole.string());
        }
    }

    void list(const fs::path& folder, const std::string& prefix) {
        std::error_code error;
        fs::directory_iterator at(folder, error);
        if (error) {
            if (prefix.empty()) throw InputError(Problem{{folder.string(), 0, 0}, "", error.message(), "a folder with answer files", ""});
            add(prefix.substr(0, prefix.size() - 1), "folder", "a folder that cannot be read: " + error.message());
            return;
        }
        std::error_code ignored;
        const fs::path here = fs::weakly_canonical(folder, ignored);
        for (; at != fs::directory_iterator(); at.increment(error)) {
            if (left_out_.count((here / at->path().filename()).string()) > 0) continue;
            entry(at->path(), prefix + at->path().filename().string(), prefix.empty());
            if (error) break;
        }
    }

private:
    void add(const std::string& name, const std::string& what, const std::string& fault, std::uintmax_t bytes = 0) {
        list_.files.push_back({name, bytes, what, fault});
    }

    void entry(const fs::path& path, const std::string& name, bool top) {
        std::error_code error;
        const fs::file_status status = fs::symlink_status(path, error);
        if (error) return add(name, "unreadable", error.message());
        if (fs::is_symlink(status)) return add(name, "link", "a link: links are not followed");
        if (fs::is_directory(status)) {
            if (top) return list(path, name + "/");
            return add(name, "folder", "a folder too deep: answer files are looked for in the folder and one level below");
        }
        if (!fs::is_regular_file(status)) return add(name, "no file", "neither a file nor a folder");
        const std::uintmax_t bytes = fs::file_size(path, error);
        if (error) return add(name, "unreadable", error.message());
        add(name, "", "", bytes);
    }

    FolderList& list_;
    std::set<std::string> left_out_;
};

}  // namespace

FolderList listFolder(const std::string& folder, const std::vector<std::string>& left_out, std::size_t most) {
    FolderList list;
    Lister(list, left_out).list(folder, "");
    std::sort(list.files.begin(), list.files.end(), [](const FolderFile& a, const FolderFile& b) { return a.name < b.name; });
    if (list.files.size() > most) {
        list.more = list.files.size() - most;
        list.files.resize(most);
    }
    return list;
}

}  // namespace linefall
