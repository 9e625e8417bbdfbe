// A GeoPackage as GDAL's own driver writes it.
#pragma once

#include <gdal_priv.h>
#include <gtest/gtest.h>

#include "../../../src/gis/feature_digest.hpp"
#include "../../../src/gis/gdal_setup.hpp"
#include "../../../src/gis/output_layer.hpp"
#include "../../../src/gis/read_back.hpp"
#include <array>
#include <limits>
#include <string>
#include <utility>

namespace loopwalk::gis::test {

/// Fields and shapes of all kinds that a result may hold, in a layer "things", and what digest_of()
/// gives for them.
class WrittenByGdal {
  public:
    explicit WrittenByGdal(const std::string& path) {
        ensure_gdal();
        m_dataset.reset(GetGDALDriverManager()->GetDriverByName("GPKG")->Create(
            path.c_str(), 0, 0, 0, GDT_Unknown, nullptr));
        OGRSpatialReference system;
        system.importFromEPSG(27700);
        OGRLayer* made = m_dataset->CreateLayer("things", &system, wkbUnknown);
        for (const auto& [name, type] : kFields) {
            OGRFieldDefn field(name, type);
            made->CreateField(&field);
        }
        layer.table = {"things", "fid", "geom"};
        layer.columns = {"fid", "geom"};
        for (const auto& [name, type] : kFields) {
            layer.columns.emplace_back(name);
        }
        layer.types = types_of(*made->GetLayerDefn());
        for (const char* shape : kShapes) {
            add(*made, shape);
        }
        header = ask_header();
        m_dataset.reset();
    }

    OutputLayer layer;
    std::string header;

  private:
    static constexpr std::array<std::pair<const char*, OGRFieldType>, 7> kFields = {
        {{"small", OFTInteger},
         {"large", OFTInteger64},
         {"number", OFTReal},
         {"words", OFTString},
         {"day", OFTDate},
         {"moment", OFTDateTime},
         {"block", OFTBinary}}};
    static constexpr std::array<const char*, 12> kShapes = {
        "POINT (530000.5 180000.25)",
        "POINT Z (1 2 3)",
        "POINT ZM (1 2 3 4)",
        "POINT EMPTY",
        "LINESTRING (0 0,3 -0.0)",
        "LINESTRING Z (0 0 1,3 4 -5)",
        "LINESTRING M (0 0 1,3 4 2)",
        "LINESTRING EMPTY",
        "MULTILINESTRING ZM ((0 0 1 2,3 4 5 6),(7 7 7 7,8 8 8 8))",
        "CIRCULARSTRING (0 0,1 1,2 0)",
        "GEOMETRYCOLLECTION (POINT (1 2),LINESTRING (3 4,5 6))",
        nullptr};

    void add(OGRLayer& made, const char* shape) {
        const int n = static_cast<int>(layer.written++);
        OGRFeature feature(made.GetLayerDefn());
        feature.SetFID(n * 7 - 14); // below, at and above zero
        OGRGeometry* geometry = nullptr;
        if (shape != nullptr) {
            ASSERT_EQ(OGRGeometryFactory::createFromWkt(shape, nullptr, &geometry), OGRERR_NONE);
        }
        feature.SetGeometryDirectly(geometry);
        feature.SetField(0, n % 2 == 0 ? -n : std::numeric_limits<int>::max());
        feature.SetField(1, std::numeric_limits<GIntBig>::min() + n);
        feature.SetField(
            2, std::array{0.1 * n, -0.0, std::numeric_limits<double>::infinity(), -1e300}.at(
                   std::size_t(n) % 4));
        feature.SetField(3, std::string(std::size_t(n) * 2, 'x').c_str()); // 0 to 22 bytes
        feature.SetField(4, 2026, 2, 28 - n, 0, 0, 0, 0);
        feature.SetField(5, 1999, 12, 31, 23, 59, 59.25F, n % 2 == 0 ? 100 : 104);
        feature.SetField(6, n, "\0blocks of bytes");
        if (n >= 3 && n - 3 < feature.GetFieldCount()) { // each field is null once
            feature.SetFieldNull(n - 3);
        }
        const GIntBig fid = feature.GetFID(); // the driver forgets one of 0 or less
        ASSERT_EQ(made.CreateFeature(&feature), OGRERR_NONE);
        layer.digest += digest_of(feature, fid, layer.types);
    }
    [[nodiscard]] std::string ask_header() {
        OGRLayer* rows = m_dataset->ExecuteSQL(header_query().c_str(), nullptr, nullptr);
        const OGRFeatureUniquePtr row(rows->GetNextFeature());
        std::string text = row->GetFieldAsString(0);
        m_dataset->ReleaseResultSet(rows);
        return text;
    }
    GDALDatasetUniquePtr m_dataset;
};

} // namespace loopwalk::gis::test
