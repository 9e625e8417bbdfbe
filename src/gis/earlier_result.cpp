#include "earlier_result.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"
#include "loopwalk/gis/dataset.hpp"

#include <cpl_string.h>

#include "output_place.hpp"
#include "sqlite_connection.hpp"
#include <algorithm>
#include <array>
#include <csignal>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <string_view>
#include <unistd.h>

namespace loopwalk::gis {
namespace {

namespace fs = std::filesystem;

constexpr std::array<const char*, 21> kResultLayers = {
    "columns", "cables",   "supplies",     "ways",       "joints",     "mains",   "terminations",
    "loads",   "readings", "sections",     "circuits",   "findings",   "gaps",    "moves",
    "survey",  "run",      "completeness", "fuse_cover", "cable_ends", "changes", "suspects"};
constexpr const char* kNames = "field_names"; ///< the list beside layers whose fields are cut

[[noreturn]] void refuse_foreign(const std::string& given, const std::string& why) {
    refuse(given, why + ", so it is not replaced. Choose another name, or move it away");
}

void refuse_existing(const std::string& given, Overwrite overwrite) {
    if (overwrite == Overwrite::no) {
        refuse(given, "it exists. Choose another name, or allow it to be replaced (--overwrite)");
    }
}

/// Whether another process has the file open, as far as the system tells: a lease is only given
/// where none has (on local drives, to the owner); a lock of SQLite shows on shared drives too.
bool is_open_elsewhere(const std::string& path) {
    // NOLINTBEGIN(cppcoreguidelines-pro-type-vararg): POSIX has no other
    const int file = ::open(path.c_str(), O_RDWR | O_CLOEXEC | O_NONBLOCK);
    if (file < 0) {
        return false; // no right to change it: it is replaced all the same, by a rename
    }
    // Whoever wants it while we hold the lease makes the system send a signal: one that does no
    // harm.
    bool is_open = ::fcntl(file, F_SETSIG, SIGURG) == 0 &&
                   ::fcntl(file, F_SETLEASE, F_WRLCK) != 0 && (errno == EAGAIN || errno == EBUSY);
    static_cast<void>(::fcntl(file, F_SETLEASE, F_UNLCK)); // there may be none to give back
    constexpr off_t kSqliteLocks = 0x40000000; // its pending byte, reserved byte, shared range
    constexpr off_t kLockBytes = 512;
    struct flock lock {};
    lock.l_type = F_WRLCK;
    lock.l_whence = SEEK_SET;
    lock.l_start = kSqliteLocks;
    lock.l_len = kLockBytes;
    is_open = is_open || (::fcntl(file, F_OFD_GETLK, &lock) == 0 && lock.l_type != F_UNLCK);
    // NOLINTEND(cppcoreguidelines-pro-type-vararg)
    ::close(file);
    return is_open;
}

/// "immutable": no lock, no journal, nothing made beside it. Its journals were looked for before.
std::string quiet_uri(const std::string& path) {
    constexpr std::string_view kPlain = "/._-";
    std::string uri = "file:";
    for (const char letter : path) {
        const auto byte = static_cast<unsigned char>(letter);
        if (byte >= 0x80 || std::isalnum(byte) != 0 || kPlain.find(letter) != kPlain.npos) {
            uri += letter;
        } else {
            constexpr std::string_view kDigits = "0123456789ABCDEF";
            uri += {'%', kDigits[byte >> 4U], kDigits[byte & 15U]};
        }
    }
    return uri + "?immutable=1";
}

bool is_result_package(const std::string& given, const std::string& path) {
    try {
        SqliteConnection database(quiet_uri(path), SqliteMode::read_only);
        return database.integer(
                   "SELECT (SELECT count(*) FROM gpkg_contents WHERE table_name IN ('run', "
                   "'findings')) = 2 OR (SELECT count(*) FROM pragma_table_info('changes') WHERE "
                   "name IN ('asset_layer', 'asset_id', 'worse')) = 3") != 0;
    } catch (const base::OutputError& error) {
        refuse_foreign(given, std::string("what stands there is not an earlier result (") +
                                  error.what() + ")");
    }
}

void refuse_journals(const std::string& given, const std::string& target) {
    std::error_code error;
    for (const char* ending : {"-wal", "-shm", "-journal"}) {
        if (fs::exists(fs::symlink_status(target + ending, error))) {
            refuse(given, "\"" + fs::path(target + ending).filename().string() +
                              "\" lies beside it: another program has it open, or ended without "
                              "closing it, and whoever opens the new file would apply that to it. "
                              "Close the program, or move that file away");
        }
    }
}

/// The name without its ending, also of "run.shp.xml".
std::string stem_of(const fs::path& file) {
    const std::string name = file.filename().string();
    return name.substr(0, name.find('.'));
}

bool is_of(const FolderFormat& format, const fs::path& file) {
    const std::string ending = file.extension().string();
    return std::any_of(format.endings.begin(), format.endings.end(), [&](const char* known) {
        return ending.size() > 1 && EQUAL(ending.c_str() + 1, known);
    });
}

/// One file for each layer: the names tell what they are.
std::vector<std::string> layers_of_files(const std::string& given, const fs::path& target,
                                         const FolderFormat& format) {
    std::vector<std::string> layers;
    std::error_code error;
    for (fs::directory_iterator at(target, error), end; !error && at != end; at.increment(error)) {
        const std::string stem = stem_of(at->path());
        if (!at->is_regular_file(error) || !is_of(format, at->path()) ||
            (!is_result_layer(stem) && stem != kNames)) {
            refuse(given, "the folder holds \"" + at->path().filename().string() +
                              "\", which is not of an earlier result. Choose another name");
        }
        layers.push_back(stem);
    }
    if (error) {
        refuse(given, "the folder that stands there cannot be read: " + error.message());
    }
    return layers;
}

std::vector<std::string> layers_of_database(const std::string& given, const std::string& target) {
    std::error_code error;
    for (fs::directory_iterator at(target, error), end; !error && at != end; at.increment(error)) {
        const std::string ending = at->path().extension().string();
        const bool is_part = ending.starts_with(".gdb") || ending == ".freelist" ||
                             ending == ".spx" || ending == ".atx" ||
                             at->path().filename() == "gdb" ||
                             at->path().filename() == "timestamps";
        if (!at->is_regular_file(error) || !is_part) {
            refuse(given, "the folder holds \"" + at->path().filename().string() +
                              "\", which is not of an earlier result. Choose another name");
        }
    }
    try {
        std::vector<std::string> layers = Dataset(target).layer_names();
        for (const std::string& layer : layers) {
            if (!is_result_layer(layer)) {
                refuse(given, "the folder holds the layer \"" + layer +
                                  "\", which is not of an earlier result. Choose another name");
            }
        }
        return layers;
    } catch (const base::InputError&) {
        refuse_foreign(given, "the folder that stands there is not an earlier result");
    }
}

bool has(const std::vector<std::string>& names, std::string_view wanted) {
    return std::any_of(names.begin(), names.end(),
                       [&](const std::string& name) { return name == wanted; });
}

/// The first bytes: enough for the program's name in what it writes.
std::string beginning_of(const std::string& path) {
    constexpr std::size_t kEnough = 4096;
    std::string text(kEnough, '\0');
    std::ifstream file(path, std::ios::binary);
    file.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(file.gcount()));
    return text;
}

} // namespace

bool is_result_layer(const std::string& name) {
    return std::any_of(kResultLayers.begin(), kResultLayers.end(),
                       [&](const char* known) { return EQUAL(known, name.c_str()); });
}

std::string result_layers_sql() {
    std::vector<std::string> names;
    for (const char* layer : kResultLayers) {
        names.push_back(base::quoted_sql(layer, '\''));
    }
    return base::joined(names, ", ");
}

void check_replaceable_file(const std::string& given, const std::string& target,
                            Overwrite overwrite) {
    std::error_code error;
    if (fs::exists(fs::symlink_status(target, error))) {
        if (!fs::is_regular_file(target, error)) {
            refuse(given, "something that is not a file stands there. Choose another name");
        }
        refuse_existing(given, overwrite);
        if (is_open_elsewhere(target)) {
            refuse(given, "another program has it open. Close it there, or choose another name");
        }
        refuse_journals(given, target);
        if (fs::file_size(target, error) > 0 && !is_result_package(given, target)) {
            refuse_foreign(given, "what stands there is not an earlier result (it has no tables "
                                  "run and findings)");
        }
    }
    refuse_journals(given, target);
}

void check_replaceable_folder(const std::string& given, const std::string& target,
                              const FolderFormat& format, Overwrite overwrite) {
    std::error_code error;
    if (!fs::exists(fs::symlink_status(target, error))) {
        return;
    }
    if (!fs::is_directory(target, error)) {
        refuse(given, "a file stands there, where a folder of files is to go. Choose another name");
    }
    refuse_existing(given, overwrite);
    if (fs::is_empty(target, error)) {
        return;
    }
    const std::vector<std::string> layers = format.endings.empty()
                                                ? layers_of_database(given, target)
                                                : layers_of_files(given, target, format);
    if (!has(layers, "changes") && !(has(layers, "run") && has(layers, "findings"))) {
        refuse_foreign(given, "the folder that stands there is not an earlier result (it has no "
                              "layers run and findings)");
    }
}

void check_replaceable_text(const std::string& given, const std::string& target, TextKind kind,
                            Overwrite overwrite) {
    std::error_code error;
    if (!fs::exists(fs::symlink_status(target, error))) {
        return;
    }
    if (fs::is_directory(target, error)) {
        refuse(given, "it is a folder. Name a file in it");
    }
    if (!fs::is_regular_file(target, error)) {
        refuse(given,
               "it is a device or a pipe, not a file" +
                   std::string(kind == TextKind::json ? "; - stands for standard output" : ""));
    }
    refuse_existing(given, overwrite);
    const std::string begins = beginning_of(target);
    const bool is_earlier =
        kind == TextKind::json
            ? begins.starts_with('{') && begins.find("\"program\": \"loopwalk ") != begins.npos
            : begins.starts_with("# Drafted by loopwalk ");
    if (!begins.empty() && !is_earlier) {
        refuse_foreign(given, kind == TextKind::json ? "what stands there is not an earlier summary"
                                                     : "what stands there is not an earlier draft");
    }
}

} // namespace loopwalk::gis
