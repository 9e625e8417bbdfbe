#include "compare_tables.hpp"

#include "loopwalk/base/text.hpp"
#include "loopwalk/gis/interrupt.hpp"

#include "feature_digest.hpp"
#include "output_place.hpp"
#include "sqlite_connection.hpp"
#include <cstdint>
#include <map>

namespace loopwalk::gis {
namespace {

constexpr std::size_t kMostListed = 6;

struct Contents {
    std::int64_t rows = 0;
    std::uint64_t digest = 0;
};

Contents contents_of(OGRLayer& layer) {
    const std::vector<OGRFieldType> types = types_of(*layer.GetLayerDefn());
    Contents contents;
    layer.ResetReading();
    for (const OGRFeatureUniquePtr& feature : layer) {
        contents.digest += digest_of(*feature, feature->GetFID(), types, Reals::fifteen_digits);
        ++contents.rows;
        stop_if_asked();
    }
    return contents;
}

/// As PostgreSQL cuts it: never within a letter of UTF-8.
std::string cut(const std::string& name) {
    if (name.size() <= kLongestDatabaseName) {
        return name;
    }
    std::size_t end = kLongestDatabaseName;
    while (end > 0 && (static_cast<unsigned char>(name[end]) & 0xC0U) == 0x80U) {
        --end;
    }
    return name.substr(0, end);
}

std::string difference_of_names(const OGRFeatureDefn& written, const OGRFeatureDefn& there) {
    if (written.GetFieldCount() != there.GetFieldCount()) {
        return "has " + std::to_string(there.GetFieldCount()) + " columns of attributes, not " +
               std::to_string(written.GetFieldCount());
    }
    for (int i = 0; i < written.GetFieldCount(); ++i) {
        const std::string name = written.GetFieldDefn(i)->GetNameRef();
        const std::string found = there.GetFieldDefn(i)->GetNameRef();
        if (found != name) {
            return "has a column \"" + found + "\" in the place of \"" + name + "\"";
        }
    }
    return {};
}

/// To name it: the first feature of `written` that `there` does not hold as it is.
std::string first_difference(OGRLayer& written, OGRLayer& there) {
    const std::vector<OGRFieldType> types = types_of(*written.GetLayerDefn());
    const std::vector<OGRFieldType> there_types = types_of(*there.GetLayerDefn());
    for (const OGRFeatureUniquePtr& one : written) {
        const std::string which = "feature " + std::to_string(one->GetFID());
        const OGRFeatureUniquePtr other(there.GetFeature(one->GetFID()));
        if (other == nullptr) {
            return which + " is missing";
        }
        const int field =
            first_different_field(*one, types, *other, there_types, Reals::fifteen_digits);
        if (field >= 0) {
            return which + ", " + one->GetFieldDefnRef(field)->GetNameRef() + ": \"" +
                   one->GetFieldAsString(field) + "\" became \"" + other->GetFieldAsString(field) +
                   "\"";
        }
        if (digest_of(*one, one->GetFID(), types, Reals::fifteen_digits) !=
            digest_of(*other, one->GetFID(), there_types, Reals::fifteen_digits)) {
            return which + ": its geometry";
        }
    }
    return "rows that nobody wrote";
}

} // namespace

std::string difference_of_rows(OGRLayer& written, OGRLayer& there) {
    std::string names = difference_of_names(*written.GetLayerDefn(), *there.GetLayerDefn());
    if (!names.empty()) {
        return names;
    }
    const Contents from = contents_of(written);
    const Contents to = contents_of(there);
    if (from.rows != to.rows) {
        return "holds " + std::to_string(to.rows) + " rows, " + std::to_string(from.rows) +
               " were written";
    }
    return from.digest == to.digest
               ? std::string()
               : "holds values or geometries that are not those that were written (" +
                     first_difference(written, there) + ")";
}

std::vector<std::string> cut_names(const std::string& given, const std::string& staging,
                                   const OutputLayers& layers) {
    std::vector<std::string> long_names;
    for (const std::unique_ptr<OutputLayer>& layer : layers) {
        const std::string& table = layer->table.table;
        std::map<std::string, std::string> names;
        for (const std::string& name : layer->columns) {
            const auto [known, is_new] = names.try_emplace(cut(name), name);
            if (!is_new) {
                refuse(given, "a database keeps " + std::to_string(kLongestDatabaseName) +
                                  " bytes of a name, in which two fields of \"" + table +
                                  "\" are the same: \"" + known->second + "\" and \"" + name +
                                  "\". Rename one in the records");
            }
        }
        for (const auto& [there, name] : names) {
            if (there != name) {
                SqliteConnection(staging, SqliteMode::read_write)
                    .execute("ALTER TABLE " + sql_name(table) + " RENAME COLUMN " + sql_name(name) +
                             " TO " + sql_name(there));
                long_names.push_back(table + "." + name);
            }
        }
    }
    if (long_names.empty()) {
        return {};
    }
    return {"names of fields longer than the " + std::to_string(kLongestDatabaseName) +
            " bytes that a database keeps were cut: " + base::listed(long_names, kMostListed)};
}

} // namespace loopwalk::gis
