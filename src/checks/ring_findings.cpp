// Ways that hold closed loops, and where a single loop could be opened with the best margin.
#include "loopwalk/base/text.hpp"

#include "network_findings.hpp"
#include <algorithm>
#include <limits>

namespace loopwalk::checks {

using figures::SectionFigures;
using impedance::Complex;
using impedance::loop_impedance;
using impedance::Source;
using protection::limit_currents;
using protection::LimitCurrents;

namespace {

using base::Finding;
using base::Maybe;
using base::Ohm;
using base::Rule;
using base::SectionId;

Complex hot_loop_of(const Figures& figures, SectionId section) {
    return figures.looped_ohms.at(section);
}

/// A single loop laid out from its start to its end; both are the gate, or the two ways' vertices.
struct Ring {
    std::vector<SectionId> sections;
    std::vector<VertexId> vertices; ///< one more than sections
    std::vector<std::vector<Complex>>
        spurs; ///< by vertex: loops of the columns there and behind it
};

/// The place to open: a section taken off at one end.
struct OpenPoint {
    SectionId section;
    VertexId at;
    double margin = 0.0;
};

class RingReporter : Reporter {
  public:
    explicit RingReporter(const CheckContext& context) : Reporter(context) {}

    void run() {
        for (std::uint32_t b = 0; b < m_in.figures.blocks.size(); ++b) {
            const auto& sections = m_in.figures.blocks[b];
            if (!sections.empty()) {
                const VertexId from = m_in.network.section_from[sections[0].index()];
                m_blocks[m_in.trace.component_of[from.index()]].push_back(b);
            }
        }
        for (std::size_t c = 0; c < m_in.trace.components.size(); ++c) {
            const trace::Component& component = m_in.trace.components[c];
            if (component.loops > 0 && component.infeed_count > 0) {
                report(component, base::ComponentId(c));
            }
        }
    }

  private:
    void report(const trace::Component& component, base::ComponentId id);
    [[nodiscard]] std::string fix(const trace::Component& component, base::ComponentId id);
    [[nodiscard]] std::optional<Ring> lay_out(const trace::Component& component,
                                              std::uint32_t block) const;
    void add_spurs(Ring& ring, const trace::Component& component) const;
    [[nodiscard]] std::optional<OpenPoint> best(const Ring& ring, InfeedId first, InfeedId last);
    [[nodiscard]] Maybe<Ohm> limit_at(InfeedId infeed, const Ring& ring);
    [[nodiscard]] std::string place_name(VertexId v) const;

    std::unordered_map<base::ComponentId, std::vector<std::uint32_t>> m_blocks;
};

void RingReporter::report(const trace::Component& component, base::ComponentId id) {
    const std::string advice = fix(component, id);
    for (const InfeedId r : m_in.trace.infeeds_of(component)) {
        if (m_in.network.main_of(r).has_value()) {
            continue;
        }
        Finding f = m_build.at_way(Rule::ring, r);
        f.value = component.loops;
        f.count = component.columns;
        f.message = "Way " + f.way + " of " + f.supply_id + " holds " +
                    std::to_string(component.loops) +
                    (component.loops == 1 ? " closed loop." : " closed loops.");
        f.fix = advice;
        m_findings.add(std::move(f));
    }
}

std::string RingReporter::fix(const trace::Component& component, base::ComponentId id) {
    std::string find = "Find the open point on site and record it in terminations.";
    const auto blocks = m_blocks.find(id);
    if (component.loops != 1 || component.feeding == trace::Feeding::several ||
        blocks == m_blocks.end() || blocks->second.size() != 1) {
        return find;
    }
    const auto ring = lay_out(component, blocks->second[0]);
    const auto infeeds = m_in.trace.infeeds_of(component);
    if (!ring.has_value()) {
        return find;
    }
    const InfeedId last = infeeds.size() == 2 ? infeeds[1] : infeeds[0];
    const auto open = best(*ring, infeeds[0], last);
    if (!open.has_value()) {
        return find;
    }
    const network::Section& section = m_in.network.snapped.sections[open->section.index()];
    return find + " If there is none, a candidate: cable " +
           m_in.layers.id_text(m_in.layers.cables[section.cable.index()].id) + " off at " +
           place_name(open->at) + " leaves a predicted margin of " +
           base::short_text(open->margin, 3) + ".";
}

std::string RingReporter::place_name(VertexId v) const {
    const base::NodeId node = m_in.network.node_of(v);
    return network::node_name(m_in.layers, m_in.network.snapped.nodes[node.index()]);
}

/// From the gate round to the gate, or from one way to the other. None where fuses or a section
/// pillar stand in the loop.
std::optional<Ring> RingReporter::lay_out(const trace::Component& component,
                                          std::uint32_t block) const {
    const auto infeeds = m_in.trace.infeeds_of(component);
    std::vector<SectionId> left = m_in.figures.blocks[block];
    VertexId start = m_in.network.infeeds[infeeds[0].index()].vertex;
    VertexId end = m_in.network.infeeds[infeeds[infeeds.size() - 1].index()].vertex;
    if (infeeds.size() > 2) {
        return std::nullopt;
    }
    if (infeeds.size() == 1) {
        start = end = m_in.figures.block_gate[block];
    }
    Ring ring;
    ring.vertices.push_back(start);
    while (!left.empty()) {
        const VertexId at = ring.vertices.back();
        const auto next = std::ranges::find_if(left, [&](SectionId s) {
            return m_in.network.section_from[s.index()] == at ||
                   m_in.network.section_to[s.index()] == at;
        });
        if (next == left.end()) {
            return std::nullopt;
        }
        const VertexId from = m_in.network.section_from[next->index()];
        const VertexId to = m_in.network.section_to[next->index()];
        ring.sections.push_back(*next);
        ring.vertices.push_back(from == at ? to : from);
        left.erase(next);
    }
    if (ring.vertices.back() != end) {
        return std::nullopt;
    }
    add_spurs(ring, component);
    return ring;
}

void RingReporter::add_spurs(Ring& ring, const trace::Component& component) const {
    ring.spurs.resize(ring.vertices.size());
    std::unordered_map<VertexId, std::size_t> position;
    for (std::size_t i = 0; i < ring.vertices.size(); ++i) {
        position.try_emplace(ring.vertices[i], i);
    }
    for (const VertexId v : m_in.trace.vertices(component)) {
        const network::Node& node = m_in.network.snapped.nodes[m_in.network.node_of(v).index()];
        if (node.kind != network::NodeKind::column ||
            m_in.figures.columns[node.asset].vertex != v) {
            continue;
        }
        VertexId on_loop = v;
        while (on_loop.is_valid() && !position.contains(on_loop)) {
            on_loop = m_in.trace.parent[on_loop.index()];
        }
        if (on_loop.is_valid()) {
            ring.spurs[position.at(on_loop)].push_back(m_in.figures.columns[node.asset].loop_high -
                                                       m_in.figures.block_loop.at(on_loop));
        }
    }
}

/// Loop that the device of a way demands for the way's limit; with one device before the whole loop
/// that of its sections.
Maybe<Ohm> RingReporter::limit_at(InfeedId infeed, const Ring& ring) {
    const Source* source = m_in.figures.source_of(m_in.network, infeed);
    const SectionFigures& first = m_in.figures.sections[ring.sections[0].index()];
    const DeviceId device = first.device.is_valid() ? first.device : m_in.network.device_of(infeed);
    if (source == nullptr || !source->has_ze || source->is_tt || !device.is_valid() ||
        m_judge.devices().is_distributors(device)) {
        return {};
    }
    const base::Second limit =
        m_in.network.devices[device.index()].limit.value_or(m_in.rules.disconnection);
    const LimitCurrents currents = limit_currents(m_judge.devices().choices(device), limit);
    if (!currents.certain.has_value()) {
        return {};
    }
    return source->u0 * m_in.rules.cmin / *currents.certain;
}

/// Every section taken off at either end: what hangs on each side is fed from there alone.
std::optional<OpenPoint> RingReporter::best(const Ring& ring, InfeedId first, InfeedId last) {
    const Maybe<Ohm> start_limit = limit_at(first, ring);
    const Maybe<Ohm> end_limit = limit_at(last, ring);
    if (!start_limit.has_value() || !end_limit.has_value()) {
        return std::nullopt;
    }
    const Source& source = *m_in.figures.source_of(m_in.network, first);
    const std::size_t count = ring.sections.size();
    const auto margin = [&](Ohm limit, Complex loop) {
        return limit / loop_impedance(source, source.ze.high, loop);
    };
    // Smallest margin of everything up to each vertex from the start, and from each to the end.
    std::vector<double> from_start(count + 1);
    std::vector<double> from_end(count + 1);
    std::vector<Complex> sum_start(count + 1);
    std::vector<Complex> sum_end(count + 1);
    sum_start[0] = m_in.figures.block_loop.at(ring.vertices[0]);
    sum_end[count] = m_in.figures.block_loop.at(ring.vertices[count]);
    const auto at_vertex = [&](std::size_t v, Ohm limit, Complex loop) {
        double least = margin(limit, loop);
        for (const Complex& spur : ring.spurs[v]) {
            least = std::min(least, margin(limit, loop + spur));
        }
        return least;
    };
    from_start[0] = at_vertex(0, *start_limit, sum_start[0]);
    from_end[count] = at_vertex(count, *end_limit, sum_end[count]);
    for (std::size_t i = 1; i <= count; ++i) {
        sum_start[i] = sum_start[i - 1] + hot_loop_of(m_in.figures, ring.sections[i - 1]);
        from_start[i] = std::min(from_start[i - 1], at_vertex(i, *start_limit, sum_start[i]));
        const std::size_t j = count - i;
        sum_end[j] = sum_end[j + 1] + hot_loop_of(m_in.figures, ring.sections[j]);
        from_end[j] = std::min(from_end[j + 1], at_vertex(j, *end_limit, sum_end[j]));
    }
    std::optional<OpenPoint> found;
    const auto consider = [&](std::size_t s, std::size_t off_at, double least) {
        const bool better = !found.has_value() || least > found->margin ||
                            (least == found->margin && ring.sections[s] < found->section);
        if (better) {
            found = OpenPoint{ring.sections[s], ring.vertices[off_at], least};
        }
    };
    for (std::size_t s = 0; s < count; ++s) {
        const double rest = std::min(from_start[s], from_end[s + 1]);
        consider(s, s + 1, std::min(rest, margin(*start_limit, sum_start[s + 1])));
        consider(s, s, std::min(rest, margin(*end_limit, sum_end[s])));
    }
    return found;
}

} // namespace

void report_rings(const CheckContext& context) {
    RingReporter(context).run();
}

} // namespace loopwalk::checks
