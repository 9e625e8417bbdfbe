"""Random towns through the whole program against nodal equations solved by numpy.

    mains.py SEED COUNT LOOPWALK CATALOGUE

What each record leaves out follows docs/method.md, sections 4 ("Modelled sources"), 7 and 12: from the
transformer over the main where there is one, else the usual maximum. Mains and lighting are solved as
networks of their own, conductor by conductor, and put in series.
"""

import collections
import csv
import math
import os
import sys
import tempfile

import networkx
import numpy

import cable_ohms
import networks
import towns
from simulators import CMAX, Tally, check_with_program

CMIN = 0.95
SERVICE_KA = 16.0
MOST_ZE = {"TN-C-S": 0.35, "TN-S": 0.8}
AT_ONCE = 100

# Where a figure of a source holds: `ohms` at the terminals of a supply, or at the substation with the main in
# between: then `main` is the main's node.
Figure = collections.namedtuple("Figure", "ohms main")


def driving_points(edges, source, cables, part, hot, bound):
    """Impedance between the source and each node that it reaches along one conductor."""
    graph = networkx.Graph((e.a, e.b) for e in edges)
    graph.add_node(source)
    nodes = sorted(networkx.node_connected_component(graph, source) - {source})
    at = {node: n for n, node in enumerate(nodes)}
    matrix = numpy.zeros((len(nodes), len(nodes)), complex)
    for edge in edges:
        if edge.a == edge.b or not {edge.a, edge.b} <= set(nodes) | {source}:
            continue
        siemens = 1.0 / cable_ohms.ohms(cables[edge.cable_type], part, hot, bound, edge.length)
        for a, b in ((edge.a, edge.b), (edge.b, edge.a)):
            if a in at:
                matrix[at[a], at[a]] += siemens
                if b in at:
                    matrix[at[a], at[b]] -= siemens
    inverse = numpy.linalg.inv(matrix) if nodes else matrix
    return {source: 0j, **{node: inverse[n, n] for node, n in at.items()}}


class Paths:
    """Ohms of line, earth and neutral from one source to each node."""

    def __init__(self, edges, source, cables):
        self.of = {(part, hot, bound): driving_points(edges, source, cables, part, hot, bound)
                   for part in ("line", "earth", "neutral") for hot in (True, False)
                   for bound in ("low", "high")}

    def __call__(self, node, part, hot, bound):
        return self.of[part, hot, bound][node]

    def loop(self, node, back, hot, bound):
        return self(node, "line", hot, bound) + self(node, back, hot, bound)


def transformer_ohms(record):
    """|Z|, and R + jX where R is known; None where the record is not enough."""
    if "transformer_kva" not in record or "transformer_z_pct" not in record:
        return None
    base = 3.0 * record["voltage_v"] ** 2 / (record["transformer_kva"] * 1000.0)
    z = record["transformer_z_pct"] / 100.0 * base
    if "transformer_r_pct" not in record:
        return z
    r = record["transformer_r_pct"] / 100.0 * base
    return complex(r, math.sqrt(z * z - r * r))


def recorded_ze(record):
    """A complex source, a magnitude, or None."""
    if "ze_r_ohm" in record and "ze_x_ohm" in record:
        return complex(record["ze_r_ohm"], record["ze_x_ohm"])
    if "ze_ohm" in record:
        return record["ze_ohm"]
    return None if record["earthing"] == "TT" else transformer_ohms(record)


def is_measured(record):
    """Not where the figure is the transformer's."""
    return record.get("ze_basis") == "measured" and (
        "ze_ohm" in record or "ze_r_ohm" in record and "ze_x_ohm" in record)


def recorded_strongest(record):
    """(M of a loop, M of one phase of a three-phase fault) or None."""
    factor = 1.0 if record.get("pscc_basis") == "measured" else CMAX

    def of(kiloamperes):
        return factor * record["voltage_v"] / (kiloamperes * 1000.0)
    phase = of(record["pscc3_ka"]) if "pscc3_ka" in record else None
    if "pscc_ka" in record:
        loop = of(record["pscc_ka"])
        return loop, phase or loop / 2.0
    if phase:
        return phase, phase
    z = transformer_ohms(record)
    return None if z is None else (abs(z), abs(z))


class Source:
    """A source as the town's records and its main describe it; None where nothing bounds a figure."""

    def __init__(self, town, node, substation):
        record = town.records.get(node)
        given = town.records[substation] if substation is not None else None
        self.record = record or given
        self.is_tt = self.record is not None and self.record["earthing"] == "TT"
        self.phases = record["phases"] if record else 1
        main = node if given else None
        self.ze_low, self.ze_high, self.strongest, self.measured = None, None, None, False
        ze = recorded_ze(record) if record else None
        strongest = recorded_strongest(record) if record else None
        self.substation = substation
        if strongest:
            self.strongest = Figure(strongest, None)
        elif given:
            self.strongest = Figure(recorded_strongest(given), main)
        elif record:
            m = CMAX * record["voltage_v"] / (SERVICE_KA * 1000.0)
            self.strongest = Figure((m, m / 2.0), None)
        if ze is not None:
            self.ze_low = self.ze_high = Figure(ze, None)
            self.measured = is_measured(record)
        elif given and not self.is_tt:
            self.ze_low = self.ze_high = Figure(recorded_ze(given), main)
            self.measured = is_measured(given)
        elif record and record["earthing"] in MOST_ZE:
            most = MOST_ZE[record["earthing"]]
            self.ze_low = Figure(min(self.strongest.ohms[0], most), None)
            self.ze_high = Figure(most, None)


def plus(ze, z):
    """A magnitude is added to the magnitude, R and X as complex."""
    return abs(ze + z) if isinstance(ze, complex) else ze + abs(z)


def lesser(m, z):
    return min(abs(z + m), abs(z + 1j * m))


def substation_of(town, node):
    """The one whose transformer is recorded, where no other feeds the same main."""
    graph = networkx.Graph((e.a, e.b) for e in town.mains)
    if node not in graph:
        return None
    feeding = [s for s in town.substations() if s in networkx.node_connected_component(graph, node)]
    if len(feeding) != 1 or feeding[0] == node or transformer_ohms(
            town.records[feeding[0]]) is None:
        return None
    return feeding[0]


class Expected:
    """Rows of the columns behind one source."""

    def __init__(self, town, node, cables, curves):
        self.town, self.node, self.curves = town, node, curves
        nodes, numbers = town.behind[node]
        self.edges = [town.edges[n] for n in numbers]
        self.columns = [n for n in nodes if town.nodes[n] == "column"]
        self.source = Source(town, node, substation_of(town, node))
        self.paths = Paths(self.edges, node, cables)
        self.main = Paths(town.mains, self.source.substation, cables) \
            if self.source.substation is not None else None
        self.is_tree = len(self.edges) == len(nodes) - 1
        self.to_root = networkx.bfs_tree(
            networkx.Graph((e.a, e.b) for e in self.edges), node) if self.is_tree else None

    def total(self, figure, column, back, hot, bound):
        """Line and return from where the figure holds."""
        z = self.paths.loop(column, back, hot, bound)
        return z if figure.main is None else z + self.main.loop(figure.main, back, hot, bound)

    def largest(self, column):
        figure = self.source.strongest
        loops = [lesser(figure.ohms[0], self.total(figure, column, back, False, "low"))
                 for back in (("neutral",) if self.source.is_tt else ("neutral", "earth"))]
        if self.source.phases == 3:
            line = self.paths(column, "line", False, "low")
            if figure.main is not None:
                line += self.main(figure.main, "line", False, "low")
            loops.append(lesser(figure.ohms[1], line))
        return CMAX * self.source.record["voltage_v"] / min(loops) / 1000.0

    def row(self, column):
        town, source = self.town, self.source
        row = {"lw_supply_id": town.id_of(self.node) if self.node in town.records else None,
               "lw_substation_id": None if source.substation is None else
               town.id_of(source.substation)}
        if source.strongest is not None:
            row["lw_pscc_max_ka"] = self.largest(column)
        if source.is_tt:
            return row
        row.update(self.loops(column) if source.ze_high is not None else
                   {"lw_zs_high_ohm": None, "lw_ief_min_a": None, "lw_in_clear_s": None})
        if self.is_tree:
            row.update(self.feed(column))
            if row["lw_zs_high_ohm"] is not None:
                row["lw_in_clear_s"] = self.time(column, row["lw_ief_min_a"])
        return row

    def loops(self, column):
        source = self.source
        low, high = (plus(figure.ohms, self.total(figure, column, "earth", True, bound))
                     for figure, bound in ((source.ze_low, "low"), (source.ze_high, "high")))
        row = {"lw_zs_low_ohm": low, "lw_zs_high_ohm": high,
               "lw_ief_min_a": CMIN * source.record["voltage_v"] / high}
        row.update(self.reading_band(column))
        return row

    def reading_band(self, column):
        """Where both figures of the source hold at one place."""
        source = self.source
        if source.ze_high.main != source.strongest.main:
            return {"lw_zs_20c_low_ohm": None, "lw_zs_20c_high_ohm": None}
        least = abs(source.ze_low.ohms)
        if not source.measured:
            least = min(least, source.strongest.ohms[0])
        cold = [self.total(source.ze_high, column, "earth", False, b) for b in ("low", "high")]
        return {"lw_zs_20c_low_ohm": lesser(least, cold[0]),
                "lw_zs_20c_high_ohm": plus(source.ze_high.ohms, cold[1])}

    def way_to(self, column):
        """Pairs (node, cable leaving it) from the source on."""
        path = networkx.shortest_path(self.to_root, self.node, column)
        numbers = self.town.behind[self.node][1]
        return [(a, next(n for n in numbers
                         if {self.town.edges[n].a, self.town.edges[n].b} == {a, b}))
                for a, b in zip(path, path[1:])]

    def feed(self, column):
        before = [self.town.nodes[n] for n, _ in self.way_to(column)]
        record = self.town.records.get(self.node)
        is_pillar = record is not None and record["kind"] == "pillar"
        return {"lw_feed": "pillar" if is_pillar else "column" if "column" in before else "main",
                "lw_hops": before.count("column") + 1}

    def time(self, column, amperes):
        """The least of the times of all devices on the way, where one of them has any."""
        times = []
        for node, cable in self.way_to(column):
            fuse = self.town.fuses.get(node)
            if self.town.edges[cable].a == node:
                fuse = self.town.way_fuses.get(cable, fuse)
            if fuse:
                times.append(slow_time(self.curves[fuse], amperes))
        times = [t for t in times if t is not None]
        return min(times) if times else None


def read_curves(catalogue):
    curves = {}
    with open(os.path.join(catalogue, "curves.csv"), newline="", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            if row["edge"] == "slow":
                curves.setdefault((row["fuse_type"], float(row["rating_a"])), []).append(
                    (float(row["current_a"]), float(row["time_s"])))
    return {key: sorted(points) for key, points in curves.items()}


def slow_time(points, amperes):
    """Section 6: chords on log-log paper; nothing below the table, its shortest time above."""
    if amperes < points[0][0]:
        return None
    for (i1, t1), (i2, t2) in zip(points, points[1:]):
        if amperes <= i2:
            share = math.log(amperes / i1) / math.log(i2 / i1)
            return t1 * (t2 / t1) ** share
    return points[-1][1]


def compare(tally, town, column, row, wanted):
    name = town.id_of(column)
    for field, value in wanted.items():
        if isinstance(value, (str, int)) or value is None:
            tally.words[field] += 1
            if row[field] != value:
                tally.faults.append("%s %s: %r, expected %r" % (name, field, row[field], value))
        else:
            tally.add("town", name, field, row[field], value)


def main(seed, count, program, catalogue):
    cables, curves = cable_ohms.read_cables(catalogue), read_curves(catalogue)
    all_towns = [towns.make_town(seed, number, cables) for number in range(count)]
    tally = Tally()
    tally.words = collections.Counter()
    for first in range(0, count, AT_ONCE):
        some = all_towns[first:first + AT_ONCE]
        with tempfile.TemporaryDirectory() as folder:
            rows = check_with_program(program, networks.write_layers(
                [towns.features_of(n, town) for n, town in enumerate(some)], folder), folder)
        for town in some:
            for node in town.behind:
                expected = Expected(town, node, cables, curves)
                for column in expected.columns:
                    compare(tally, town, column, rows[town.id_of(column)], expected.row(column))
    print("seed %s: %d towns, %d sources" % (seed, count, sum(len(t.behind) for t in all_towns)))
    for field, worst in sorted(tally.worst.items()):
        print("  %-18s %6d values, worst relative difference %.1e"
              % (field, tally.values[field], worst))
    for field, seen in sorted(tally.words.items()):
        print("  %-18s %6d words or blanks" % (field, seen))
    if tally.faults:
        sys.exit("\n".join(["%d differ:" % len(tally.faults)] + tally.faults[:20]))


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), sys.argv[3], sys.argv[4])
