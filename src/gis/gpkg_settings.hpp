// Settings of GDAL's GeoPackage driver that hold while one of our calls is running.
#pragma once

#include <cpl_conv.h>

namespace loopwalk::gis {

class GpkgSettings {
  private:
    // The whole file is synced once, before it gets its name (PartialFile::publish): syncing on the
    // way costs a hundred round trips to the disk and guards only what is thrown away on failure.
    CPLConfigOptionSetter m_synchronous{"OGR_SQLITE_SYNCHRONOUS", "OFF", false};
    // The time of day in the file would make two equal runs differ.
    CPLConfigOptionSetter m_date{"OGR_CURRENT_DATE", "2000-01-01T00:00:00.000Z", false};
    CPLConfigOptionSetter m_journal{"OGR_SQLITE_JOURNAL", "DELETE", false};
};

} // namespace loopwalk::gis
