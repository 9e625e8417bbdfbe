// Settings of GDAL's GeoPackage driver that hold while one of our calls is running.
#pragma once

#include <cpl_conv.h>

namespace loopwalk::gis {

class GpkgSettings {
  private:
    // One transaction for everything, so safety costs next to nothing.
    CPLConfigOptionSetter m_synchronous{"OGR_SQLITE_SYNCHRONOUS", "FULL", false};
    // The time of day in the file would make two equal runs differ.
    CPLConfigOptionSetter m_date{"OGR_CURRENT_DATE", "2000-01-01T00:00:00.000Z", false};
    CPLConfigOptionSetter m_journal{"OGR_SQLITE_JOURNAL", "DELETE", false};
};

} // namespace loopwalk::gis
