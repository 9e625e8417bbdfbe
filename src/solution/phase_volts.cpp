#include "loopwalk/solution/phase_volts.hpp"

#include "loopwalk/base/disjoint_sets.hpp"

#include "convergence.hpp"
#include <cmath>
#include <numbers>

namespace loopwalk::solution {
namespace {

using Complex = std::complex<double>;

Complex phase_angle(std::uint32_t phase) {
    return std::polar(1.0, -2.0 * std::numbers::pi / 3.0 * static_cast<double>(phase));
}

Complex voltage(const PhaseSolution& s, std::uint32_t node, std::uint32_t phase) {
    return s.u0 * phase_angle(phase) - s.line.at(phase)[node] - s.neutral[node];
}

} // namespace

DropNetwork::DropNetwork(std::uint32_t nodes, std::vector<Branch> branches,
                         const std::vector<std::uint32_t>& held)
    : m_branches(std::move(branches)) {
    base::DisjointSets joined(nodes);
    for (const Branch& branch : m_branches) {
        if (branch.ohms == Complex()) {
            joined.join(branch.a, branch.b);
        }
    }
    base::DisjointSets::Numbered numbered = joined.numbered();
    m_node_of = std::move(numbered.set_of);
    m_net.emplace(numbered.sets);
    for (const Branch& branch : m_branches) {
        if (branch.ohms != Complex()) {
            m_net->connect(m_node_of[branch.a], m_node_of[branch.b], branch.ohms);
        }
    }
    for (const std::uint32_t node : held) {
        m_net->hold(m_node_of[node]);
    }
    m_net->solve();
}

std::vector<Complex> DropNetwork::drops(const std::vector<Complex>& currents) const {
    std::vector<Complex> at_node(m_net->size());
    for (std::size_t i = 0; i < m_node_of.size(); ++i) {
        at_node[m_node_of[i]] += currents[i];
    }
    m_net->potentials(at_node);
    std::vector<Complex> result(m_node_of.size());
    for (std::size_t i = 0; i < m_node_of.size(); ++i) {
        result[i] = at_node[m_node_of[i]];
    }
    return result;
}

Complex DropNetwork::current(std::size_t branch, const std::vector<Complex>& drops) const {
    const Branch& b = m_branches[branch];
    return b.ohms == Complex() ? Complex() : (drops[b.b] - drops[b.a]) / b.ohms;
}

double PhaseSolution::volts(std::uint32_t node, std::uint32_t phase) const {
    return std::abs(voltage(*this, node, phase));
}

std::optional<PhaseSolution> solve_phases(const DropNetwork& line, const DropNetwork& neutral,
                                          const std::vector<PhaseLoad>& loads, double u0) {
    PhaseSolution s;
    s.u0 = u0;
    s.line.fill(std::vector<Complex>(line.size()));
    s.neutral.assign(line.size(), {});
    std::array<bool, 3> used{};
    for (const PhaseLoad& load : loads) {
        used.at(load.phase) = true;
    }
    std::vector<Complex> last(loads.size());
    for (std::size_t l = 0; l < loads.size(); ++l) {
        last[l] = voltage(s, loads[l].node, loads[l].phase);
    }
    Convergence convergence(u0);
    while (true) {
        std::array<std::vector<Complex>, 3> drawn;
        drawn.fill(std::vector<Complex>(line.size()));
        std::vector<Complex> returned(line.size());
        for (std::size_t l = 0; l < loads.size(); ++l) {
            const Complex amperes = std::conj(loads[l].va / last[l]);
            drawn.at(loads[l].phase)[loads[l].node] += amperes;
            returned[loads[l].node] += amperes;
        }
        for (std::size_t p = 0; p < used.size(); ++p) {
            if (used.at(p)) {
                s.line.at(p) = line.drops(drawn.at(p));
            }
        }
        s.neutral = neutral.drops(returned);
        for (std::size_t l = 0; l < loads.size(); ++l) {
            const Complex now = voltage(s, loads[l].node, loads[l].phase);
            convergence.note(std::abs(now - last[l]));
            last[l] = now;
        }
        switch (convergence.look()) {
        case Convergence::State::reached:
            return s;
        case Convergence::State::failed:
            return std::nullopt;
        case Convergence::State::going_on:
            break;
        }
    }
}

} // namespace loopwalk::solution
