// The files that a run leaves: layers, JSON, drafts. One place decides whether a path may be
// written, writes aside, and gives the finished thing its name without replacing what came
// meanwhile. docs/output_writing.md.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace loopwalk::gis {

/// Whether an earlier result of this program may be replaced.
enum class Overwrite : bool { no, yes };

/// Throws OutputError where writing `target` would change one of `inputs` (files that are read, job
/// and catalogue among them) or one of `results` (what else this run writes): the same file by any
/// spelling, link or letter case, whether it exists or not; a part of it, such as its journal; a
/// folder around it.
void refuse_collisions(const std::string& target, const std::vector<std::string>& inputs,
                       const std::vector<std::string>& results);

/// What a text file must look like to be replaced: an earlier one of the same kind.
enum class TextKind : std::uint8_t { json, job };

/// A text file that appears whole or not at all.
class TextFile {
  public:
    /// Before any work: what would make writing fail. Throws OutputError: exists without
    /// `overwrite`; exists and is no earlier result of this program; is no file; collides; its
    /// folder is missing or cannot be written to.
    TextFile(const std::string& path, TextKind kind, Overwrite overwrite,
             const std::vector<std::string>& inputs, const std::vector<std::string>& results = {});
    TextFile(TextFile&&) noexcept;
    TextFile& operator=(TextFile&&) noexcept;
    ~TextFile(); ///< removes what was not published

    /// Writes the text aside and brings it to the disk. Throws OutputError.
    void write(std::string_view text);
    /// Gives what was written its name. Throws OutputError, Interrupted.
    void publish();

  private:
    struct State;
    std::unique_ptr<State> m_state;
};

/// The results that have got their names in this process, as the user wrote them.
[[nodiscard]] std::vector<std::string> published_results();
/// From now on nothing gets its name: whoever tries meets Interrupted. False where something is
/// getting its name at this moment and has not got it after a while (a database may wait for
/// others). For the first signal; takes a lock, so not for the signal handler itself.
[[nodiscard]] bool refuse_publishing() noexcept;
/// Removes what is partial, from another thread than the one that writes, just before the process
/// ends. Nothing may be published after it: refuse_publishing() first.
void remove_partial_results() noexcept;

} // namespace loopwalk::gis
