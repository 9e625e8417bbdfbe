// The folder that an output appears in: refusals, bringing files to the disk.
#pragma once

#include "loopwalk/gis/output.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace loopwalk::gis {

/// "cannot write ...": the message of every refusal.
[[noreturn]] void refuse(const std::string& target, const std::string& why);
/// With the text of errno.
[[noreturn]] void refuse_errno(const std::string& target, const std::string& doing);

[[nodiscard]] std::filesystem::path folder_of(const std::filesystem::path& target);
/// Refuses a folder that is missing or cannot be written to.
void check_folder(const std::string& given, const std::filesystem::path& target);

/// Brings a file to the disk; false with errno set.
[[nodiscard]] bool sync_file(const std::string& path);
/// The same for the names in a folder. Throws OutputError: the output is complete all the same.
void sync_folder_of(const std::string& given, const std::filesystem::path& target);

} // namespace loopwalk::gis
