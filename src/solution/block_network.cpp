#include "loopwalk/solution/block_network.hpp"

#include "loopwalk/base/disjoint_sets.hpp"
#include "loopwalk/base/error.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace loopwalk::solution {

using impedance::Conductors;

namespace {

constexpr Complex kNothing{};

bool is_open(const Switching& switching, std::size_t link) {
    return !switching.open.empty() && switching.open[link] != 0;
}

bool feeds(const Switching& switching, std::size_t terminal) {
    return switching.off.empty() || switching.off[terminal] == 0;
}

Complex pick(const Conductors& c, Conductor conductor) {
    switch (conductor) {
    case Conductor::line:
        return c.line;
    case Conductor::earth:
        return c.earth;
    case Conductor::neutral:
        return c.neutral;
    }
    throw base::InternalError("conductor out of range");
}

Presence of_state(EarthPathState state) {
    switch (state) {
    case EarthPathState::intact:
        return Presence::yes;
    case EarthPathState::unknown:
        return Presence::unknown;
    case EarthPathState::broken:
        return Presence::no;
    }
    throw base::InternalError("earth path state out of range");
}

} // namespace

Complex Along::at(double share) const {
    const double rest = 1.0 - share;
    const Complex z =
        rest * rest * at_a + share * share * at_b + share * rest * (2.0 * between + whole);
    return is_bound ? Complex(z.real() * re_share, z.real() * im_share) : z;
}

struct BlockNetwork::Solved {
    NodalNetwork net;
    std::vector<std::uint32_t> node_of; ///< by local vertex
};

/// How the high bound of a conductor is found: an exact solution, or the bound of a range of
/// records by turning every impedance by `turn` and looking at what then is its real part.
struct BlockNetwork::Problem {
    bool is_range = false;
    double turn = 0.0;     ///< radians
    double re_share = 1.0; ///< cosine of the smallest angle that any impedance can have
    double im_share = 1.0; ///< sine of the largest
};

BlockNetwork::BlockNetwork(const Block& block, std::vector<PieceOhms> ohms)
    : m_block(block), m_ohms(std::move(ohms)) {
    LW_ASSERT(m_ohms.size() == block.sections.size());
    m_is_complete = std::ranges::all_of(m_ohms, [](const PieceOhms& o) { return o.is_complete; });
}

BlockNetwork::Box BlockNetwork::box(std::size_t section, Conductor conductor,
                                    Condition condition) const {
    const Impedances& z = m_ohms[section].z;
    const bool hot = condition == Condition::hot;
    return {pick(hot ? z.hot_low : z.cold_low, conductor),
            pick(hot ? z.hot_high : z.cold_high, conductor)};
}

Presence BlockNetwork::presence(std::size_t section, Conductor conductor) const {
    switch (conductor) {
    case Conductor::line:
        return Presence::yes;
    case Conductor::earth:
        return of_state(m_ohms[section].earth);
    case Conductor::neutral:
        return m_ohms[section].neutral;
    }
    throw base::InternalError("conductor out of range");
}

/// `ohms_of` gives the impedance of a section or nothing where it does not conduct, and passes on
/// that of a source. Fuses open the line only: the earth and the neutral stay joined.
template <class Ohms>
BlockNetwork::Solved BlockNetwork::solve(Conductor conductor, const Switching& switching,
                                         Ohms ohms_of) const {
    const bool has_sources = conductor == Conductor::line && !switching.source.empty();
    const auto ground = static_cast<LocalVertex>(m_block.vertices.size());
    base::DisjointSets joined(m_block.vertices.size() + 1);
    for (std::size_t l = 0; l < m_block.links.size(); ++l) {
        if (conductor != Conductor::line || !is_open(switching, l)) {
            joined.join(m_block.links[l].a, m_block.links[l].b);
        }
    }
    std::vector<std::optional<Complex>> ohms(m_ohms.size());
    for (std::size_t s = 0; s < m_ohms.size(); ++s) {
        ohms[s] = ohms_of.section(s);
        if (ohms[s] == kNothing) {
            joined.join(m_block.sections[s].a, m_block.sections[s].b);
        }
    }
    std::vector<Complex> sources(m_block.terminals.size());
    for (std::size_t t = 0; t < m_block.terminals.size(); ++t) {
        sources[t] = has_sources ? ohms_of.source(switching.source[t]) : Complex();
        if (feeds(switching, t) && sources[t] == kNothing) {
            joined.join(m_block.terminals[t].vertex, ground);
        }
    }
    auto [node_of, count] = joined.numbered();
    NodalNetwork net(count);
    net.hold(node_of[ground]);
    for (std::size_t s = 0; s < m_ohms.size(); ++s) {
        if (ohms[s].has_value() && *ohms[s] != kNothing) {
            net.connect(node_of[m_block.sections[s].a], node_of[m_block.sections[s].b], *ohms[s]);
        }
    }
    for (std::size_t t = 0; t < m_block.terminals.size(); ++t) {
        if (feeds(switching, t) && sources[t] != kNothing) {
            net.connect(node_of[m_block.terminals[t].vertex], node_of[ground], sources[t]);
        }
    }
    net.solve();
    return {std::move(net), std::move(node_of)};
}

namespace {

/// Takes one number from the range of each section.
template <class Box, class Value>
struct Take {
    Box box;     ///< section -> its range, or nothing
    Value value; ///< range -> impedance
    std::optional<Complex> section(std::size_t s) const {
        const auto range = box(s);
        return range.has_value() ? std::optional(value(range->first, range->second)) : std::nullopt;
    }
    Complex source(Complex ohms) const { return value(ohms, ohms); }
};

template <class Box, class Value>
Take(Box, Value) -> Take<Box, Value>;

/// Largest |z|^2 / Re(z*e^(-j*turn)) over a box: convex in r and x, so largest at a corner.
double turned(Complex low, Complex high, double turn) {
    double largest = 0.0;
    for (const Complex z :
         {low, high, Complex(low.real(), high.imag()), Complex(high.real(), low.imag())}) {
        const double real = z.real() * std::cos(turn) + z.imag() * std::sin(turn);
        largest = real > 0.0 ? std::max(largest, std::norm(z) / real) : largest;
    }
    return largest;
}

} // namespace

BlockNetwork::Problem BlockNetwork::problem(Conductor conductor, Condition condition) const {
    Problem p;
    double lowest = std::numbers::pi / 2.0;
    double highest = 0.0;
    bool differs = false;
    for (std::size_t s = 0; s < m_ohms.size(); ++s) {
        const Box range = box(s, conductor, condition);
        differs = differs || range.low != range.high;
        if (range.high != kNothing) {
            lowest = std::min(lowest, std::atan2(range.low.imag(), range.high.real()));
            highest = std::max(highest, std::atan2(range.high.imag(), range.low.real()));
        }
    }
    p.is_range = differs && !m_is_complete;
    p.turn = (lowest + highest) / 2.0;
    p.re_share = std::cos(lowest);
    p.im_share = std::sin(highest);
    return p;
}

/// With currents i_e of one ampere put in, Re(Z*e^(-j*t)) = sum(Re(z_e*e^(-j*t))*|i_e|^2) is no
/// less than the resistance of the network of those real parts (Thomson's principle), and by the
/// dual (Dirichlet's) Re(Y*e^(j*t)) is no less than the conductance of the network of the
/// admittances' real parts, so |Z| is at most the resistance of the network of
/// |z|^2/Re(z*e^(-j*t)). Both networks are resistive, and their resistance rises with that of every
/// branch.
BlockNetwork::Solved BlockNetwork::solve_high(Conductor conductor, Condition condition,
                                              const Switching& switching, const Problem& p) const {
    const auto range = [&](std::size_t s) -> std::optional<std::pair<Complex, Complex>> {
        const Box b = box(s, conductor, condition);
        return presence(s, conductor) == Presence::yes ? std::optional(std::pair(b.low, b.high))
                                                       : std::nullopt;
    };
    if (!p.is_range) {
        return solve(conductor, switching, Take{range, [](Complex, Complex high) { return high; }});
    }
    return solve(conductor, switching, Take{range, [&p](Complex low, Complex high) {
                                                return Complex(turned(low, high, p.turn));
                                            }});
}

Driving BlockNetwork::drive(Conductor conductor, Condition condition,
                            const Switching& switching) const {
    Problem p = problem(conductor, condition);
    if (p.is_range && conductor == Conductor::line && !switching.source.empty()) {
        p.re_share = p.im_share = 1.0; // a source may have any angle
    }
    const auto range = [&](std::size_t s) -> std::optional<std::pair<Complex, Complex>> {
        const Box b = box(s, conductor, condition);
        return presence(s, conductor) != Presence::no ? std::optional(std::pair(b.low, b.high))
                                                      : std::nullopt;
    };
    const auto lower = [&](auto value) { return solve(conductor, switching, Take{range, value}); };
    const Solved high = solve_high(conductor, condition, switching, p);
    const auto low_part = [&p](Complex low, Complex) { return p.is_range ? low.real() : low; };
    const Solved low = lower([&](Complex l, Complex h) { return Complex(low_part(l, h)); });
    std::optional<Solved> low_imag;
    if (p.is_range) {
        low_imag = lower([](Complex l, Complex) { return Complex(l.imag()); });
    }
    const std::size_t count = m_block.vertices.size();
    Driving result{std::vector<Complex>(count), std::vector<Complex>(count),
                   std::vector<std::uint8_t>(count), std::vector<std::uint8_t>(count)};
    for (LocalVertex v = 0; v < count; ++v) {
        if (low.net.is_held_up(low.node_of[v])) {
            result.possible[v] = 1;
            result.low[v] = low.net.driving_point(low.node_of[v]);
            if (low_imag.has_value()) {
                result.low[v].imag(low_imag->net.driving_point(low_imag->node_of[v]).real());
            }
        }
        if (high.net.is_held_up(high.node_of[v])) {
            result.sure[v] = 1;
            const Complex z = high.net.driving_point(high.node_of[v]);
            result.high[v] = p.is_range ? Complex(z.real() * p.re_share, z.real() * p.im_share) : z;
        }
    }
    return result;
}

std::vector<Along> BlockNetwork::along(Conductor conductor, const Switching& switching) const {
    const Problem p = problem(conductor, Condition::hot);
    const Solved solved = solve_high(conductor, Condition::hot, switching, p);
    std::vector<Along> result(m_ohms.size());
    for (std::size_t s = 0; s < m_ohms.size(); ++s) {
        const std::uint32_t a = solved.node_of[m_block.sections[s].a];
        const std::uint32_t b = solved.node_of[m_block.sections[s].b];
        if (presence(s, conductor) != Presence::yes || !solved.net.is_held_up(a)) {
            continue;
        }
        const Box range = box(s, conductor, Condition::hot);
        result[s] = {solved.net.driving_point(a),
                     solved.net.driving_point(b),
                     solved.net.transfer(a, b),
                     p.is_range ? Complex(turned(range.low, range.high, p.turn)) : range.high,
                     p.re_share,
                     p.im_share,
                     p.is_range};
    }
    return result;
}

/// By reciprocity the current through a link per ampere taken out at a vertex is the potential of
/// that vertex with one volt put into the link.
std::vector<std::vector<Complex>> BlockNetwork::shares(const Switching& switching) const {
    LW_ASSERT(m_is_complete);
    const auto range = [&](std::size_t s) {
        const Box b = box(s, Conductor::line, Condition::hot);
        return std::optional(std::pair(b.low, b.high));
    };
    const Solved solved =
        solve(Conductor::line, switching, Take{range, [](Complex, Complex high) { return high; }});
    std::vector<std::vector<Complex>> result(m_block.links.size());
    for (std::size_t l = 0; l < m_block.links.size(); ++l) {
        std::vector<Complex>& share = result[l];
        share.assign(m_block.vertices.size(), {});
        if (is_open(switching, l)) {
            continue;
        }
        base::DisjointSets joined(m_block.vertices.size());
        for (std::size_t other = 0; other < m_block.links.size(); ++other) {
            if (other != l && !is_open(switching, other)) {
                joined.join(m_block.links[other].a, m_block.links[other].b);
            }
        }
        const LocalVertex raised = joined.find(m_block.links[l].b);
        const auto is_raised = [&](LocalVertex v) { return joined.find(v) == raised; };
        const std::uint32_t base = solved.node_of[m_block.links[l].b];
        std::vector<Complex> volts(*std::ranges::max_element(solved.node_of) + 1U);
        for (std::size_t s = 0; s < m_ohms.size(); ++s) {
            const Block::Section& section = m_block.sections[s];
            if (is_raised(section.a) != is_raised(section.b)) {
                const LocalVertex other = is_raised(section.a) ? section.b : section.a;
                const Complex amperes = 1.0 / box(s, Conductor::line, Condition::hot).high;
                volts[base] -= amperes;
                volts[solved.node_of[other]] += amperes;
            }
        }
        solved.net.potentials(volts);
        for (LocalVertex v = 0; v < share.size(); ++v) {
            share[v] = volts[solved.node_of[v]] + (is_raised(v) ? 1.0 : 0.0);
        }
    }
    return result;
}

} // namespace loopwalk::solution
