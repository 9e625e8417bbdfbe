#include "loopwalk/gis/interrupt.hpp"

#include "loopwalk/base/error.hpp"

#include <atomic>

namespace loopwalk::gis {

namespace {

std::atomic<StopCheck>& stop_check() noexcept {
    static std::atomic<StopCheck> check{nullptr};
    return check;
}

} // namespace

void set_stop_check(StopCheck check) noexcept {
    stop_check() = check;
}

void stop_if_asked() {
    const StopCheck check = stop_check();
    if (check != nullptr && check()) {
        throw base::Interrupted();
    }
}

} // namespace loopwalk::gis
