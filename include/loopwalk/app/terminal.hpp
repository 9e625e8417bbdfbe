// The only place that prints. Results for people go to standard output, messages and progress to
// standard error; progress only where that is a terminal.
#pragma once

#include "loopwalk/base/progress.hpp"

#include <chrono>
#include <string>
#include <string_view>

namespace loopwalk::app {

/// Whether results for people and progress are left out.
enum class Quiet : bool { no, yes };
/// Whether the time of each stage is told.
enum class Timings : bool { no, yes };

/// Shows progress and stage times, and turns a signal that asks for an end into Interrupted.
class Terminal final : public base::Progress {
  public:
    /// Progress is shown where standard error is a terminal and the run is not quiet.
    Terminal(Quiet quiet, Timings timings);
    Terminal(const Terminal&) = delete;
    Terminal& operator=(const Terminal&) = delete;
    ~Terminal() override;

    void stage(std::string_view name, std::uint64_t total) override;
    void step(std::uint64_t done) override;
    /// Ends the last stage.
    void finish();

    /// To standard output, unless quiet. Throws OutputError if it cannot be written, Interrupted.
    void result(std::string_view text) const;
    /// To standard output, also when quiet: what was asked for by name. Throws as result() does.
    static void answer(std::string_view text);
    /// To standard error.
    static void message(std::string_view text);

  private:
    using Clock = std::chrono::steady_clock;
    void end_stage();
    void clear_line();

    Quiet m_quiet;
    Timings m_timings;
    bool m_shows_progress;
    bool m_line_open = false;
    std::string m_name;
    std::uint64_t m_total = 0;
    Clock::time_point m_started, m_shown;
};

/// What of this run stands on the disk: "nothing was written", or the names of what is complete.
[[nodiscard]] std::string written_text();
/// The message of an interrupted run.
[[nodiscard]] std::string interrupted_text();

} // namespace loopwalk::app
