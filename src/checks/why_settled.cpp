// What would settle an undecided verdict, named attribute by attribute.
#include "loopwalk/base/text.hpp"
#include "loopwalk/checks/why.hpp"

#include <algorithm>
#include <set>

namespace loopwalk::checks {

using figures::ColumnFigures;
using impedance::Source;

namespace {

using model::FuseRecord;

constexpr std::size_t kMostNamed = 4;
constexpr int kMostSteps = 1000; // up a path, in search of what is missing

} // namespace

void Explainer::add_device_gaps(ColumnId id, const Side& side,
                                std::vector<std::string>& out) const {
    if (side.is_rcd) {
        const std::string name = m_layers.id_text(m_layers.columns[id.index()].id);
        if (side.reason == Reason::tt_rcd_missing) {
            out.push_back("rcd_ma of " + name);
        } else if (side.reason == Reason::tt_electrode_missing ||
                   (side.reason == Reason::bounds_straddle && lacks_pillars_electrode(id))) {
            out.push_back("electrode_ohm of " + earthing_asset(id));
        }
        return;
    }
    if (side.is_multi_fed) {
        if (side.reason != Reason::bounds_straddle) {
            out.push_back("the fuses of " + device_name(id, side));
        }
        return;
    }
    if (!side.own_fuse && !side.device.is_valid()) {
        out.push_back("the fuse of way " + supply_name(m_figures.columns[id.index()].infeed) + "/" +
                      way_name(m_figures.columns[id.index()].infeed));
        return;
    }
    const FuseRecord& fuse = fuse_of(id, side);
    const std::string name = device_name(id, side);
    if (fuse.word == FuseRecord::Word::missing || fuse.word == FuseRecord::Word::not_found) {
        out.push_back("fuse_type of " + name);
    }
    if (!fuse.rating.has_value()) {
        out.push_back("fuse_a of " + name);
    }
    if (side.reason == Reason::curve_missing) {
        out.push_back("a time-current curve of " + fuse_text(fuse));
    }
}

namespace {

bool has_ranged_sheath(const catalogue::CableType& type) {
    const bool is_earth_path = type.earth_path == catalogue::EarthPath::armour ||
                               type.earth_path == catalogue::EarthPath::armour_and_cpc;
    return is_earth_path && type.armour->is_range();
}

} // namespace

/// Cables on the path of a column whose owner is not recorded.
std::string Explainer::unowned(ColumnId id) const {
    std::vector<std::string> names;
    for_path(id, [&](base::SectionId section) {
        const model::Cable& cable =
            m_layers.cables[m_net.snapped.sections[section.index()].cable.index()];
        const std::string name = m_layers.id_text(cable.id);
        if (cable.owner == model::Owner::unknown && std::ranges::find(names, name) == names.end()) {
            names.push_back(name);
        }
    });
    return base::listed(names, kMostNamed);
}

bool Explainer::lacks_pillars_electrode(ColumnId id) const {
    const figures::TtEarthRecord record = figures::tt_record(m_layers, m_net, m_figures, id);
    return record.path != impedance::EarthPathState::broken && !record.pillar.has_value();
}

/// The pillar where its electrode may reach the column and is not on record, else the column.
std::string Explainer::earthing_asset(ColumnId id) const {
    return lacks_pillars_electrode(id) ? supply_name(m_figures.columns[id.index()].infeed)
                                       : m_layers.id_text(m_layers.columns[id.index()].id);
}

void Explainer::add_path_gaps(ColumnId id, std::vector<std::string>& out) const {
    std::vector<std::string> types;
    std::vector<std::string> lengths;
    std::vector<std::string> bonds;
    std::vector<std::string> sides;
    std::vector<std::string> sheaths; // that the catalogue knows as a range only
    std::set<base::CableId> told;
    const auto note = [&](base::SectionId section) {
        const base::CableId cable_id = m_net.snapped.sections[section.index()].cable;
        const model::Cable& cable = m_layers.cables[cable_id.index()];
        const std::string name = m_layers.id_text(cable.id);
        if (m_net.earth_ends[section.index()].unknown) {
            bonds.push_back(name);
        }
        if (m_net.side_unknown[section.index()] != 0) {
            sides.push_back(name);
        }
        if (!told.insert(cable_id).second) {
            return;
        }
        if (!cable.type.type.is_valid()) {
            types.push_back(name);
        } else if (has_ranged_sheath(m_catalogue.cable(cable.type.type))) {
            sheaths.push_back(name);
        }
        if (!cable.laid.has_value()) {
            lengths.push_back(name);
        }
    };
    for_path(id, note);
    const auto add = [&](const char* attribute, const std::vector<std::string>& names) {
        if (!names.empty()) {
            out.push_back(attribute + base::listed(names, kMostNamed));
        }
    };
    add("cable_type of ", types);
    add("length_m of ", lengths);
    add("earth of the terminations of ", bonds);
    add("side of the terminations of ", sides);
    add("a loop test, or the sheath or armour of ", sheaths);
}

void Explainer::for_path(ColumnId id, const std::function<void(base::SectionId)>& note) const {
    std::set<std::uint32_t> blocks;
    VertexId v = m_figures.columns[id.index()].vertex;
    for (int step = 0; step < kMostSteps && m_trace.parent[v.index()].is_valid(); ++step) {
        const base::EdgeId edge = m_trace.parent_edge[v.index()];
        v = m_trace.parent[v.index()];
        if (!m_net.is_section(edge)) {
            continue;
        }
        const base::SectionId section(edge.index());
        const auto block = m_figures.block_of.find(section);
        if (block == m_figures.block_of.end()) {
            note(section);
        } else if (blocks.insert(block->second).second) { // all of a loop counts
            std::ranges::for_each(m_figures.blocks[block->second], note);
        }
    }
}

std::string Explainer::unclear_statuses(ColumnId id) const {
    std::vector<std::string> names;
    const auto add = [&](base::TextId name, model::Status status) {
        const std::string text = m_layers.id_text(name);
        if (status == model::Status::unclear && std::ranges::find(names, text) == names.end()) {
            names.push_back(text);
        }
    };
    const auto add_node = [&](base::NodeId node_id) {
        const network::Node& node = m_net.snapped.nodes[node_id.index()];
        if (node.kind == network::NodeKind::column) {
            add(m_layers.columns[node.asset].id, m_layers.columns[node.asset].status);
        } else if (node.kind == network::NodeKind::supply) {
            add(m_layers.supplies[node.asset].id, m_layers.supplies[node.asset].status);
        }
    };
    for_path(id, [&](base::SectionId section) {
        const network::Section& of_path = m_net.snapped.sections[section.index()];
        add(m_layers.cables[of_path.cable.index()].id,
            m_layers.cables[of_path.cable.index()].status);
        add_node(of_path.from);
        add_node(of_path.to);
    });
    return names.empty() ? std::string{} : "status of " + base::listed(names, kMostNamed);
}

void Explainer::add_source_gaps(ColumnId id, std::vector<std::string>& out) const {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    if (const auto main = m_net.main_of(figures.infeed)) {
        out.push_back("cable_type and length_m of the mains before " +
                      m_layers.id_text(m_layers.mains[main->index()].id));
        return;
    }
    const base::SupplyId supply = *m_net.supply_of(figures.infeed);
    const Source& source = m_figures.sources[supply.index()];
    const std::string name = m_layers.id_text(m_layers.supplies[supply.index()].id);
    if (source.ze_missing) {
        out.push_back("ze_ohm of " + name);
    } else if (source.ze_basis == model::Basis::assumed) {
        out.push_back("a measured or declared ze_ohm of " + name);
    }
    if (source.earthing_missing) {
        out.push_back("earthing of " + name);
    }
}

void Explainer::add_tail_gaps(ColumnId id, std::vector<std::string>& out) const {
    const model::Column& column = m_layers.columns[id.index()];
    const std::string name = m_layers.id_text(column.id);
    if (!column.tail_type.type.is_valid()) {
        out.push_back("tail_type of " + name);
    }
    if (!column.tail.has_value()) {
        out.push_back("tail_m of " + name);
    }
}

std::string Explainer::settled_by(ColumnId id, const Side& side) const {
    if (side.reason == Reason::too_many_devices) {
        return "terminations recorded as open between these supplies";
    }
    if (side.reason == Reason::phases_unclear) {
        const trace::Component* component = m_trace.find(m_figures.columns[id.index()].vertex);
        return "phase of the ways " + feeds_of(*component) + ", or the open point between them";
    }
    if (side.reason == Reason::status_unclear) {
        return unclear_statuses(id);
    }
    if (side.reason == Reason::reading_near || side.reason == Reason::reading_before) {
        return "a test after the earth path was looked at";
    }
    if (side.reason == Reason::main_fuse_missing) {
        const base::InfeedId infeed = m_figures.columns[id.index()].infeed;
        const std::string supply = supply_name(infeed);
        return supply.empty() ? "the distributor's fuse at " + infeed_name(infeed)
                              : "fuse_type and fuse_a of " + supply;
    }
    if (side.reason == Reason::owner_missing) {
        return "owner of " + unowned(id);
    }
    std::vector<std::string> parts;
    add_device_gaps(id, side, parts);
    if (side.is_rcd &&
        (side.reason == Reason::bounds_straddle || side.reason == Reason::earth_unknown)) {
        add_path_gaps(id, parts);
    }
    if (!side.is_rcd && side.reason != Reason::rating_missing && side.reason != Reason::no_device) {
        if (side.reason != Reason::assumed_source) {
            add_path_gaps(id, parts);
        }
        if (side.own_fuse && side.reason != Reason::assumed_source) {
            add_tail_gaps(id, parts);
        }
        add_source_gaps(id, parts);
    }
    return base::joined(parts, "; ");
}

std::string Explainer::missing_pscc(base::InfeedId infeed) const {
    const std::string supply = supply_name(infeed);
    return supply.empty() ? std::string{} : "pscc_ka of " + supply;
}

std::string Explainer::settles_breaking(ColumnId id, Reason reason) const {
    if (reason == Reason::breaking_missing) {
        return "fuse_type, fuse_a or fuse_breaking_ka of " +
               m_layers.id_text(m_layers.columns[id.index()].id);
    }
    std::vector<std::string> parts;
    if (reason == Reason::pscc_missing) {
        parts.push_back(missing_pscc(m_figures.columns[id.index()].infeed));
    } else {
        const model::FuseRecord& fuse = m_layers.columns[id.index()].fuse;
        if (fuse.word != FuseRecord::Word::known) {
            parts.push_back("fuse_type of " + m_layers.id_text(m_layers.columns[id.index()].id));
        }
        add_path_gaps(id, parts);
    }
    return base::joined(parts, "; ");
}

std::string Explainer::settles_heat(const HeatCheck& check, base::DeviceId device) const {
    const base::CableId cable = m_net.snapped.sections[check.section.index()].cable;
    const std::string name = m_layers.id_text(m_layers.cables[cable.index()].id);
    const std::string fuse =
        device.is_valid() ? fuse_text(m_net.devices[device.index()].fuse) : std::string{};
    if (check.reason == Reason::bounds_straddle) {
        return m_layers.cables[cable.index()].type.type.is_valid() ? "" : "cable_type of " + name;
    }
    if (check.reason == Reason::pscc_missing) {
        return missing_pscc(m_figures.sections[check.section.index()].infeed);
    }
    if (check.reason == Reason::type_missing) {
        return "fuse_type of " + device_name(device);
    }
    if (check.reason == Reason::rating_missing) {
        return "fuse_a of " + device_name(device);
    }
    if (check.reason == Reason::curve_missing) {
        return "a time-current curve of " + fuse;
    }
    if (check.reason == Reason::i2t_missing) {
        return "total_i2t_a2s of " + fuse + " in the catalogue";
    }
    if (check.reason == Reason::withstand_missing) {
        return "k and area of the type of " + name + " in the catalogue";
    }
    return {};
}

} // namespace loopwalk::checks
