// Results that are a GeoPackage file, or a folder made from one.
#include "loopwalk/base/error.hpp"

#include "earlier_result.hpp"
#include "output_place.hpp"
#include "output_target.hpp"
#include "partial_file.hpp"
#include "publish.hpp"
#include "same_place.hpp"
#include "translate.hpp"
#include <filesystem>

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

class FolderTarget final : public OutputTarget {
  public:
    FolderTarget(const std::string& path, const FolderFormat& format, Overwrite overwrite,
                 const std::vector<std::string>& inputs)
        : m_given(path), m_target(checked(path, format, overwrite, inputs)), m_format(format),
          m_overwrite(overwrite), m_folder(path, m_target),
          m_staging(m_folder.file("staging.gpkg")),
          m_partial(m_folder.file(std::string("result") + format.ending)) {}

    [[nodiscard]] const std::string& staging() const noexcept override { return m_staging; }

    [[nodiscard]] std::vector<std::string> publish(const OutputLayers& layers) override {
        std::vector<std::string> notes =
            translate_to_folder(m_given, m_staging, m_partial, m_format, layers);
        for (const fs::directory_entry& file : fs::directory_iterator(m_partial)) {
            if (!sync_file(file.path().string())) {
                refuse_errno(m_given, "it cannot be brought to the disk");
            }
        }
        if (!sync_file(m_partial)) {
            refuse_errno(m_given, "the folder cannot be brought to the disk");
        }
        check_replaceable_folder(m_given, m_target, m_format, m_overwrite); // it may have come
        give_name(m_given, m_partial, m_target, m_overwrite);
        return notes;
    }

  private:
    static fs::path without_slash(const fs::path& path) {
        return path.has_filename() ? path : path.parent_path();
    }
    static std::string checked(const std::string& path, const FolderFormat& format,
                               Overwrite overwrite, const std::vector<std::string>& inputs) {
        refuse_collisions(path, inputs, {});
        std::string place = followed(without_slash(path).string());
        check_replaceable_folder(path, place, format, overwrite);
        return place;
    }

    std::string m_given, m_target;
    const FolderFormat& m_format;
    Overwrite m_overwrite;
    PartialFolder m_folder;
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
