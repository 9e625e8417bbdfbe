#include "loopwalk/app/terminal.hpp"

#include "loopwalk/app/signals.hpp"
#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"
#include "loopwalk/gis/interrupt.hpp"
#include "loopwalk/gis/result_files.hpp"

#include <cerrno>
#include <iostream>
#include <system_error>
#include <unistd.h>

namespace loopwalk::app {
namespace {

constexpr std::chrono::milliseconds kBetweenLines{500};
constexpr std::uint64_t kStepsBetweenLooks = 1024;

/// False with errno set; a signal that asks for an end ends a wait for the reader of a pipe.
bool write_all(int file, std::string_view text) {
    while (!text.empty()) {
        const ssize_t written = ::write(file, text.data(), text.size());
        if (written < 0 && (errno != EINTR || is_stop_asked())) {
            return false;
        }
        text.remove_prefix(written < 0 ? 0 : static_cast<std::size_t>(written));
    }
    return true;
}

/// The device tells of its troubles no later than here.
void print(std::string_view text) {
    if (write_all(STDOUT_FILENO, text)) {
        return;
    }
    const int why = errno;
    if (is_stop_asked()) {
        throw base::Interrupted();
    }
    throw base::OutputError("standard output cannot be written: " +
                            std::generic_category().message(why) + "; " + written_text());
}

} // namespace

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
    if (is_stop_asked()) {
        throw base::Interrupted();
    }
}

void Terminal::step(std::uint64_t done) {
    if (is_stop_asked()) {
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
        print(isatty(STDOUT_FILENO) == 1 ? base::printable(base::without_passwords(text))
                                         : base::without_passwords(text));
    }
}

void Terminal::answer(std::string_view text) {
    print(text);
}

void Terminal::message(std::string_view text) {
    const std::string line = "loopwalk: " + base::printable(base::without_passwords(text)) + '\n';
    // If standard error cannot be written there is nobody left to tell; the status does.
    static_cast<void>(write_all(STDERR_FILENO, line));
}

std::string written_text() {
    const std::vector<std::string> written = gis::published_results();
    return written.empty() ? "nothing was written"
                           : "written and complete: " + base::joined(written, ", ");
}

std::string interrupted_text() {
    return "interrupted; " + written_text();
}

} // namespace loopwalk::app
