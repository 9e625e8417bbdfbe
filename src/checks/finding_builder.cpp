#include "finding_builder.hpp"

#include <algorithm>

namespace loopwalk::checks {

using base::AssetLayer;
using base::Certainty;
using base::Finding;
using base::Rule;
using network::DeviceKind;
using protection::DevicePlace;

void FindingBuilder::name_infeed(Finding& finding, InfeedId infeed) const {
    if (infeed.is_valid()) {
        finding.supply_id = m_explain.supply_name(infeed);
        finding.way = m_explain.way_name(infeed);
    }
}

Finding FindingBuilder::at_column(Rule rule, ColumnId id, Certainty certainty) const {
    const model::Column& column = m_in.layers.columns[id.index()];
    Finding f = base::finding_of(rule, certainty);
    f.layer = AssetLayer::columns;
    f.asset_id = m_in.layers.id_text(column.id);
    f.place = column.has_place ? std::optional(column.place) : std::nullopt;
    name_infeed(f, m_in.figures.columns[id.index()].infeed);
    return f;
}

Finding FindingBuilder::at_way(Rule rule, InfeedId infeed, Certainty certainty) const {
    const base::SupplyId supply = *m_in.network.supply_of(infeed);
    Finding f = base::finding_of(rule, certainty);
    f.layer = AssetLayer::supplies;
    name_infeed(f, infeed);
    f.asset_id = f.supply_id;
    f.place = m_in.layers.supplies[supply.index()].place;
    return f;
}

Finding FindingBuilder::at_column_of_way(Rule rule, InfeedId infeed, ColumnId column,
                                         Certainty certainty) const {
    Finding f = at_column(rule, column, certainty);
    name_infeed(f, infeed); // of several joined ways the one that is meant
    return f;
}

Finding FindingBuilder::at_cable(Rule rule, base::CableId id, Certainty certainty) const {
    const model::Cable& cable = m_in.layers.cables[id.index()];
    Finding f = base::finding_of(rule, certainty);
    f.layer = AssetLayer::cables;
    f.asset_id = m_in.layers.id_text(cable.id);
    if (cable.part_count > 0) {
        f.place = m_in.layers.line(m_in.layers.parts[cable.first_part]).front();
    }
    return f;
}

Finding FindingBuilder::at_section(Rule rule, base::SectionId id, Certainty certainty) const {
    Finding f = at_cable(rule, m_in.network.snapped.sections[id.index()].cable, certainty);
    name_infeed(f, m_in.figures.sections[id.index()].infeed);
    return f;
}

Finding FindingBuilder::at_device(Rule rule, DeviceId id, Certainty certainty) const {
    const network::Device& device = m_in.network.devices[id.index()];
    Finding f = base::finding_of(rule, certainty);
    f.asset_id = m_explain.device_name(id);
    if (device.kind == DeviceKind::way || device.kind == DeviceKind::distributor) {
        const network::Way& way = m_in.network.ways[device.owner];
        const model::Supply& supply = m_in.layers.supplies[way.supply.index()];
        f.layer = AssetLayer::supplies;
        f.asset_id = m_in.layers.id_text(supply.id);
        f.supply_id = f.asset_id;
        f.way = m_in.layers.id_text(way.name);
        f.place = supply.place;
        return f;
    }
    const bool is_joint = device.kind == DeviceKind::joint;
    f.layer = is_joint ? AssetLayer::joints : AssetLayer::columns;
    f.place =
        is_joint ? m_in.layers.joints[device.owner].place : m_in.layers.columns[device.owner].place;
    if (const DevicePlace& place = m_devices.place(id); place.is_reached) {
        name_infeed(f, place.infeed);
    }
    return f;
}

bool FindingBuilder::is_also_fed_by(VertexId vertex, base::TextId circuit) const {
    const trace::Component* component = m_in.trace.find(vertex);
    return component != nullptr && component->infeed_count > 1 &&
           std::ranges::any_of(m_in.trace.infeeds_of(*component), [&](InfeedId infeed) {
               const auto way = m_in.network.way_of(infeed);
               return way.has_value() && m_in.network.ways[way->index()].circuit == circuit;
           });
}

void FindingBuilder::advise(Finding& finding, ColumnId column, std::string_view cure) const {
    if (m_in.layers.columns[column.index()].owner == model::Owner::council) {
        finding.fix = cure;
    }
}

void FindingBuilder::advise(Finding& finding, base::SectionId section,
                            std::string_view cure) const {
    const base::CableId cable = m_in.network.snapped.sections[section.index()].cable;
    if (m_in.layers.cables[cable.index()].owner == model::Owner::council) {
        finding.fix = cure;
    }
}

} // namespace loopwalk::checks
