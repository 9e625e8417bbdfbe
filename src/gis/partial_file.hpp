// A file that appears whole or not at all: written in a folder beside the target, then renamed.
// docs/output_writing.md.
#pragma once

#include "loopwalk/gis/output.hpp"

#include "partial_folder.hpp"
#include <string>
#include <vector>

namespace loopwalk::gis {

class PartialFile {
  public:
    /// Checks that the target may be written (OutputError: see OutputDataset) and removes what
    /// processes that no longer live have left of the same target.
    PartialFile(const std::string& target, Overwrite overwrite,
                const std::vector<std::string>& inputs);

    [[nodiscard]] const std::string& path() const noexcept { return m_path; }
    /// Syncs, renames, syncs the folder. Throws OutputError, Interrupted.
    void publish();

  private:
    std::string m_given;  ///< as the user wrote it, for messages
    std::string m_target; ///< links followed
    PartialFolder m_folder;
    std::string m_path;
    Overwrite m_overwrite;
};

} // namespace loopwalk::gis
