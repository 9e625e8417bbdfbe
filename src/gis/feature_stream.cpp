#include "loopwalk/base/error.hpp"

#include "gdal_error_scope.hpp"
#include "layer_state.hpp"

namespace loopwalk::gis {

FeatureStream::FeatureStream(OGRLayer& layer, std::string dataset_name, std::string layer_name)
    : m_layer(&layer), m_dataset_name(std::move(dataset_name)),
      m_layer_name(std::move(layer_name)) {}

OGRFeature* FeatureStream::next() {
    const GdalErrorScope errors;
    m_feature.reset(m_layer->GetNextFeature());
    if (m_feature != nullptr) {
        m_last_fid = m_feature->GetFID();
        m_any = true;
        return m_feature.get();
    }
    if (errors.failed()) { // without this a damaged file would look like a short one
        throw base::InputError(
            "dataset \"" + m_dataset_name + "\", layer \"" + m_layer_name + "\": cannot read on " +
            (m_any ? "after feature " + std::to_string(m_last_fid) : "at the first feature") +
            ": " + errors.text() + ". The file may be damaged: restore or export it anew");
    }
    return nullptr;
}

} // namespace loopwalk::gis
