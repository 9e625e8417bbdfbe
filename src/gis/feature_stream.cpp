#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/interrupt.hpp"

#include "gdal_error_scope.hpp"
#include "layer_state.hpp"

namespace loopwalk::gis {

FeatureStream::FeatureStream(OGRLayer& layer, std::string dataset_name, std::string layer_name)
    : m_layer(&layer), m_dataset_name(std::move(dataset_name)),
      m_layer_name(std::move(layer_name)) {}

OGRFeature* FeatureStream::next() {
    const GdalErrorScope errors;
    m_feature.reset(m_layer->GetNextFeature());
    if (m_feature == nullptr) { // the end, or that of a query that was stopped
        stop_if_asked();
    }
    if (errors.failed()) { // also with a feature: some drivers hand out what is left of it
        throw base::InputError("dataset \"" + m_dataset_name + "\", layer \"" + m_layer_name +
                               "\": " + where() + " cannot be read: " + errors.text() +
                               ". The file may be damaged: restore or export it anew");
    }
    if (m_feature != nullptr) {
        m_last_fid = m_feature->GetFID();
        m_any = true;
    }
    return m_feature.get();
}

std::string FeatureStream::where() const {
    if (m_feature != nullptr) {
        return "feature " + std::to_string(m_feature->GetFID());
    }
    return m_any ? "what comes after feature " + std::to_string(m_last_fid) : "the first feature";
}

} // namespace loopwalk::gis
