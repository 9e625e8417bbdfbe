// A file that appears whole or not at all: written under a name of its own beside the target, then
// renamed over it. docs/output_writing.md.
#pragma once

#include "loopwalk/gis/output.hpp"

#include <string>
#include <vector>

namespace loopwalk::gis {

class PartialFile {
  public:
    /// Checks that the target may be written (OutputError: see OutputDataset) and removes partial
    /// files of the same target whose process no longer lives.
    PartialFile(const std::string& target, Overwrite overwrite,
                const std::vector<std::string>& inputs);
    PartialFile(const PartialFile&) = delete;
    PartialFile& operator=(const PartialFile&) = delete;
    ~PartialFile(); ///< removes what was not published

    [[nodiscard]] const std::string& path() const noexcept { return m_path; }
    [[nodiscard]] const std::string& target() const noexcept { return m_target; }
    /// Syncs, renames over the target, syncs the folder. Throws OutputError.
    void publish();

  private:
    std::string m_given;  ///< as the user wrote it, for messages
    std::string m_target; ///< links followed
    std::string m_path;
    Overwrite m_overwrite;
    bool m_published = false;
};

} // namespace loopwalk::gis
