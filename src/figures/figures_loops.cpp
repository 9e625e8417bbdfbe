// Looped blocks: their paths, what feeds them, and their sections at the highest place.
#include "loopwalk/solution/peak.hpp"

#include "figure_maker.hpp"
#include <algorithm>

namespace loopwalk::figures {

using impedance::Complex;
using impedance::Conductors;
using impedance::EarthPathState;
using impedance::loop_impedance;
using solution::Conductor;
using solution::highest_at;
using solution::MultiFeed;
using solution::paths_into;

namespace {

/// Stands where a source is not known at all: an end on a main that no substation is recorded for.
const Source& no_source() {
    static const Source unknown;
    return unknown;
}

Complex hot_loop(const Conductors& c) {
    return c.line + c.earth;
}

bool has_device_inside(const Block& block) {
    return std::ranges::any_of(block.links,
                               [](const Block::Link& link) { return link.device.is_valid(); });
}

} // namespace

void FigureMaker::find_blocks(const Component& component) {
    m_paths.clear_unclear_joints();
    for (Block& block : m_finder.blocks_of(component)) {
        for (const VertexId v : block.unclear_joints) {
            m_paths.mark_unclear_joint(m_net.node_of(v));
        }
        m_blocks.push_back({std::move(block), false, {}, {}, SolvedBlock::kOneFeed});
    }
}

/// Paths to the terminals. Where a fuse divides a block that hangs from a gate, the gate's own
/// device gets a link of its own, so that it too can open.
std::vector<Path> FigureMaker::starts_of(SolvedBlock& solved) {
    Block& block = solved.block;
    std::vector<Path> starts;
    if (!block.has_gate()) {
        for (const Block::Terminal& terminal : block.terminals) {
            starts.push_back(m_paths.start(terminal.infeed, source_at(terminal.infeed)));
        }
        return starts;
    }
    starts.push_back(m_at[m_position[block.gate.index()]]);
    const network::Node& gate = m_net.snapped.nodes[m_net.node_of(block.gate).index()];
    if (gate.kind == network::NodeKind::joint && m_net.joint_device[gate.asset].is_valid()) {
        starts[0].protect(m_net.joint_device[gate.asset]);
    }
    if (has_device_inside(block)) {
        block.vertices.push_back(block.gate);
        const auto terminal = static_cast<LocalVertex>(block.vertices.size() - 1);
        block.links.push_back({terminal, block.terminals[0].vertex, starts[0].device});
        block.terminals[0].vertex = terminal;
        block.terminals[0].infeed = starts[0].infeed;
    }
    return starts;
}

void FigureMaker::solve_block(SolvedBlock& solved) {
    solved.is_solved = true;
    const std::vector<Path> starts = starts_of(solved);
    const Block& block = solved.block;
    if (starts.size() == 1) {
        solved.trunk = starts[0];
    }
    std::vector<PieceOhms> ohms;
    for (const Block::Section& section : block.sections) {
        ohms.push_back(m_paths.ohms_of(section.id));
        m_figures.block_of.emplace(section.id, static_cast<std::uint32_t>(m_figures.blocks.size()));
    }
    m_figures.blocks.emplace_back();
    for (const Block::Section& section : block.sections) {
        m_figures.blocks.back().push_back(section.id);
    }
    const BlockNetwork network(block, ohms);
    solved.paths = paths_into(network, m_paths, m_layers, m_net, starts);
    m_figures.block_gate.push_back(block.gate);
    for (std::size_t s = 0; s < ohms.size(); ++s) {
        m_figures.looped_ohms.emplace(block.sections[s].id, hot_loop(ohms[s].z.hot_high));
    }
    for (LocalVertex v = 0; v < block.vertices.size(); ++v) {
        m_figures.block_loop.emplace(block.vertices[v], hot_loop(solved.paths[v].z.hot_high));
    }
    if (!block.has_gate() || has_device_inside(block)) {
        make_feed(solved, ohms, starts);
        fill_fed_sections(solved);
    } else {
        fill_looped_sections(solved, network);
    }
}

void FigureMaker::make_feed(SolvedBlock& solved, const std::vector<PieceOhms>& ohms,
                            const std::vector<Path>& starts) {
    std::vector<const Source*> sources;
    for (const Path& start : starts) {
        const Source* source = source_at(start.infeed);
        sources.push_back(source != nullptr ? source : &no_source());
    }
    solved.feed = static_cast<std::uint32_t>(m_figures.feeds.size());
    m_figures.feeds.push_back(std::make_unique<MultiFeed>(solved.block, ohms, std::move(sources)));
    for (Path& path : solved.paths) {
        path.device = {};
    }
}

/// One device protects the whole block: each section is judged where its loop is highest.
void FigureMaker::fill_looped_sections(const SolvedBlock& solved, const BlockNetwork& network) {
    const Path& trunk = solved.trunk;
    const Source* source = source_at(trunk.infeed);
    const bool has_zs = source != nullptr && source->has_ze && !source->is_tt;
    const std::vector<Along> line = network.along(Conductor::line, {});
    const std::vector<Along> earth = network.along(Conductor::earth, {});
    for (std::size_t s = 0; s < solved.block.sections.size(); ++s) {
        const Block::Section& of_block = solved.block.sections[s];
        const Path& a = solved.paths[of_block.a];
        const Path& b = solved.paths[of_block.b];
        SectionFigures& section = m_figures.sections[of_block.id.index()];
        section.infeed = trunk.infeed;
        section.is_on_path = true;
        section.is_feed_unclear = is_feed_unclear(a, solved.block.vertices[of_block.a]);
        section.device = trunk.device;
        section.way = trunk.way;
        section.earth = std::max({a.earth, b.earth, network.ohms(s).earth});
        section.has_zs = has_zs;
        if (source != nullptr) {
            fill_looped_heat(section, a, b, *source);
        }
        if (!has_zs) {
            continue;
        }
        if (trunk.fed_at.is_valid()) {
            fill_behind_feed(section, of_block.id, trunk, line[s], earth[s]);
            continue;
        }
        if (section.earth != EarthPathState::broken) {
            const auto low = [&](const Path& p) {
                return loop_impedance(*source, source->ze.low, hot_loop(p.z.hot_low));
            };
            section.zs_low = std::max(low(a), low(b));
        }
        if (section.earth == EarthPathState::intact) {
            const auto high = [&](double share) {
                return loop_impedance(*source, source->ze.high,
                                      hot_loop(trunk.z.hot_high) + line[s].at(share) +
                                          earth[s].at(share));
            };
            const double place = highest_at([&](double share) { return high(share).value(); });
            section.zs_high = high(place);
            const bool single_valued = source->ze.low == source->ze.high &&
                                       hot_loop(a.z.hot_low) == hot_loop(a.z.hot_high) &&
                                       hot_loop(b.z.hot_low) == hot_loop(b.z.hot_high);
            if (single_valued && network.is_complete()) {
                section.zs_low = section.zs_high;
            }
        }
    }
}

/// A section of a loop carries a part of the fault's current, at most that of its nearer end: what
/// it survives is sure then, what it does not is left open.
void FigureMaker::fill_looped_heat(SectionFigures& section, const Path& a, const Path& b,
                                   const Source& source) const {
    const bool a_is_nearer = std::abs(hot_loop(a.z.hot_low)) < std::abs(hot_loop(b.z.hot_low));
    fill_for_heat(section, a_is_nearer ? b : a, source, phases_at(a.infeed), m_rules.cmax);
    const LargestCurrents nearer =
        largest_currents(a_is_nearer ? a : b, source, phases_at(a.infeed), m_rules.cmax);
    section.largest.earth_high = nearer.earth_high;
    section.largest.neutral_high = nearer.neutral_high;
    section.largest.any_high = nearer.any_high;
    section.largest.earth_low = section.largest.neutral_low = section.largest.any_low = {};
}

/// The block hangs behind one that several devices feed: its highest place is in series with that.
void FigureMaker::fill_behind_feed(SectionFigures& section, base::SectionId id, const Path& trunk,
                                   const Along& line, const Along& earth) {
    const auto loop = [&](double share) { return line.at(share) + earth.at(share); };
    const double place = highest_at([&](double share) { return std::abs(loop(share)); });
    FedPoint point = fed_point(trunk);
    point.point.beyond_high += loop(place);
    point.point.beyond_earth = section.earth;
    section.is_multi_fed = true;
    const MultiFeed::Loop seen = m_figures.feeds[point.feed]->loop({}, point.point);
    section.zs_low = seen.zs_low;
    section.zs_high = seen.zs_high;
    m_figures.fed_sections.emplace(id, point);
}

/// Several devices: the places are kept, and judged with the devices' curves
/// (clearing_sequence.cpp).
void FigureMaker::fill_fed_sections(const SolvedBlock& solved) {
    const MultiFeed& feed = *m_figures.feeds[solved.feed];
    for (std::uint32_t s = 0; s < solved.block.sections.size(); ++s) {
        const Block::Section& of_block = solved.block.sections[s];
        const Path& a = solved.paths[of_block.a];
        FedPoint point{solved.feed, {}};
        point.point.vertex = of_block.a;
        point.point.section = s;
        point.point.share = feed.highest_along(s);
        point.point.beyond_low = hot_loop(solved.trunk.z.hot_low);
        point.point.beyond_high = hot_loop(solved.trunk.z.hot_high);
        point.point.beyond_earth = solved.trunk.earth;
        SectionFigures& section = m_figures.sections[of_block.id.index()];
        const Source* source = source_at(a.infeed);
        section.infeed = a.infeed;
        section.is_on_path = true;
        section.is_feed_unclear = is_feed_unclear(a, solved.block.vertices[of_block.a]);
        section.is_multi_fed = true;
        section.way = a.way;
        section.has_zs = source != nullptr && source->has_ze && !source->is_tt;
        if (section.has_zs) {
            const MultiFeed::Loop loop = feed.loop({}, point.point);
            section.earth = loop.earth;
            section.zs_low = loop.zs_low;
            section.zs_high = loop.zs_high;
        }
        m_figures.fed_sections.emplace(of_block.id, point);
    }
}

/// Place of a path's end as the block's feed sees it: what lies before the block and behind it is
/// in series.
FedPoint FigureMaker::fed_point(const Path& path) const {
    const VertexId v = path.exit_at;
    const Path& entry = m_at[m_position[v.index()]];
    const SolvedBlock& solved = m_blocks[m_finder.block_of(v)];
    FedPoint result{solved.feed, {}};
    result.point.vertex = m_finder.local(v);
    const auto beyond = [&](Conductors Impedances::*bound) {
        return hot_loop(path.z.*bound) - hot_loop(entry.z.*bound) + hot_loop(solved.trunk.z.*bound);
    };
    result.point.beyond_low = beyond(&Impedances::hot_low);
    result.point.beyond_high = beyond(&Impedances::hot_high);
    result.point.beyond_earth = path.earth > entry.earth ? path.earth : solved.trunk.earth;
    return result;
}

} // namespace loopwalk::figures
