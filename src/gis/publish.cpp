#include "publish.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/memory.hpp"

#include "output_place.hpp"
#include <cerrno>
#include <chrono>
#include <cstdio> // renameat2, which is not part of C++
#include <fcntl.h>
#include <filesystem>
#include <linux/fs.h>
#include <mutex>
#include <unistd.h>

namespace loopwalk::gis {
namespace {

namespace fs = std::filesystem;

constexpr std::chrono::milliseconds kPatience{600};

/// Of the process, as the signals are that ask for an end.
struct Publishing {
    std::timed_mutex lock;
    bool is_refused = false;
    std::vector<std::string> published;
};
Publishing& publishing() {
    static Publishing state;
    return state;
}

[[noreturn]] void refuse_late(const std::string& given) {
    refuse(given, "something of that name has come while this run was under way. It is kept: "
                  "choose another name");
}

bool exchange_or_move(const std::string& from, const std::string& to, unsigned flags) {
    return ::renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), flags) == 0;
}

/// Of file systems that know no such rename: the shared drives of some servers.
bool is_unknown(int error) {
    return error == EINVAL || error == ENOSYS || error == ENOTSUP;
}

/// A second name, which fails if there is one already, then the first is taken away. Folders have
/// no second names: a rename over a folder with something in it fails by itself.
bool link_then_unlink(const std::string& from, const std::string& to) {
    std::error_code error;
    if (fs::is_directory(from, error)) {
        if (fs::exists(fs::symlink_status(to, error))) {
            errno = EEXIST;
            return false;
        }
        return std::rename(from.c_str(), to.c_str()) == 0;
    }
    return ::link(from.c_str(), to.c_str()) == 0 && ::unlink(from.c_str()) == 0;
}

bool move_to_free_name(const std::string& from, const std::string& to) {
    return exchange_or_move(from, to, RENAME_NOREPLACE) ||
           (is_unknown(errno) && link_then_unlink(from, to));
}

bool move_over(const std::string& from, const std::string& to) {
    std::error_code error;
    if (!fs::is_directory(from, error)) {
        return std::rename(from.c_str(), to.c_str()) == 0;
    }
    return exchange_or_move(from, to, RENAME_EXCHANGE);
}

} // namespace

void publish_as(const std::string& given, const std::function<void()>& step) {
    check_memory();
    Publishing& state = publishing();
    const std::lock_guard hold(state.lock);
    if (state.is_refused) {
        throw base::Interrupted();
    }
    state.published.reserve(state.published.size() + 1); // nothing may fail after the step
    std::string name = given;
    step();
    state.published.push_back(std::move(name));
}

void give_name(const std::string& given, const std::string& from, const std::string& to,
               Overwrite overwrite) {
    std::error_code error;
    publish_as(given, [&] {
        const bool is_free = !fs::exists(fs::symlink_status(to, error));
        if (is_free ? move_to_free_name(from, to)
                    : overwrite == Overwrite::yes && move_over(from, to)) {
            return;
        }
        if (!is_free && overwrite == Overwrite::no) {
            refuse_late(given);
        }
        if (errno == EEXIST || errno == ENOTEMPTY) {
            refuse_late(given);
        }
        refuse_errno(given, "what is finished cannot be given its name");
    });
    sync_folder_of(given, to);
}

std::vector<std::string> published_results() {
    Publishing& state = publishing();
    const std::lock_guard hold(state.lock);
    return state.published;
}

bool refuse_publishing() noexcept {
    Publishing& state = publishing();
    const std::unique_lock hold(state.lock, kPatience);
    state.is_refused = state.is_refused || hold.owns_lock();
    return hold.owns_lock();
}

} // namespace loopwalk::gis
