#include "loopwalk/assess/why.hpp"

#include "loopwalk/base/text.hpp"

#include <set>

namespace loopwalk::assess {
namespace {

using base::short_text;
using model::FuseRecord;
using network::DeviceKind;

constexpr std::size_t kMostNamed = 4;
constexpr int kMostSteps = 1000; // up a path, in search of what is missing

/// BS 7671 table 41.5, note: above this an electrode may not be stable.
constexpr double kSteadyElectrode = 200.0;

std::string ohms(base::Ohm z) {
    return short_text(z.value()) + " ohm";
}

std::string joined(const std::vector<std::string>& parts) {
    std::string text;
    for (const std::string& part : parts) {
        text += (text.empty() ? "" : "; ") + part;
    }
    return text;
}

std::string reason_text(Reason reason) {
    switch (reason) {
    case Reason::bounds_straddle:
        return "the records leave it open";
    case Reason::rating_missing:
        return "the device's rating is not recorded";
    case Reason::type_missing:
        return "the device's type is not recorded";
    case Reason::curve_missing:
        return "the catalogue has no curve for this rating and its neighbours leave it open";
    case Reason::limit_not_in_table:
        return "the device's table has no current for this time";
    case Reason::ze_missing:
        return "the source's external impedance is not recorded";
    case Reason::assumed_source:
        return "it would be met, but on an assumed source only";
    case Reason::earth_broken:
        return "the records show no earth path back to the supply";
    case Reason::earth_unknown:
        return "the records do not tell whether the earth path is connected";
    case Reason::too_slow:
        return "the loop is too high for the device";
    case Reason::reading_over:
        return "a test reading is above the limit";
    case Reason::no_device:
        return "no protective device is recorded upstream";
    case Reason::tt_without_rcd:
        return "TT without RCD";
    case Reason::tt_rcd_missing:
        return "TT, and no RCD is recorded";
    case Reason::tt_electrode_missing:
        return "TT, and the electrode's resistance is not recorded";
    case Reason::side_missing:
        return "the side of a cut-out's fuse is not recorded";
    case Reason::breaking_too_low:
        return "its breaking capacity is below the prospective current";
    case Reason::breaking_missing:
        return "its breaking capacity is not known";
    case Reason::too_long_for_adiabatic:
        return "it would last longer than 5 s, for which the heat cannot be judged";
    case Reason::i2t_missing:
        return "the current is above the device's table and its total I2t is not known";
    case Reason::withstand_missing:
        return "the catalogue has no k or area for the conductor";
    case Reason::armour_share:
        return "it holds only if the armour carries its share beside the core";
    case Reason::too_hot:
        return "more heat than the conductor survives";
    case Reason::none:
        return "";
    }
    return "";
}

} // namespace

std::string Explainer::supply_name(base::RootId root) const {
    const WayId way = m_net.roots[root.index()].way;
    return way.is_valid()
               ? m_layers.id_text(m_layers.supplies[m_net.ways[way.index()].supply.index()].id)
               : std::string{};
}

std::string Explainer::way_name(base::RootId root) const {
    const WayId way = m_net.roots[root.index()].way;
    return way.is_valid() ? m_layers.id_text(m_net.ways[way.index()].name) : std::string{};
}

std::string Explainer::device_name(base::DeviceId id) const {
    if (!id.is_valid()) {
        return {};
    }
    const network::Device& device = m_net.devices[id.index()];
    switch (device.kind) {
    case DeviceKind::way:
    case DeviceKind::distributor: {
        const network::Way& way = m_net.ways[device.owner];
        return m_layers.id_text(m_layers.supplies[way.supply.index()].id) + "/" +
               m_layers.id_text(way.name);
    }
    case DeviceKind::joint:
        return m_layers.id_text(m_layers.joints[device.owner].id);
    case DeviceKind::cut_out:
        return m_layers.id_text(m_layers.columns[device.owner].id);
    }
    return {};
}

std::string Explainer::device_name(ColumnId id, const Side& side) const {
    return side.own_fuse ? m_layers.id_text(m_layers.columns[id.index()].id)
                         : device_name(side.device);
}

const FuseRecord& Explainer::fuse_of(ColumnId id, const Side& side) const {
    if (!side.own_fuse) {
        return m_net.devices[side.device.index()].fuse;
    }
    if (side.load_row < m_layers.loads.size() && !m_layers.loads[side.load_row].fuse.is_absent()) {
        return m_layers.loads[side.load_row].fuse;
    }
    return m_layers.columns[id.index()].fuse;
}

std::string Explainer::fuse_text(const FuseRecord& fuse) const {
    std::string text;
    if (fuse.word == FuseRecord::Word::known) {
        text = m_catalogue.fuse(fuse.type).name;
    } else if (fuse.word == FuseRecord::Word::none) {
        return "a solid link";
    } else {
        text = "a fuse of unknown type,";
    }
    return fuse.rating.has_value() ? text + " " + short_text((*fuse.rating).value()) + " A"
                                   : text + " of unknown rating";
}

std::string Explainer::device_record(ColumnId id, const Side& side) const {
    if (!side.own_fuse && !side.device.is_valid()) {
        return "nothing";
    }
    return fuse_text(fuse_of(id, side));
}

std::string Explainer::side(ColumnId id, const Side& side) const {
    const std::string where = side.own_fuse ? "beyond its cut-out's fuse" : "on its incoming side";
    if (side.verdict == Verdict::not_ours) {
        return "the distributor's main fuse protects its incoming side: ask the distributor";
    }
    if (side.is_rcd || (!side.own_fuse && !side.device.is_valid())) {
        return where + ": " + reason_text(side.reason);
    }
    std::string text = where + ": " + device_record(id, side);
    if (side.zs_limit.has_value()) {
        text += " allows " + ohms(*side.zs_limit);
        text += " for " + short_text((*side.limit).value()) + " s";
    }
    if (side.zs_high.has_value()) {
        text += ", loop up to " + ohms(*side.zs_high);
    }
    if (side.margin.has_value()) {
        text += ", margin " + short_text((*side.margin).value(), 3);
    }
    if (side.reason != Reason::none) {
        text += " (" + reason_text(side.reason) + ")";
    }
    return text;
}

void Explainer::add_device_gaps(ColumnId id, const Side& side,
                                std::vector<std::string>& out) const {
    if (side.is_rcd) {
        const std::string name = m_layers.id_text(m_layers.columns[id.index()].id);
        if (side.reason == Reason::tt_rcd_missing) {
            out.push_back("rcd_ma of " + name);
        } else if (side.reason == Reason::tt_electrode_missing) {
            out.push_back("electrode_ohm of " + name);
        }
        return;
    }
    if (!side.own_fuse && !side.device.is_valid()) {
        out.push_back("the fuse of way " + supply_name(m_figures.columns[id.index()].root) + "/" +
                      way_name(m_figures.columns[id.index()].root));
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

void Explainer::add_path_gaps(ColumnId id, std::vector<std::string>& out) const {
    std::vector<std::string> types;
    std::vector<std::string> lengths;
    std::vector<std::string> bonds;
    std::vector<std::string> sides;
    std::set<base::CableId> told;
    VertexId v = m_figures.columns[id.index()].vertex;
    for (int step = 0; step < kMostSteps && m_trace.parent[v.index()].is_valid(); ++step) {
        const base::EdgeId edge = m_trace.parent_edge[v.index()];
        v = m_trace.parent[v.index()];
        if (!m_net.is_section(edge)) {
            continue;
        }
        const base::CableId cable_id = m_net.snapped.sections[edge.index()].cable;
        const model::Cable& cable = m_layers.cables[cable_id.index()];
        const std::string name = m_layers.id_text(cable.id);
        if (m_net.earth_ends[edge.index()].unknown) {
            bonds.push_back(name);
        }
        if (m_net.side_unknown[edge.index()] != 0) {
            sides.push_back(name);
        }
        if (!told.insert(cable_id).second) {
            continue;
        }
        if (!cable.type.type.is_valid()) {
            types.push_back(name);
        }
        if (!cable.laid.has_value()) {
            lengths.push_back(name);
        }
    }
    const auto add = [&](const char* attribute, const std::vector<std::string>& names) {
        if (!names.empty()) {
            out.push_back(attribute + base::listed(names, kMostNamed));
        }
    };
    add("cable_type of ", types);
    add("length_m of ", lengths);
    add("earth of the terminations of ", bonds);
    add("side of the terminations of ", sides);
}

void Explainer::add_source_gaps(ColumnId id, std::vector<std::string>& out) const {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    const WayId way = m_net.roots[figures.root.index()].way;
    const base::SupplyId supply = m_net.ways[way.index()].supply;
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
    std::vector<std::string> parts;
    add_device_gaps(id, side, parts);
    if (!side.is_rcd && side.reason != Reason::rating_missing && side.reason != Reason::no_device) {
        if (side.reason != Reason::assumed_source) {
            add_path_gaps(id, parts);
        }
        if (side.own_fuse && side.reason != Reason::assumed_source) {
            add_tail_gaps(id, parts);
        }
        add_source_gaps(id, parts);
    }
    return joined(parts);
}

std::string Explainer::reason(Reason reason) {
    return reason_text(reason);
}

std::string Explainer::settles_heat(const HeatCheck& check, base::DeviceId device) const {
    const base::CableId cable = m_net.snapped.sections[check.section.index()].cable;
    const std::string name = m_layers.id_text(m_layers.cables[cable.index()].id);
    const std::string fuse =
        device.is_valid() ? fuse_text(m_net.devices[device.index()].fuse) : std::string{};
    if (check.reason == Reason::bounds_straddle) {
        return m_layers.cables[cable.index()].type.type.is_valid() ? "" : "cable_type of " + name;
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

std::string Explainer::column(ColumnId id, const Judgement& judgement) const {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    switch (figures.state) {
    case FigureState::not_traced:
        return judgement.overall == Verdict::not_ours
                   ? "not ours: the distributor's supply, no cable on record; ask the distributor"
                   : "not traced: no source was found in the records, treat as live";
    case FigureState::looped:
        return "undecided: its path uses a closed loop, for which no figures are computed";
    case FigureState::several:
        return "undecided: fed by several supplies, for which no figures are computed";
    case FigureState::from_main:
        return "not ours: straight off the distributor's main; ask the distributor";
    case FigureState::computed:
        break;
    }
    if (judgement.overall == Verdict::meets) {
        std::string text = "predicted to meet";
        if (judgement.in.margin.has_value()) {
            text += ", margin " + short_text((*judgement.in.margin).value(), 3) + " incoming";
        }
        if (judgement.out.margin.has_value()) {
            text += ", " + short_text((*judgement.out.margin).value(), 3) + " beyond the cut-out";
        }
        const auto& electrode = m_layers.columns[id.index()].electrode;
        if (judgement.in.is_rcd && electrode.has_value() &&
            (*electrode).value() > kSteadyElectrode) {
            text += "; an electrode above 200 ohm may not stay as it is";
        }
        return text;
    }
    std::vector<std::string> parts;
    for (const Side* s : {&judgement.in, &judgement.out}) {
        if (s->verdict != judgement.overall) {
            continue;
        }
        std::string text = side(id, *s);
        if (s->verdict == Verdict::undecided) {
            const std::string settles = settled_by(id, *s);
            text += settles.empty() ? "" : "; settled by " + settles;
        }
        parts.push_back(std::move(text));
    }
    if (judgement.breaking == judgement.overall) {
        parts.push_back("cut-out fuse: " + reason_text(judgement.breaking_reason));
    }
    if (judgement.heat == judgement.overall) {
        const std::string settles = settles_heat(judgement.heat_check, figures.device);
        parts.push_back("heat of the earth path: " + reason_text(judgement.heat_check.reason) +
                        (settles.empty() ? "" : "; settled by " + settles));
    }
    const std::string head = judgement.overall == Verdict::fails       ? "predicted not to meet "
                             : judgement.overall == Verdict::undecided ? "cannot be judged "
                                                                       : "not ours: ";
    return head + joined(parts);
}

} // namespace loopwalk::assess
