#include "loopwalk/app/signals.hpp"

#include "loopwalk/app/terminal.hpp"
#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/interrupt.hpp"
#include "loopwalk/gis/result_files.hpp"

#include <array>
#include <cerrno>
#include <chrono>
#include <csignal>
#include <exception>
#include <semaphore.h>
#include <string_view>
#include <thread>
#include <unistd.h>

namespace loopwalk::app {
namespace {

constexpr std::chrono::milliseconds kPatience{700};
constexpr std::array kEnding{SIGINT, SIGTERM, SIGHUP};
constexpr int kInterrupted = static_cast<int>(base::ExitCode::interrupted);

// What the signal handler touches must be global; sem_post() and _exit() are all it may call.
// NOLINTBEGIN(cppcoreguidelines-avoid-non-const-global-variables)
volatile std::sig_atomic_t g_stop_asked = 0;
sem_t g_news;
// NOLINTEND(cppcoreguidelines-avoid-non-const-global-variables)

extern "C" void ask_to_stop(int /*signal*/) {
    if (g_stop_asked != 0) {
        ::_exit(kInterrupted);
    }
    g_stop_asked = 1;
    static_cast<void>(::sem_post(&g_news)); // fails only if there have been 2^31
}

/// False if the time is over.
bool wait_for_news(std::chrono::milliseconds patience) {
    timespec until{};
    static_cast<void>(::clock_gettime(CLOCK_REALTIME, &until)); // fails for no known clock
    constexpr long kPerSecond = 1'000'000'000;
    const long nanoseconds =
        until.tv_nsec + std::chrono::duration_cast<std::chrono::nanoseconds>(patience).count();
    until.tv_sec += nanoseconds / kPerSecond;
    until.tv_nsec = nanoseconds % kPerSecond;
    int result = 0;
    do {
        result = ::sem_timedwait(&g_news, &until);
    } while (result != 0 && errno == EINTR);
    return result == 0;
}

void wait_for_news() {
    while (::sem_wait(&g_news) != 0 && errno == EINTR) {
    }
}

/// The run does not look up: nothing can be published any more, so taking away what is partial and
/// ending the process is safe wherever it stands.
[[noreturn]] void end_process(bool is_certain) {
    gis::remove_partial_results();
    Terminal::message(is_certain ? interrupted_text()
                                 : "interrupted while the result was given its name: look whether "
                                   "it is there");
    ::_exit(kInterrupted);
}

/// An exception that nothing could hold, most likely for want of memory. Nothing may allocate here.
[[noreturn]] void end_without_memory() noexcept {
    constexpr std::string_view kText = "loopwalk: ended at once: not enough memory, or an internal "
                                       "error; what has no message of its own was not written\n";
    static_cast<void>(!::write(STDERR_FILENO, kText.data(), kText.size()));
    ::_exit(static_cast<int>(base::ExitCode::internal));
}

/// The watch: waits for a signal, or for the end of the run.
void watch() {
    wait_for_news();
    if (g_stop_asked == 0) {
        return; // the run has ended
    }
    const bool is_certain = gis::refuse_publishing();
    if (!wait_for_news(kPatience)) {
        end_process(is_certain);
    }
}

std::thread& watcher() {
    static std::thread thread;
    return thread;
}

} // namespace

bool is_stop_asked() noexcept {
    return g_stop_asked != 0;
}

SignalWatch::SignalWatch() {
    std::set_terminate(end_without_memory);
    gis::set_stop_check(is_stop_asked);
    static_cast<void>(::sem_init(&g_news, 0, 0)); // fails for large numbers only
    sigset_t all;
    sigset_t before;
    sigfillset(&all);
    // The thread inherits the mask: signals come to the thread that runs.
    static_cast<void>(::pthread_sigmask(SIG_SETMASK, &all, &before));
    watcher() = std::thread(watch);
    static_cast<void>(::pthread_sigmask(SIG_SETMASK, &before, nullptr));
    struct sigaction action {};
    action.sa_handler = ask_to_stop;
    action.sa_flags = 0; // waits of the system end with EINTR
    for (const int signal : kEnding) {
        struct sigaction now {};
        const bool is_ignored =
            ::sigaction(signal, nullptr, &now) == 0 && now.sa_handler == SIG_IGN; // nohup
        if (!is_ignored || signal != SIGHUP) {
            static_cast<void>(::sigaction(signal, &action, nullptr)); // valid signals
        }
    }
    static_cast<void>(std::signal(SIGPIPE, SIG_IGN));
    static_cast<void>(std::signal(SIGXFSZ, SIG_IGN));
}

SignalWatch::~SignalWatch() {
    gis::set_stop_check(nullptr);
    static_cast<void>(::sem_post(&g_news));
    watcher().join();
}

} // namespace loopwalk::app
