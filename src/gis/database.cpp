#include "database.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include <ogrsf_frmts.h>

#include "gdal_error_scope.hpp"

namespace loopwalk::gis {

std::string ask(GDALDataset& database, const std::string& query) {
    const GdalErrorScope errors;
    OGRLayer* rows = database.ExecuteSQL(query.c_str(), nullptr, nullptr);
    if (rows == nullptr || errors.failed()) {
        database.ReleaseResultSet(rows);
        throw base::InputError("the database does not answer: " +
                               base::without_passwords(errors.text()));
    }
    std::string text;
    {
        const OGRFeatureUniquePtr row(rows->GetNextFeature());
        if (row != nullptr) {
            text = row->GetFieldAsString(0);
        }
    }
    database.ReleaseResultSet(rows);
    return text;
}

std::string schema_identity(GDALDataset& database, const std::string& schema) {
    return "schema " +
           ask(database, "SELECT pg_postmaster_start_time()::text || ' ' || current_database()") +
           " " + schema;
}

} // namespace loopwalk::gis
