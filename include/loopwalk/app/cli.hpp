// The command line: what was asked for, and the program's answer in exit status and text.
#pragma once

namespace loopwalk::app {

/// The whole program. Never throws; returns the exit status (docs in README.md).
[[nodiscard]] int main_program(int argc, const char* const* argv) noexcept;

} // namespace loopwalk::app
