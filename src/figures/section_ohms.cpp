#include "loopwalk/figures/section_ohms.hpp"

#include "loopwalk/solution/path.hpp"

namespace loopwalk::figures {

using impedance::Impedances;

SectionOhms::SectionOhms(const model::Layers& layers, const catalogue::Catalogue& catalogue,
                         const config::Rules& rules, const Assumptions& assumptions,
                         const network::Network& network)
    : m_net(network),
      m_paths(std::make_unique<PathMaker>(layers, catalogue, rules, assumptions, network)) {}

SectionOhms::~SectionOhms() = default;

base::Bounds<base::Metre> SectionOhms::length(base::SectionId id) const {
    return m_paths->length(m_net.snapped.sections[id.index()]);
}

const CablePerKm& SectionOhms::per_km(base::SectionId id) const {
    return m_paths->per_km_of(id);
}

namespace {

SectionOhms::HotLoop hot_loop_of(const CablePerKm& per_km,
                                 const base::Bounds<base::Metre>& length) {
    const Impedances& z = per_km.z;
    return {(z.hot_low.line + z.hot_low.earth) * (length.low.value() / 1000.0),
            (z.hot_high.line + z.hot_high.earth) * (length.high.value() / 1000.0)};
}

} // namespace

SectionOhms::HotLoop SectionOhms::hot_loop(base::SectionId id,
                                           const base::Bounds<base::Metre>& length) const {
    return hot_loop_of(m_paths->per_km_of(id), length);
}

SectionOhms::HotLoop SectionOhms::hot_loop_if(base::SectionId id, base::CableTypeId type) const {
    return hot_loop_of(m_paths->per_km_if(id, type), length(id));
}

Conductors SectionOhms::hot_high(base::SectionId id) const {
    const base::Metre length = m_paths->length(m_net.snapped.sections[id.index()]).high;
    return m_paths->per_km_of(id).z.hot_high * (length.value() / 1000.0);
}

} // namespace loopwalk::figures
