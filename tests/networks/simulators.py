"""Random networks through the whole program against ngspice and scipy.

    simulators.py SEED COUNT LOOPWALK CATALOGUE

Loop impedances, hot, at both bounds, and the largest current of each column against driving-point
impedances that ngspice gives; volt drops against Newton's method (volts.py). What is asked of the
simulator follows docs/method.md sections 3 to 5 and 9.
"""

import math
import os
import sqlite3
import subprocess
import sys
import tempfile

import cable_ohms
import networks
import spice
import volts

CMAX = 1.1
TOLERANCE = 1e-9
AT_ONCE = 48  # networks in one run of the program and one deck


class Nodes:
    """Names of one conductor's nodes: those of `at_reference` are the reference node."""

    def __init__(self, letter, at_reference):
        self.letter, self.at_reference = letter, at_reference

    def __call__(self, node):
        return "0" if node in self.at_reference else "%s%d" % (self.letter, node)


def lay(circuit, network, cables, part, nodes, hot, bound):
    """One conductor of every cable."""
    for edge in network.edges:
        circuit.branch(nodes(edge.a), nodes(edge.b), cable_ohms.ohms(
            cables[edge.cable_type], part, hot, bound, edge.length))


def ask_columns(circuit, network, plus, minus):
    for column in network.columns():
        circuit.point(column, plus(column), minus(column))


def loop(network, cables, supply, bound):
    """Hot line and earth path of every cable from the terminals of one supply."""
    circuit = spice.Circuit()
    line, earth = Nodes("l", [supply]), Nodes("e", [supply])
    lay(circuit, network, cables, "line", line, True, bound)
    lay(circuit, network, cables, "earth", earth, True, bound)
    ask_columns(circuit, network, line, earth)
    return circuit


def strongest(source):
    """Magnitude of the source for the largest current (section 4)."""
    u0, amperes = source["voltage_v"], source["pscc_ka"] * 1000.0
    return (CMAX if source["pscc_basis"] == "declared" else 1.0) * u0 / amperes


def loop_with_sources(network, cables, part, hot, ohms):
    """Line and return with every supply's source, on the line; the returns of all supplies are joined,
    since what lies between them is not on record (section 5). `ohms` gives the source's."""
    circuit = spice.Circuit()
    line, back = Nodes("l", []), Nodes("r", network.supply_nodes())
    lay(circuit, network, cables, "line", line, hot, "low")
    lay(circuit, network, cables, part, back, hot, "low")
    for supply, source in network.supplies.items():
        circuit.branch(line(supply), "0", ohms(source))
    ask_columns(circuit, network, line, back)
    return circuit


def line_with_source(network, cables, angle):
    """One phase of a fault between all three: half the source, since M is of line and return."""
    circuit = spice.Circuit()
    line = Nodes("l", [])
    supply = network.supply_nodes()[0]
    lay(circuit, network, cables, "line", line, False, "low")
    circuit.branch(line(supply), "0", strongest(network.supplies[supply]) / 2.0 * angle)
    ask_columns(circuit, network, line, Nodes("r", network.columns()))
    return circuit


def circuits_of(network, cables):
    """By what they are for: (bound, supply), "low" of all supplies together, or "largest"."""
    several = len(network.supplies) > 1
    circuits = [((bound, supply), loop(network, cables, supply, bound))
                for bound in (("high",) if several else ("low", "high"))
                for supply in network.supply_nodes()]
    if several:
        circuits.append(("low", loop_with_sources(network, cables, "earth", True, ohms_of)))
    for angle in (1.0, 1j):
        circuits += [("largest", loop_with_sources(
            network, cables, part, False, lambda source, angle=angle: strongest(source) * angle))
            for part in ("earth", "neutral")]
        if network.phases == 3:
            circuits.append(("largest", line_with_source(network, cables, angle)))
    return circuits


def ohms_of(source):
    if "ze_r_ohm" in source:
        return complex(source["ze_r_ohm"], source["ze_x_ohm"])
    return complex(source["ze_ohm"])


def with_source(source, z):
    """Section 4: a magnitude is added to the magnitude, R and X as complex."""
    return abs(ohms_of(source) + z) if "ze_r_ohm" in source else source["ze_ohm"] + abs(z)


def expected_by_simulator(all_networks, cables, folder):
    """A dictionary from column ids to the fields that ngspice gives."""
    asked = [(n, what, circuit) for n in all_networks for what, circuit in circuits_of(n, cables)]
    answers = spice.impedances([circuit for _, _, circuit in asked], folder)
    expected = {}
    for (network, what, _), answer in zip(asked, answers):
        for column, z in answer.items():
            row = expected.setdefault(network.id_of(column), {})
            if what == "largest":
                u0 = network.supplies[0]["voltage_v"]
                field, value = "lw_pscc_max_ka", CMAX * u0 / abs(z) / 1000.0
            elif what == "low":
                field, value = "lw_zs_low_ohm", abs(z)
            else:
                # The weakest supply by itself gives the smallest current.
                field = "lw_zs_%s_ohm" % what[0]
                value = with_source(network.supplies[what[1]], z)
            row[field] = max(row.get(field, 0.0), value)
    return expected


def add_volt_drops(expected, network, cables):
    """Of circuits with one supply and loads that have one."""
    def hot(part):
        return [(e.a, e.b, cable_ohms.ohms(cables[e.cable_type], part, True, "high", e.length))
                for e in network.edges]
    loads = []
    for column in network.columns():
        watts, factor = network.loads[column]
        reactive = watts * math.sqrt(1.0 / factor ** 2 - 1.0) * (1.0 if factor > 0.0 else -1.0)
        loads.append((column, volts.PHASES.get(network.phase.get(column), 0),
                      complex(watts, reactive)))
    u0 = network.supplies[0]["voltage_v"]
    drops = volts.solve(len(network.nodes), hot("line"), hot("neutral"), loads, u0)
    for (column, _, _), drop in zip(loads, drops):
        row = expected[network.id_of(column)]
        row["lw_vdrop_low_pct"] = row["lw_vdrop_high_pct"] = drop


def check_with_program(program, job, folder):
    """Rows of the result's columns, by id."""
    output = os.path.join(folder, "checked.gpkg")
    subprocess.run([program, "check", job, "-o", output, "--overwrite", "--quiet"], check=True,
                   stdout=subprocess.DEVNULL)
    database = sqlite3.connect(output)
    database.row_factory = sqlite3.Row
    rows = {row["column_id"]: row for row in database.execute("select * from columns")}
    database.close()
    return rows


class Tally:
    """Worst relative difference of each field, and what is beyond the tolerance."""

    def __init__(self):
        self.worst, self.values, self.faults = {}, {}, []

    def add(self, shape, column, field, got, wanted):
        """Differences are of the value itself, of volt drops of U0 (100 %)."""
        size = 100.0 if field.endswith("_pct") else abs(wanted)
        difference = math.inf if got is None else abs(got - wanted) / size
        self.worst[field] = max(self.worst.get(field, 0.0), difference)
        self.values[field] = self.values.get(field, 0) + 1
        if difference > TOLERANCE:
            self.faults.append("%s (%s) %s: %r, expected %r" % (column, shape, field, got, wanted))


def run_some(all_networks, cables, program, tally):
    with tempfile.TemporaryDirectory() as folder:
        rows = check_with_program(program, networks.write_job(all_networks, folder), folder)
        expected = expected_by_simulator(all_networks, cables, folder)
    for network in all_networks:
        if len(network.supplies) == 1:
            add_volt_drops(expected, network, cables)
        for column in network.columns():
            name = network.id_of(column)
            for field, wanted in expected[name].items():
                tally.add(network.shape, name, field, rows[name][field], wanted)


def main(seed, count, program, catalogue):
    cables = cable_ohms.read_cables(catalogue)

    def both(cable_type):
        return sum(cable_ohms.ohms(cables[cable_type], part, True, "high", 1.0)
                   for part in ("line", "neutral"))
    made = networks.make_networks(seed, count, cable_ohms.circuit_types(cables), both)
    tally = Tally()
    for first in range(0, count, AT_ONCE):
        run_some(made[first:first + AT_ONCE], cables, program, tally)
    loops = [len(n.edges) - len(n.nodes) + 1 for n in made]
    print("seed %s: %d networks, %d columns, up to %d loops" % (
        seed, count, sum(len(n.columns()) for n in made), max(loops)))
    for field, worst in sorted(tally.worst.items()):
        print("  %-18s %6d values, worst relative difference %.1e"
              % (field, tally.values[field], worst))
    if tally.faults:
        sys.exit("\n".join(["%d differ:" % len(tally.faults)] + tally.faults[:20]))


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), sys.argv[3], sys.argv[4])
