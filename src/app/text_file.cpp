#include "loopwalk/app/text_file.hpp"

#include "loopwalk/base/error.hpp"

#include <algorithm>
#include <cerrno>
#include <filesystem>
#include <fstream>
#include <system_error>
#include <unistd.h>

namespace loopwalk::app {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void refuse(const std::string& path, const std::string& why) {
    throw base::OutputError("cannot write \"" + path + "\": " + why);
}

} // namespace

void check_text_target(const std::string& path, gis::Overwrite overwrite,
                       const std::vector<std::string>& inputs) {
    std::error_code error;
    if (std::ranges::any_of(
            inputs, [&](const std::string& input) { return fs::equivalent(input, path, error); })) {
        refuse(path, "it is an input, which is never changed. Choose another name");
    }
    if (fs::is_directory(path, error)) {
        refuse(path, "it is a folder. Name a file in it");
    }
    if (fs::exists(path, error) && overwrite == gis::Overwrite::no) {
        refuse(path, "it exists. Choose another name, or replace it with --overwrite");
    }
    const fs::path folder = fs::path(path).parent_path();
    if (!folder.empty() && !fs::is_directory(folder, error)) {
        refuse(path, "there is no folder \"" + folder.string() + "\". Create it first");
    }
}

void write_text_file(const std::string& path, const std::string& text) {
    const fs::path target(path);
    const fs::path partial = target.parent_path() / ("." + target.filename().string() +
                                                     ".partial-" + std::to_string(::getpid()));
    std::error_code error;
    errno = 0;
    std::ofstream file(partial, std::ios::binary);
    file << text;
    file.close();
    if (!file) {
        const std::string why =
            errno != 0 ? std::generic_category().message(errno) : "unknown reason";
        fs::remove(partial, error);
        refuse(path, why);
    }
    fs::rename(partial, target, error);
    if (error) {
        const std::string why = error.message();
        fs::remove(partial, error);
        refuse(path, why);
    }
}

} // namespace loopwalk::app
