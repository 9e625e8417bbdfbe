// Results that are a GeoPackage file, or a folder made from one.
#include "loopwalk/base/error.hpp"

#include <cpl_string.h>

#include "output_place.hpp"
#include "output_target.hpp"
#include "partial_file.hpp"
#include "translate.hpp"
#include <algorithm>
#include <cerrno>
#include <cstdio> // renameat2, which is not part of C++
#include <fcntl.h>
#include <filesystem>
#include <linux/fs.h>

namespace loopwalk::gis {

namespace {

namespace fs = std::filesystem;

class FileTarget final : public OutputTarget {
  public:
    FileTarget(const std::string& path, Overwrite overwrite, const std::vector<std::string>& inputs)
        : m_file(path, overwrite, inputs) {}
    [[nodiscard]] const std::string& staging() const noexcept override { return m_file.path(); }
    [[nodiscard]] std::vector<std::string> publish(const OutputLayers& /*layers*/) override {
        m_file.publish();
        return {};
    }

  private:
    PartialFile m_file;
};

bool is_of(const FolderFormat& format, const fs::path& file) {
    const std::string ending = file.extension().string();
    return format.endings.empty() ||
           std::any_of(format.endings.begin(), format.endings.end(), [&](const char* known) {
               return ending.size() > 1 && EQUAL(ending.c_str() + 1, known);
           });
}

/// What --overwrite would take away must be such a result, not somebody's folder of other things.
void check_contents(const std::string& given, const fs::path& target, const FolderFormat& format) {
    std::error_code error;
    for (fs::directory_iterator at(target, error), end; !error && at != end; at.increment(error)) {
        if (!at->is_regular_file(error) || !is_of(format, at->path())) {
            refuse(given, "the folder holds \"" + at->path().filename().string() +
                              "\", which is not of that format. Choose another name");
        }
    }
    if (error) {
        refuse(given, "the folder that stands there cannot be read: " + error.message());
    }
}

void check_existing(const std::string& given, const std::string& target, const FolderFormat& format,
                    Overwrite overwrite) {
    std::error_code error;
    if (!fs::exists(target, error)) {
        return;
    }
    if (!fs::is_directory(target, error)) {
        refuse(given, "a file stands there, where a folder of files is to go. Choose another name");
    }
    if (overwrite == Overwrite::no) {
        refuse(given, "it exists. Choose another name, or allow it to be replaced (--overwrite)");
    }
    check_contents(given, target, format);
}

/// An input in the folder that would be replaced.
void refuse_inputs_within(const std::string& given, const std::string& target,
                          const std::vector<std::string>& inputs) {
    std::error_code error;
    if (!fs::is_directory(target, error)) {
        return;
    }
    for (fs::directory_iterator at(target, error), end; !error && at != end; at.increment(error)) {
        refuse_inputs(at->path().string(), inputs);
    }
    if (error) {
        refuse(given, "the folder that stands there cannot be read: " + error.message());
    }
}

class FolderTarget final : public OutputTarget {
  public:
    FolderTarget(const std::string& path, const FolderFormat& format, Overwrite overwrite,
                 const std::vector<std::string>& inputs)
        : m_given(path), m_target(followed(without_slash(path))), m_format(format),
          m_overwrite(overwrite) {
        refuse_inputs_within(m_given, m_target, inputs);
        check_existing(m_given, m_target, m_format, overwrite);
        check_folder(m_given, m_target);
        remove_stale(m_target);
        m_staging = partial_name(m_target, ".gpkg");
        m_partial = partial_name(m_target, format.ending);
    }
    FolderTarget(const FolderTarget&) = delete;
    FolderTarget& operator=(const FolderTarget&) = delete;
    ~FolderTarget() override {
        std::error_code error; // nothing can be done in a destructor if they stay
        fs::remove_all(m_partial, error);
        for (const char* sidecar : {"", "-journal", "-wal", "-shm"}) {
            fs::remove(m_staging + sidecar, error);
        }
    }

    [[nodiscard]] const std::string& staging() const noexcept override { return m_staging; }

    [[nodiscard]] std::vector<std::string> publish(const OutputLayers& layers) override {
        std::vector<std::string> notes =
            translate_to_folder(m_given, m_staging, m_partial, m_format, layers);
        for (const fs::directory_entry& file : fs::directory_iterator(m_partial)) {
            if (!sync_file(file.path().string())) {
                refuse_errno(m_given, "it cannot be brought to the disk");
            }
        }
        check_existing(m_given, m_target, m_format, m_overwrite); // it may have come meanwhile
        rename_over();
        sync_folder_of(m_given, m_target);
        return notes;
    }

  private:
    static fs::path without_slash(const fs::path& path) {
        return path.has_filename() ? path : path.parent_path();
    }
    /// A folder that stands there changes places with the new one in one step, then goes.
    void rename_over() {
        std::error_code error;
        const unsigned flags = fs::exists(m_target, error) ? RENAME_EXCHANGE : RENAME_NOREPLACE;
        if (::renameat2(AT_FDCWD, m_partial.c_str(), AT_FDCWD, m_target.c_str(), flags) != 0) {
            refuse_errno(m_given, "the finished folder cannot be given its name");
        }
    }

    std::string m_given, m_target;
    const FolderFormat& m_format;
    Overwrite m_overwrite;
    std::string m_staging, m_partial;
};

} // namespace

std::unique_ptr<OutputTarget> make_target(const std::string& path, const std::string& schema,
                                          Overwrite overwrite,
                                          const std::vector<std::string>& inputs) {
    if (path.starts_with("PG:")) {
        return make_database_target(path, schema, overwrite, inputs);
    }
    const fs::path plain(path);
    const FolderFormat* format =
        folder_format((plain.has_filename() ? plain : plain.parent_path()).string());
    if (format != nullptr) {
        return std::make_unique<FolderTarget>(path, *format, overwrite, inputs);
    }
    return std::make_unique<FileTarget>(path, overwrite, inputs);
}

} // namespace loopwalk::gis
