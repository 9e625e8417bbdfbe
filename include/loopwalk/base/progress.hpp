// How stages tell how far they are and learn that the user wants to stop. Nothing here prints.
#pragma once

#include <cstdint>
#include <string_view>

namespace loopwalk::base {

/// Hears how far a run is, and is where it can be interrupted. Called from the thread of the run
/// only.
class Progress {
  public:
    Progress() = default;
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;
    virtual ~Progress() = default;

    /// A new stage begins; `total` steps are expected (0 = unknown).
    virtual void stage(std::string_view name, std::uint64_t total) = 0;
    /// `done` steps of the stage are done. Cheap; call it as often as convenient.
    /// Throws Interrupted if the user asked to stop.
    virtual void step(std::uint64_t done) = 0;
};

/// Shows nothing, never interrupts: for tests and library use.
class NoProgress final : public Progress {
  public:
    void stage(std::string_view, std::uint64_t) override {}
    void step(std::uint64_t) override {}
};

} // namespace loopwalk::base
