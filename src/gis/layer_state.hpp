// What stands behind Layer and LayerCursor. For this folder only.
#pragma once

#include "loopwalk/gis/crs.hpp"
#include "loopwalk/gis/dataset.hpp"

#include <ogrsf_frmts.h>

#include <string>
#include <vector>

namespace loopwalk::gis {

/// The fields of a table in which the coordinates of points stand.
struct PlaceFields {
    int x = 0, y = 0; ///< positions
    base::DecimalMark mark = base::DecimalMark::unstated;
};

/// The place of a feature; where it cannot be told, only state and kind_name say so.
[[nodiscard]] Geometry place_in(const OGRFeature& feature, const PlaceFields& fields);

struct Layer::State {
    OGRLayer* layer = nullptr; ///< owned by the dataset
    GDALDataset* dataset = nullptr;
    std::string dataset_name;
    std::string name;
    std::string schema; ///< of a database, see schema_identity(); else empty
    std::vector<FieldInfo> fields;
    Crs crs;
    std::string crs_fault;     ///< why the system that the layer states cannot be read
    bool crs_assigned = false; ///< not what the layer itself states
    bool filtered = false;
    bool boxed = false; ///< restricted to a box
    bool has_null_numbers = true;
    std::optional<PlaceFields> place_fields; ///< of a table whose fields hold the coordinates
    std::optional<base::Box> box;            ///< that restricts such a table
};

/// Reads a layer front to back with what is needed for messages. `layer` was rewound.
class FeatureStream {
  public:
    FeatureStream(OGRLayer& layer, std::string dataset_name, std::string layer_name);
    /// The next feature, null at the end. Throws InputError if the layer cannot be read on.
    [[nodiscard]] OGRFeature* next();
    [[nodiscard]] OGRFeature& feature() noexcept { return *m_feature; }
    [[nodiscard]] const OGRFeature& feature() const noexcept { return *m_feature; }

  private:
    [[nodiscard]] std::string where() const;

    OGRLayer* m_layer;
    std::string m_dataset_name;
    std::string m_layer_name;
    OGRFeatureUniquePtr m_feature;
    GIntBig m_last_fid = OGRNullFID;
    bool m_any = false;
};

} // namespace loopwalk::gis
