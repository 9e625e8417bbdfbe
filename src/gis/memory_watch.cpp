#include "memory_watch.hpp"

#include "loopwalk/gis/memory.hpp"

#include <sqlite3.h>

#include <atomic>
#include <exception>
#include <new>

namespace loopwalk::gis {
namespace {

// SQLite and GDAL call back without a place for our state, and memory is the process's.
// NOLINTBEGIN(cppcoreguidelines-avoid-non-const-global-variables)
std::atomic<bool> g_refused{false};
sqlite3_mem_methods g_plain{};
// NOLINTEND(cppcoreguidelines-avoid-non-const-global-variables)

void* told(void* memory) noexcept {
    if (memory == nullptr) {
        note_memory_refused();
    }
    return memory;
}

extern "C" void* watched_malloc(int bytes) {
    return told(g_plain.xMalloc(bytes));
}

extern "C" void* watched_realloc(void* memory, int bytes) {
    return told(g_plain.xRealloc(memory, bytes));
}

[[noreturn]] void refuse_memory() {
    note_memory_refused();
    throw std::bad_alloc();
}

} // namespace

void note_memory_refused() noexcept {
    g_refused = true;
}

void end_if_fatal(CPLErr level) noexcept {
    if (level == CE_Fatal) {
        std::terminate();
    }
}

void watch_memory() noexcept {
    // PROJ catches what is thrown and gives no system, and GDAL writes "undefined" then.
    std::set_new_handler(refuse_memory);
    // NOLINTBEGIN(cppcoreguidelines-pro-type-vararg): SQLite has no other
    if (sqlite3_config(SQLITE_CONFIG_GETMALLOC, &g_plain) != SQLITE_OK || // runs already
        g_plain.xMalloc == nullptr) {
        return;
    }
    sqlite3_mem_methods watched = g_plain;
    watched.xMalloc = watched_malloc;
    watched.xRealloc = watched_realloc;
    static_cast<void>(sqlite3_config(SQLITE_CONFIG_MALLOC, &watched)); // refused as above only
    // NOLINTEND(cppcoreguidelines-pro-type-vararg)
}

void check_memory() {
    if (g_refused) {
        throw std::bad_alloc();
    }
}

} // namespace loopwalk::gis
