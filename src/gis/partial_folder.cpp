#include "partial_folder.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/result_files.hpp"

#include "output_place.hpp"
#include <array>
#include <cctype>
#include <charconv>
#include <fstream>
#include <mutex>
#include <optional>
#include <set>
#include <sstream>
#include <string_view>
#include <sys/stat.h>
#include <unistd.h>

namespace loopwalk::gis {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kLongestStem = 120; // a name of a file has at most 255 bytes
constexpr std::size_t kLongestHost = 60;
constexpr const char* kMark = ".partial-";

/// Folders that are to go when the process is interrupted. One list for the process, since a signal
/// is one for the process.
struct Registry {
    std::mutex lock;
    std::set<fs::path> folders;
};
Registry& registry() {
    static Registry all;
    return all;
}

/// Letters and digits of the host's name.
std::string host() {
    std::array<char, 256> name{};
    if (::gethostname(name.data(), name.size() - 1) != 0) {
        return "host";
    }
    std::string text(name.data());
    std::erase_if(text, [](unsigned char c) { return std::isalnum(c) == 0; });
    return text.empty() ? "host" : text.substr(0, kLongestHost);
}

/// Clock ticks from the host's start to that of the process: field 22 of its record, of which the
/// second, the name in brackets, may hold blanks.
std::optional<std::string> start_of(int process) {
    std::ifstream file("/proc/" + std::to_string(process) + "/stat");
    std::string record;
    std::getline(file, record, '\0'); // the name may hold line ends
    const std::size_t name_end = record.rfind(')');
    if (name_end == std::string::npos) {
        return std::nullopt;
    }
    std::istringstream rest(record.substr(name_end + 1));
    constexpr int kBetween = 19; // fields 3 to 21
    std::string field;
    for (int i = 0; i <= kBetween; ++i) {
        rest >> field;
    }
    return field;
}

/// Of a process of this host that no longer lives, or whose number another has now. A folder of
/// another host on a shared drive is its own business.
bool is_stale(std::string_view name, const std::string& start) {
    if (!name.starts_with(start)) {
        return false;
    }
    const std::string_view mark = name.substr(start.size());
    const std::size_t at = mark.rfind('-');
    int process = 0;
    if (at == std::string_view::npos || !mark.starts_with(host() + "-")) {
        return false;
    }
    const char* const end = mark.data() + mark.size();
    const auto [stop, error] = std::from_chars(mark.data() + at + 1, end, process);
    return error == std::errc() && stop == end && process > 0 && process_mark(process) != mark;
}

/// Failing to remove one is no reason to fail: it takes room, no more.
void remove_stale(const fs::path& target) {
    const std::string start = partial_start(target);
    std::error_code error;
    std::vector<fs::path> stale;
    for (fs::directory_iterator at(folder_of(target), error), end; !error && at != end;
         at.increment(error)) {
        if (is_stale(at->path().filename().string(), start)) {
            stale.push_back(at->path());
        }
    }
    for (const fs::path& path : stale) {
        fs::remove_all(path, error);
    }
}

} // namespace

std::string partial_start(const fs::path& target) {
    return "." + target.filename().string().substr(0, kLongestStem) + kMark;
}

std::string process_mark(int process) {
    const std::optional<std::string> start = start_of(process);
    return start.has_value() ? host() + "-" + *start + "-" + std::to_string(process) : "";
}

PartialFolder::PartialFolder(std::string given, const fs::path& target)
    : m_given(std::move(given)) {
    check_folder(m_given, target);
    remove_stale(target);
    std::string mark = process_mark(::getpid());
    if (mark.empty()) { // no /proc: told apart by the number alone, and left for people to remove
        mark = host() + "-0-" + std::to_string(::getpid());
    }
    m_path = folder_of(target) / (partial_start(target) + mark);
    Registry& all = registry();
    const std::lock_guard hold(all.lock);
    if (::mkdir(m_path.c_str(), S_IRWXU) != 0) {
        refuse_errno(m_given, "the folder \"" + m_path.filename().string() + "\" cannot be made");
    }
    all.folders.insert(m_path);
}

PartialFolder::~PartialFolder() {
    try {
        Registry& all = registry();
        const std::lock_guard hold(all.lock);
        std::error_code error; // nothing can be done in a destructor if it stays
        fs::remove_all(m_path, error);
        all.folders.erase(m_path);
    } catch (const std::exception&) {
        return; // no memory to remove it: the next run does
    }
}

std::string PartialFolder::file(const std::string& name) const {
    return (m_path / name).string();
}

void remove_partial_results() noexcept {
    try {
        Registry& all = registry();
        const std::lock_guard hold(all.lock);
        std::error_code error;
        for (const fs::path& folder : all.folders) {
            fs::remove_all(folder, error);
        }
    } catch (const std::exception&) {
        return; // out of memory or the like at the very end: the next run removes them
    }
}

} // namespace loopwalk::gis
