#include "loopwalk/app/terminal.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"
#include "loopwalk/gis/interrupt.hpp"

#include <csignal>
#include <iostream>
#include <unistd.h>

namespace loopwalk::app {
namespace {

// Written by the signal handler, so it must be global and of this type.
// NOLINTNEXTLINE(cppcoreguidelines-avoid-non-const-global-variables)
volatile std::sig_atomic_t g_stop_asked = 0;

extern "C" void ask_to_stop(int /*signal*/) {
    g_stop_asked = 1;
}

constexpr std::chrono::milliseconds kBetweenLines{500};
constexpr std::uint64_t kStepsBetweenLooks = 1024;

} // namespace

void watch_signals() {
    // Neither fails for these two signals (POSIX); were one to, the signal's own action stays.
    static_cast<void>(std::signal(SIGINT, ask_to_stop));
    static_cast<void>(std::signal(SIGTERM, ask_to_stop));
    gis::set_stop_check([]() noexcept { return g_stop_asked != 0; });
}

Terminal::Terminal(Quiet quiet, Timings timings)
    : m_quiet(quiet), m_timings(timings),
      m_shows_progress(quiet == Quiet::no && isatty(STDERR_FILENO) == 1) {}

Terminal::~Terminal() {
    clear_line();
}

void Terminal::stage(std::string_view name, std::uint64_t total) {
    end_stage();
    m_name = name;
    m_total = total;
    m_started = Clock::now();
    m_shown = m_started;
    if (g_stop_asked != 0) {
        throw base::Interrupted();
    }
}

void Terminal::step(std::uint64_t done) {
    if (g_stop_asked != 0) {
        throw base::Interrupted();
    }
    if (!m_shows_progress || done % kStepsBetweenLooks != 0 ||
        Clock::now() - m_shown < kBetweenLines) {
        return;
    }
    m_shown = Clock::now();
    clear_line();
    std::cerr << m_name << ' ' << done;
    if (m_total > 0) {
        std::cerr << " of " << m_total;
    }
    std::cerr << std::flush;
    m_line_open = true;
}

void Terminal::finish() {
    end_stage();
}

void Terminal::end_stage() {
    clear_line();
    if (m_timings == Timings::yes && !m_name.empty()) {
        const std::chrono::duration<double> spent = Clock::now() - m_started;
        std::cerr << "timing " << m_name << ' ' << base::fixed_text(spent.count(), 3) << '\n';
    }
    m_name.clear();
}

void Terminal::clear_line() {
    if (m_line_open) {
        std::cerr << "\r\033[K" << std::flush;
        m_line_open = false;
    }
}

void Terminal::result(std::string_view text) const {
    if (m_quiet == Quiet::no) {
        std::cout << base::without_passwords(text) << std::flush;
    }
}

void Terminal::answer(std::string_view text) {
    std::cout << text << std::flush;
}

void Terminal::message(std::string_view text) {
    std::cerr << "loopwalk: " << base::without_passwords(text) << '\n';
}

} // namespace loopwalk::app
