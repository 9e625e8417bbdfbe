// Columns whose earthing does not go with what feeds them: an electrode without RCD, an electrode
// joined to a supply's earth, a charger on a combined neutral and earth.
#include "network_findings.hpp"
#include <map>
#include <unordered_map>

namespace loopwalk::checks {

using figures::FigureState;
using figures::is_charger;

namespace {

using base::Finding;
using base::Rule;
using base::Severity;
using model::EarthBond;
using model::Earthing;

class EarthingReporter : Reporter {
  public:
    explicit EarthingReporter(const CheckContext& context) : Reporter(context) {}

    void run() {
        for (std::size_t c = 0; c < m_in.layers.columns.size(); ++c) {
            const ColumnId id(c);
            if (!model::conducts(m_in.layers.columns[c].status)) {
                continue;
            }
            charger(id);
            if (m_in.figures.columns[c].state == FigureState::computed &&
                m_judge.facts().is_tt(id)) {
                note_rcd(id);
                note_joined(id);
            }
        }
        for (const auto& [way, group] : m_without_rcd) {
            report_rcd(group);
        }
        report_joined();
    }

  private:
    struct WithoutRcd {
        Severity severity{};
        ColumnId first;
        std::int64_t count = 0;
    };
    struct Joined {
        base::CableId cable; ///< invalid: none of its cables has a bonded earth path
        bool is_sure = false;
    };

    void charger(ColumnId id);
    void note_rcd(ColumnId id);
    void note_joined(ColumnId id);
    void report_rcd(const WithoutRcd& group);
    void find_cables();
    void add_cable(ColumnId column, base::CableId id, EarthBond bond);
    void report_joined();

    std::map<WayId, WithoutRcd> m_without_rcd; ///< by the nearest way
    std::map<ColumnId, Joined> m_tt_on_tn;
};

void EarthingReporter::charger(ColumnId id) {
    bool has_charger = false;
    for (const std::uint32_t row : m_judge.loads().rows(id)) {
        has_charger = has_charger || is_charger(m_in.layers.text.view(m_in.layers.loads[row].use));
    }
    const Earthing earthing = figures::earthing_of(m_in.layers, m_in.network, m_in.figures, id);
    if (!has_charger || (earthing != Earthing::tn_c_s && earthing != Earthing::unknown)) {
        return;
    }
    const bool fails = earthing == Earthing::tn_c_s;
    Finding f = m_build.at_column(Rule::ev_on_pme, id, base::certain_if(fails));
    f.message = fails ? "The charger in column " + f.asset_id +
                            " is on a combined neutral and earth with no earthing of its own on "
                            "record: if that conductor is lost, the vehicle becomes live."
                      : "It cannot be judged whether the charger in column " + f.asset_id +
                            " is on a combined neutral and earth. It would be settled by the "
                            "earthing of the column or its supply.";
    if (fails && m_in.layers.columns[id.index()].owner == model::Owner::council) {
        f.fix =
            "Candidates: an electrode with an RCD (TT), or a device that opens when the neutral "
            "is lost; record it.";
    }
    m_findings.add(std::move(f));
}

void EarthingReporter::note_rcd(ColumnId id) {
    const Judgement judgement = m_judge.column(id);
    const bool none = judgement.in.reason == Reason::tt_without_rcd ||
                      judgement.out.reason == Reason::tt_without_rcd;
    const bool missing = judgement.in.reason == Reason::tt_rcd_missing ||
                         judgement.out.reason == Reason::tt_rcd_missing;
    if (!none && !missing) {
        return;
    }
    const Severity severity = none ? Severity::fail : Severity::warning;
    WithoutRcd& group = m_without_rcd[m_in.figures.columns[id.index()].nearest_way];
    if (group.count == 0 || severity < group.severity) {
        group = {severity, id, 0};
    }
    group.count += severity == group.severity ? 1 : 0;
}

void EarthingReporter::report_rcd(const WithoutRcd& group) {
    const bool none = group.severity == Severity::fail;
    Finding f = m_build.at_column(Rule::no_rcd, group.first, base::certain_if(none));
    f.count = group.count;
    const std::string others =
        group.count > 1 ? " and " + std::to_string(group.count - 1) + " more on its way" : "";
    f.message =
        "Column " + f.asset_id + others +
        (none ? ": earthed by an electrode (TT) and no RCD before it: no fuse opens in time."
              : ": earthed by an electrode (TT) and no RCD is on record.");
    f.message += none ? "" : " It would be settled by rcd_ma of the way, supply or column.";
    if (m_in.layers.columns[group.first.index()].owner == model::Owner::council) {
        f.fix = none ? "Candidate: an RCD at the supply, after a test of the electrodes."
                     : "Record the RCD.";
    }
    m_findings.add(std::move(f));
}

void EarthingReporter::note_joined(ColumnId id) {
    if (!m_judge.facts().source(m_in.figures.columns[id.index()])->is_tt) {
        m_tt_on_tn.emplace(id, Joined{});
    }
}

void EarthingReporter::add_cable(ColumnId column, base::CableId id, EarthBond bond) {
    const model::Cable& cable = m_in.layers.cables[id.index()];
    const bool is_known = cable.type.type.is_valid();
    if (bond == EarthBond::not_bonded ||
        (is_known &&
         m_in.catalogue.cable(cable.type.type).earth_path == catalogue::EarthPath::none)) {
        return;
    }
    Joined& joined = m_tt_on_tn[column];
    const bool is_sure = is_known && bond == EarthBond::bonded;
    if (!joined.cable.is_valid() || (is_sure && !joined.is_sure)) {
        joined = {id, is_sure};
    }
}

/// The cables that end in those columns, and how their earth path is connected there.
void EarthingReporter::find_cables() {
    std::unordered_map<base::TextId, ColumnId> by_id;
    for (const auto& [id, joined] : m_tt_on_tn) {
        by_id.emplace(m_in.layers.columns[id.index()].id, id);
    }
    std::map<std::pair<ColumnId, base::TextId>, EarthBond> bonds;
    for (const model::Termination& row : m_in.layers.terminations) {
        const auto column = by_id.find(row.asset_id);
        if (column != by_id.end() &&
            (!row.has_layer || row.asset_layer == base::AssetLayer::columns)) {
            bonds[{column->second, row.cable_id}] = row.earth;
        }
    }
    const network::Snapped& snapped = m_in.network.snapped;
    for (std::size_t s = 0; s < snapped.sections.size(); ++s) {
        const base::CableId cable = snapped.sections[s].cable;
        for (const NodeId end : {snapped.sections[s].from, snapped.sections[s].to}) {
            const network::Node& node = snapped.nodes[end.index()];
            if (node.kind != network::NodeKind::column ||
                !m_tt_on_tn.contains(ColumnId(node.asset)) ||
                !m_in.network.section_from[s].is_valid()) {
                continue;
            }
            const ColumnId column(node.asset);
            const auto bond = bonds.find({column, m_in.layers.cables[cable.index()].id});
            add_cable(column, cable, bond == bonds.end() ? EarthBond::bonded : bond->second);
        }
    }
}

void EarthingReporter::report_joined() {
    if (m_tt_on_tn.empty()) {
        return;
    }
    find_cables();
    for (const auto& [id, joined] : m_tt_on_tn) {
        if (!joined.cable.is_valid()) {
            continue;
        }
        Finding f = m_build.at_column(Rule::earths_joined, id, base::certain_if(joined.is_sure));
        const std::string cable = m_in.layers.id_text(m_in.layers.cables[joined.cable.index()].id);
        if (joined.is_sure) {
            f.message = "Column " + f.asset_id +
                        " has an electrode of its own (TT), but the earth path of cable " + cable +
                        " joins it to the earth of supply " + f.supply_id + ".";
        } else {
            f.message = "It cannot be judged whether the earth path of cable " + cable +
                        " joins column " + f.asset_id +
                        ", which has an electrode of its own (TT), to the earth of supply " +
                        f.supply_id + ".";
            f.message += " It would be settled by the earth of its termination there and "
                         "cable_type of " +
                         cable + ".";
        }
        if (joined.is_sure && m_in.layers.columns[id.index()].owner == model::Owner::council) {
            f.fix =
                "Check on site; record the termination as not bonded if the armour is kept apart.";
        }
        m_findings.add(std::move(f));
    }
}

} // namespace

void report_earthing(const CheckContext& context) {
    EarthingReporter(context).run();
}

} // namespace loopwalk::checks
