// SIGINT, SIGTERM and SIGHUP: the first asks for an end, a second one ends the process at once.
#pragma once

namespace loopwalk::app {

/// Whether a signal has asked for an end.
[[nodiscard]] bool is_stop_asked() noexcept;

/// While it lives, signals are watched. What runs looks at is_stop_asked() and unwinds; where it
/// does not within a second (a wait for a server, a pipe, a long call of a library) the watch
/// itself removes what is partial and ends the process with status 130. Also: a write to a closed
/// pipe or past the limit of a file's size is an error of that write, not the end.
class SignalWatch {
  public:
    SignalWatch();
    SignalWatch(const SignalWatch&) = delete;
    SignalWatch& operator=(const SignalWatch&) = delete;
    ~SignalWatch();
};

} // namespace loopwalk::app
