// What a command tells as JSON: into a file, whole or not at all, or on standard output in place of
// its text.
#pragma once

#include "loopwalk/app/terminal.hpp"
#include "loopwalk/gis/output.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace loopwalk::app {

/// One command's answer as JSON, if the user asked for one.
class JsonAnswer {
  public:
    /// `path`: as the user gives it; empty: no JSON; "-": standard output. `inputs` and `results`:
    /// what it must not replace. Throws OutputError before any work if the file cannot be written.
    JsonAnswer(const std::string& path, gis::Overwrite overwrite,
               const std::vector<std::string>& inputs,
               const std::vector<std::string>& results = {});

    /// Brings the file to the disk, aside; `json` makes the text. Nothing without a file.
    void write(const std::function<std::string()>& json);
    /// Gives the file its name. Nothing without a file.
    void publish();
    /// Prints it, if it takes the place of the text; false otherwise.
    [[nodiscard]] bool print(const std::function<std::string()>& json) const;

  private:
    bool m_is_printed;
    std::optional<gis::TextFile> m_file;
};

} // namespace loopwalk::app
