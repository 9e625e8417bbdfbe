// What one lost conductor leaves behind: metalwork that rises with the neutral, columns lit without
// their earth. Cables that are bridges only: where a closed loop holds, one break loses nothing.
#include "loopwalk/base/text.hpp"
#include "loopwalk/solution/lost_neutral.hpp"

#include "network_findings.hpp"
#include <cmath>
#include <map>

namespace loopwalk::checks {

using figures::ColumnLoad;
using impedance::EarthPathState;
using impedance::Source;
using solution::lost_neutral_voltage;

namespace {

using base::Finding;
using base::Rule;
using base::SectionId;
using base::short_text;
using catalogue::EarthPath;

/// All that hangs beyond a vertex.
struct Beyond {
    std::uint32_t columns = 0;
    std::uint32_t relying = 0; ///< of these, earthed by the cable and by no electrode on record
    double va = 0.0;           ///< apparent power of their loads, high bound
    double siemens = 0.0;      ///< of the electrodes on record, in parallel
    Beyond& operator+=(const Beyond& other) {
        columns += other.columns;
        relying += other.relying;
        va += other.va;
        siemens += other.siemens;
        return *this;
    }
};

struct Worst {
    SectionId section;
    Beyond beyond;
    double volts = 0.0; ///< 0: not estimated
};

class LossReporter : Reporter {
  public:
    explicit LossReporter(const CheckContext& context) : Reporter(context) {
        m_beyond.resize(m_in.network.vertex_node.size());
    }

    void run() {
        for (const trace::Component& component : m_in.trace.components) {
            if (component.feeding == trace::Feeding::one) {
                walk(component);
            }
        }
    }

  private:
    void walk(const trace::Component& component);
    [[nodiscard]] Beyond own(VertexId v) const;
    void look_at(SectionId id, const Beyond& beyond, const Source* source);
    void report_combined(const Worst& worst);
    void report_separate(const Worst& worst);

    std::vector<Beyond> m_beyond; ///< by vertex
    Worst m_combined, m_separate; ///< of the component at hand
};

Beyond LossReporter::own(VertexId v) const {
    const network::Node& node = m_in.network.snapped.nodes[m_in.network.node_of(v).index()];
    Beyond beyond;
    if (node.kind != network::NodeKind::column || m_in.figures.columns[node.asset].vertex != v ||
        !model::conducts(m_in.layers.columns[node.asset].status)) {
        return beyond;
    }
    const model::Column& column = m_in.layers.columns[node.asset];
    const ColumnLoad load = m_judge.loads().of(ColumnId(node.asset));
    beyond.columns = 1;
    beyond.va = std::hypot(load.real.high.value(), load.reactive.high.value());
    if (column.electrode.has_value() && (*column.electrode).value() > 0.0) {
        beyond.siemens = 1.0 / (*column.electrode).value();
    } else if (m_in.figures.columns[node.asset].earth != EarthPathState::broken) {
        beyond.relying = 1;
    }
    return beyond;
}

/// Children come after their parents in the trace: from the back, subtrees are complete.
void LossReporter::walk(const trace::Component& component) {
    const InfeedId infeed = m_in.trace.infeeds_of(component)[0];
    const Source* source = m_in.figures.source_of(m_in.network, infeed);
    m_combined = {};
    m_separate = {};
    const auto vertices = m_in.trace.vertices(component);
    for (std::size_t i = vertices.size(); i-- > 0;) {
        const VertexId v = vertices[i];
        m_beyond[v.index()] += own(v);
        const VertexId parent = m_in.trace.parent[v.index()];
        if (!parent.is_valid()) {
            continue;
        }
        const base::EdgeId edge = m_in.trace.parent_edge[v.index()];
        if (m_in.network.is_section(edge) && m_in.trace.looped[edge.index()] == 0) {
            look_at(SectionId(edge.index()), m_beyond[v.index()], source);
        }
        m_beyond[parent.index()] += m_beyond[v.index()];
    }
    if (m_combined.section.is_valid()) {
        report_combined(m_combined);
    }
    if (m_separate.section.is_valid()) {
        report_separate(m_separate);
    }
}

void LossReporter::look_at(SectionId id, const Beyond& beyond, const Source* source) {
    const model::Cable& cable =
        m_in.layers.cables[m_in.network.snapped.sections[id.index()].cable.index()];
    if (!cable.type.type.is_valid() || beyond.columns == 0) {
        return;
    }
    const EarthPath earth = m_in.catalogue.cable(cable.type.type).earth_path;
    if (earth == EarthPath::neutral) {
        const bool ours = cable.owner == model::Owner::council && source != nullptr;
        Worst found{id, beyond, 0.0};
        if (ours) {
            const auto electrodes = beyond.siemens > 0.0
                                        ? base::Maybe<base::Ohm>(base::Ohm(1.0 / beyond.siemens))
                                        : base::Maybe<base::Ohm>{};
            found.volts =
                lost_neutral_voltage(source->u0, base::Watt(beyond.va), electrodes).value();
        } else if (beyond.columns <= m_in.rules.earth_exposure_columns) {
            return;
        }
        const bool is_worse =
            found.volts > m_combined.volts ||
            (found.volts == m_combined.volts && beyond.columns >= m_combined.beyond.columns);
        m_combined = is_worse ? found : m_combined;
        return;
    }
    const bool alone = earth == EarthPath::armour || earth == EarthPath::cpc;
    if (alone && (source == nullptr || !source->is_tt) &&
        beyond.relying > m_in.rules.earth_exposure_columns &&
        beyond.relying >= m_separate.beyond.relying) {
        m_separate = {id, beyond, 0.0};
    }
}

void LossReporter::report_combined(const Worst& worst) {
    const bool ours = is_councils(worst.section);
    Finding f = m_build.at_section(Rule::neutral_earth_exposure, worst.section);
    f.count = worst.beyond.columns;
    f.message = "If the combined neutral and earth of cable " + f.asset_id +
                " is lost, metalwork of " + std::to_string(worst.beyond.columns) +
                (worst.beyond.columns == 1 ? " column" : " columns") + " beyond it rises ";
    if (!ours) {
        f.message += "up to full supply voltage, and no fuse opens: ask the distributor.";
    } else {
        f.value = worst.volts;
        f.message += "up to " + short_text(worst.volts, 3) + " V by " +
                     short_text(worst.beyond.va, 3) + " VA of load";
        f.message += worst.beyond.siemens > 0.0
                         ? " through electrodes of " + short_text(1.0 / worst.beyond.siemens, 3) +
                               " ohm together"
                         : ", since no electrode is on record";
        f.message += ", and no fuse opens.";
        m_build.advise(
            f, worst.section,
            "Candidate: a cable with a separate earth; look at its terminations meanwhile.");
    }
    m_findings.add(std::move(f));
}

void LossReporter::report_separate(const Worst& worst) {
    Finding f = m_build.at_section(Rule::earth_exposure, worst.section);
    f.value = worst.beyond.relying;
    f.limit = m_in.rules.earth_exposure_columns;
    f.count = worst.beyond.relying;
    f.message = "If the earth path of cable " + f.asset_id + " is lost, " +
                std::to_string(worst.beyond.relying) +
                " columns beyond it are without earth while their lamps stay lit (" +
                short_text(worst.beyond.va, 3) + " VA).";
    m_build.advise(f, worst.section,
                   "Candidates: a protective core beside the armour, a link that closes a loop, or "
                   "electrodes; test its terminations.");
    m_findings.add(std::move(f));
}

} // namespace

void report_losses(const CheckContext& context) {
    LossReporter(context).run();
}

} // namespace loopwalk::checks
