#include "loopwalk/solution/volt_drop.hpp"

#include "convergence.hpp"
#include <algorithm>
#include <cmath>

namespace loopwalk::solution {

namespace {

using Complex = std::complex<double>;

void sum_currents(const RadialCircuit& circuit, RadialSolution& solution) {
    for (std::size_t i = 0; i < circuit.power.size(); ++i) {
        solution.current[i] = std::conj(circuit.power[i] / solution.voltage[i]);
    }
    for (std::size_t i = circuit.power.size(); i-- > 1;) {
        solution.current[circuit.parent[i]] += solution.current[i];
    }
}

void drop_voltages(const RadialCircuit& circuit, RadialSolution& solution,
                   Convergence& convergence) {
    for (std::size_t i = 1; i < circuit.power.size(); ++i) {
        const Complex next =
            solution.voltage[circuit.parent[i]] - circuit.impedance[i] * solution.current[i];
        convergence.note(std::abs(next - solution.voltage[i]));
        solution.voltage[i] = next;
    }
}

} // namespace

void RadialCircuit::clear() {
    parent.clear();
    impedance.clear();
    power.clear();
}

void RadialCircuit::add(std::uint32_t parent_position, Complex ohms, Complex va) {
    parent.push_back(parent_position);
    impedance.push_back(ohms);
    power.push_back(va);
}

std::optional<RadialSolution> solve_radial(const RadialCircuit& circuit, double u0) {
    RadialSolution solution;
    solution.voltage.assign(circuit.power.size(), Complex(u0, 0.0));
    solution.current.resize(circuit.power.size());
    Convergence convergence(u0);
    while (true) {
        sum_currents(circuit, solution);
        drop_voltages(circuit, solution, convergence);
        switch (convergence.look()) {
        case Convergence::State::reached:
            sum_currents(circuit, solution);
            return solution;
        case Convergence::State::failed:
            return std::nullopt;
        case Convergence::State::going_on:
            break;
        }
    }
}

} // namespace loopwalk::solution
