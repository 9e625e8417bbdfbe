// Whether two paths are one place of the disk, now or once both are written.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <sys/stat.h>

namespace loopwalk::gis {

/// Links followed, also where the last one points to nothing yet.
[[nodiscard]] std::string followed(const std::string& path);

/// Of a path within an archive (`/vsizip/town.zip/columns.csv`, `/vsizip/{town.zip}/columns.csv`)
/// the archive's; of any other the path itself.
[[nodiscard]] std::string file_behind(const std::string& name);

/// A path as it is compared.
class DiskPlace {
  public:
    explicit DiskPlace(const std::string& path);

    /// The same file or folder: by device and inode where both exist, else by name without case,
    /// since the folder may be on a drive that knows no case.
    [[nodiscard]] bool is(const DiskPlace& other) const;
    /// This place lies in the folder `other`, at any depth.
    [[nodiscard]] bool is_within(const DiskPlace& other) const;
    /// This place would be read together with `other`: a journal of a database, the `.prj` of a
    /// file of another ending.
    [[nodiscard]] bool is_part_of(const DiskPlace& other) const;

  private:
    std::string m_folded;
    std::optional<struct stat> m_status;
};

} // namespace loopwalk::gis
