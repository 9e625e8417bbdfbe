// One exception family; each member knows the exit status of the program. An error says what was
// found, where (dataset, layer, field, feature id) and what to do. A fault in one feature is not
// an error but a Finding.
#pragma once

#include <stdexcept>
#include <string>

namespace loopwalk::base {

/// What the process ends with: `fail_on_met` is no error, `usage` also stands for job and catalogue
/// files, `internal` for a fault of the program itself.
enum class ExitCode : int {
    done = 0,
    fail_on_met = 1,
    usage = 2,
    input = 3,
    output = 4,
    internal = 70,
    interrupted = 130,
};

/// What ends a run: a message for people that says what, where and what to do, and the exit status.
class Error : public std::runtime_error {
  public:
    Error(ExitCode code, const std::string& message) : std::runtime_error(message), m_code(code) {}
    /// The status that the process shall end with.
    [[nodiscard]] ExitCode code() const noexcept { return m_code; }

  private:
    ExitCode m_code;
};

/// The command line, the job file or a catalogue file.
class ConfigError : public Error {
  public:
    explicit ConfigError(const std::string& message) : Error(ExitCode::usage, message) {}
};

/// A dataset cannot be used.
class InputError : public Error {
  public:
    explicit InputError(const std::string& message) : Error(ExitCode::input, message) {}
};

/// The output cannot be written.
class OutputError : public Error {
  public:
    explicit OutputError(const std::string& message) : Error(ExitCode::output, message) {}
};

/// A broken invariant of the program itself.
class InternalError : public Error {
  public:
    explicit InternalError(const std::string& message) : Error(ExitCode::internal, message) {}
};

/// The user asked to stop (SIGINT, SIGTERM).
class Interrupted : public Error {
  public:
    Interrupted() : Error(ExitCode::interrupted, "interrupted") {}
};

/// Throws InternalError with condition and place; called by LW_ASSERT only.
[[noreturn]] void assertion_failed(const char* condition, const char* file, int line);

} // namespace loopwalk::base

// On in all builds.
#define LW_ASSERT(condition)                                                                       \
    ((condition) ? static_cast<void>(0)                                                            \
                 : ::loopwalk::base::assertion_failed(#condition, __FILE__, __LINE__))
