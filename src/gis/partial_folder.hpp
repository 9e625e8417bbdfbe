// What is being written lies in a folder of its own beside the target until it gets its name.
#pragma once

#include <filesystem>
#include <string>

namespace loopwalk::gis {

/// `.<name>.partial-<host>-<start>-<process>`, made by this process alone and readable by its user
/// alone. Removes those of the same target that processes of this host left behind.
class PartialFolder {
  public:
    /// `given` is the target as the user wrote it, for messages. Throws OutputError: the folder of
    /// the target is missing or cannot be written to.
    PartialFolder(std::string given, const std::filesystem::path& target);
    PartialFolder(const PartialFolder&) = delete;
    PartialFolder& operator=(const PartialFolder&) = delete;
    ~PartialFolder(); ///< with all that is in it

    [[nodiscard]] std::string file(const std::string& name) const;

  private:
    std::string m_given;
    std::filesystem::path m_path;
};

/// The start of the names of all partial folders of a target.
[[nodiscard]] std::string partial_start(const std::filesystem::path& target);
/// `<host>-<start>-<process>` of a process that lives here; empty if there is none of that number.
[[nodiscard]] std::string process_mark(int process);

} // namespace loopwalk::gis
