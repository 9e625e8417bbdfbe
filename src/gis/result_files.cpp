#include "loopwalk/gis/result_files.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include "earlier_result.hpp"
#include "output_place.hpp"
#include "partial_folder.hpp"
#include "publish.hpp"
#include "same_place.hpp"
#include <cerrno>
#include <fcntl.h>
#include <filesystem>
#include <sys/stat.h>
#include <unistd.h>
#include <utility>

namespace loopwalk::gis {
namespace {

namespace fs = std::filesystem;

/// A path, not the schema or the connection of a database.
bool is_path(const std::string& name) {
    return !name.empty() && !name.starts_with("PG:") && !name.starts_with("schema ");
}

void refuse_input(const std::string& target, const DiskPlace& mine, const std::string& input) {
    const DiskPlace other(input);
    const std::string shown = base::without_passwords(input);
    if (mine.is(other)) {
        refuse(target,
               "it is the input \"" + shown + "\", which is never changed. Choose another name");
    }
    if (other.is_within(mine)) {
        refuse(target, "the input \"" + shown + "\" lies in it. Choose another name");
    }
    if (mine.is_part_of(other)) {
        refuse(target,
               "it would be read as a part of the input \"" + shown + "\". Choose another name");
    }
}

void refuse_result(const std::string& target, const DiskPlace& mine, const std::string& result) {
    const DiskPlace other(result);
    if (mine.is(other) || mine.is_within(other) || other.is_within(mine) ||
        mine.is_part_of(other) || other.is_part_of(mine)) {
        refuse(target, "this run also writes \"" + base::without_passwords(result) +
                           "\", and the one would replace or spoil the other. Choose another name");
    }
}

class File {
  public:
    explicit File(const std::string& path)
        // NOLINTNEXTLINE(cppcoreguidelines-pro-type-vararg): POSIX has no other
        : m_number(::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC,
                          S_IRUSR | S_IWUSR | S_IRGRP | S_IWGRP | S_IROTH | S_IWOTH)) {}
    File(const File&) = delete;
    File& operator=(const File&) = delete;
    ~File() {
        if (m_number >= 0) {
            ::close(m_number);
        }
    }
    /// False with errno set.
    [[nodiscard]] bool write(std::string_view text) const noexcept {
        while (m_number >= 0 && !text.empty()) {
            const ssize_t written = ::write(m_number, text.data(), text.size());
            if (written < 0 && errno != EINTR) {
                return false;
            }
            text.remove_prefix(written < 0 ? 0 : static_cast<std::size_t>(written));
        }
        return m_number >= 0 && ::fsync(m_number) == 0;
    }
    [[nodiscard]] bool close() noexcept { return ::close(std::exchange(m_number, -1)) == 0; }

  private:
    int m_number;
};

} // namespace

void refuse_collisions(const std::string& target, const std::vector<std::string>& inputs,
                       const std::vector<std::string>& results) {
    if (!is_path(target)) {
        return;
    }
    const DiskPlace mine(target);
    for (const std::string& input : inputs) {
        if (is_path(input)) {
            refuse_input(target, mine, input);
        }
    }
    for (const std::string& result : results) {
        if (is_path(result)) {
            refuse_result(target, mine, result);
        }
    }
}

struct TextFile::State {
    std::string given, target;
    TextKind kind{};
    Overwrite overwrite{};
    PartialFolder folder;
    std::string partial;

    State(const std::string& path, TextKind text_kind, Overwrite replace)
        : given(path), target(followed(path)), kind(text_kind), overwrite(replace),
          folder(path, target), partial(folder.file("text")) {}
};

TextFile::TextFile(const std::string& path, TextKind kind, Overwrite overwrite,
                   const std::vector<std::string>& inputs,
                   const std::vector<std::string>& results) {
    refuse_collisions(path, inputs, results);
    check_replaceable_text(path, followed(path), kind, overwrite);
    m_state = std::make_unique<State>(path, kind, overwrite);
}

TextFile::TextFile(TextFile&&) noexcept = default;
TextFile& TextFile::operator=(TextFile&&) noexcept = default;
TextFile::~TextFile() = default;

void TextFile::write(std::string_view text) {
    File file(m_state->partial);
    if (!file.write(text) || !file.close()) {
        refuse_errno(m_state->given, "it cannot be written to its end");
    }
}

void TextFile::publish() {
    const State& state = *m_state;
    check_replaceable_text(state.given, state.target, state.kind, state.overwrite);
    give_name(state.given, state.partial, state.target, state.overwrite);
}

} // namespace loopwalk::gis
