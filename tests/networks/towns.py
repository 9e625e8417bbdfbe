"""Random towns: a distributor's main from a transformer, what hangs on it, and supplies with half a record.

One main with its branches, at times in a ring, at times between two substations; on it services, pillars
and cable ends; beside it supplies of their own. Behind each a small lighting network with fused joints and
section pillars. Cables, mains, ways and joints are recorded completely, supplies are not.
"""

import random

import networks
from networks import Edge, feature, line, point

LAYERS = ("columns", "cables", "supplies", "ways", "joints", "mains")
FUSES = [("BS 88-2", a) for a in (6.0, 10.0, 16.0, 25.0, 32.0, 63.0)] + [
    ("BS 1361", 30.0), ("BS 3036", 15.0), ("BS 3036", 30.0)]
MOST_BEHIND = 7  # nodes behind one source


class Town:
    """nodes: "substation", "supply", "tap" (a cable end on the main), "plain" (of the main alone), "column",
    "joint", "fused", "bare" or "section"."""

    def __init__(self, name):
        self.name = name
        self.nodes, self.edges, self.mains = [], [], []
        self.records, self.labels, self.fuses, self.way_fuses = {}, {}, {}, {}
        self.behind = {}  # of each source: its nodes, itself first; and the numbers of its cables

    def add(self, kind):
        self.nodes.append(kind)
        return len(self.nodes) - 1

    def id_of(self, node):
        return "%s-%s%02d" % (self.name, self.nodes[node][:2].upper(), node)

    def cable_id(self, number):
        return "%s-K%02d" % (self.name, number)

    def substations(self):
        return [n for n, kind in enumerate(self.nodes) if kind == "substation"]

    def on_main(self, node):
        return any(node in (e.a, e.b) for e in self.mains)


def some_of(rng, record, odds):
    return {name: value for name, value in record.items() if rng.random() < odds}


def half_record(rng, kind, voltage):
    """Any part of what may be recorded, none of it included."""
    record = {"kind": kind, "voltage_v": voltage, "phases": rng.choice([1, 1, 3, None]),
              "earthing": rng.choices(["TN-S", "TN-C-S", "TT", None], [4, 4, 1, 1])[0]}
    record.update(some_of(rng, {"ze_basis": rng.choice(["measured", "declared"]),
                                "pscc_basis": rng.choice(["measured", "declared"]),
                                "pscc_ka": 10.0 ** rng.uniform(-0.5, 1.2)}, 0.4))
    if rng.random() < 0.15:
        record["pscc3_ka"] = 10.0 ** rng.uniform(-0.5, 1.3)
    record.update(rng.choices([
        {}, {"ze_ohm": 10.0 ** rng.uniform(-2.0, 0.3)},
        {"ze_r_ohm": 10.0 ** rng.uniform(-2.5, 0.0), "ze_x_ohm": 10.0 ** rng.uniform(-3.0, -0.5)},
        {"ze_r_ohm": 0.1}, {"ze_x_ohm": 0.1}], [5, 3, 2, 1, 1])[0])
    return record


def transformer(rng):
    """Whole, or without the part that makes it a source."""
    whole = {"transformer_kva": rng.choice([100.0, 200.0, 315.0, 500.0, 1000.0]),
             "transformer_z_pct": rng.uniform(3.5, 6.0)}
    if rng.random() < 0.6:
        whole["transformer_r_pct"] = rng.uniform(0.8, 2.5)
    missing = rng.choices([None, "transformer_kva", "transformer_z_pct"], [8, 1, 1])[0]
    whole.pop(missing, None)
    return whole


def substation(rng, voltage):
    record = half_record(rng, "substation", voltage)
    record["earthing"] = rng.choice(["TN-C-S", "TN-S", None])
    if rng.random() < 0.6:  # as most are: the transformer and nothing else
        record = {key: record[key] for key in ("kind", "voltage_v", "phases", "earthing")}
    return {**record, **transformer(rng)}


def lay_main(town, rng, types, voltage):
    first = town.add("substation")
    town.records[first] = substation(rng, voltage)
    for _ in range(rng.randrange(1, 7)):
        parent = len(town.nodes) - 1 if rng.random() < 0.7 else rng.randrange(len(town.nodes))
        node = town.add(rng.choices(["supply", "tap", "plain"], [5, 4, 2])[0])
        town.mains.append(Edge(parent, node, rng.choice(types), 10.0 ** rng.uniform(0.0, 2.6)))
        if town.nodes[node] == "supply":
            town.records[node] = half_record(rng, rng.choice(["service", "pillar"]), voltage)
    count = len(town.nodes)
    if count > 2 and rng.random() < 0.3:
        a, b = sorted(rng.sample(range(count), 2))
        beside = any((e.a, e.b) == (a, b) for e in town.mains)
        town.mains.append(Edge(a, b, rng.choice(types), 10.0 ** rng.uniform(0.0, 2.6),
                               0.08 if beside else 0.0))
    if rng.random() < 0.15:
        second = town.add("substation")
        town.records[second] = substation(rng, voltage)
        town.mains.append(Edge(rng.randrange(count), second, rng.choice(types), 50.0))


def light(town, rng, source, types):
    """A lighting network behind a source: a tree, at times with one loop."""
    nodes, cables = [source], []

    def lay(a, b):
        beside = any({town.edges[n].a, town.edges[n].b} == {a, b} for n in cables)
        cables.append(len(town.edges))
        town.edges.append(Edge(a, b, rng.choice(types), 10.0 ** rng.uniform(0.0, 2.5),
                               0.08 if beside else 0.0))
    for _ in range(rng.randrange(1, MOST_BEHIND)):
        parent = nodes[-1] if rng.random() < 0.6 else rng.choice(nodes)
        nodes.append(town.add(rng.choices(["column", "joint", "fused", "bare", "section"],
                                          [10, 1, 2, 1, 1])[0]))
        lay(parent, nodes[-1])
    if len(nodes) > 2 and rng.random() < 0.25:
        lay(*sorted(rng.sample(nodes, 2)))
    if not any(town.nodes[n] == "column" for n in nodes):
        town.nodes[nodes[-1]] = "column"
    town.behind[source] = (nodes, cables)
    label_cables(town, rng, source)
    for node in nodes:
        kind = town.nodes[node]
        if kind in ("fused", "section") or node == source and kind in ("supply", "substation"):
            town.fuses[node] = rng.choice(FUSES)
        if kind == "section":
            town.records[node] = {"kind": "section pillar"}


def label_cables(town, rng, source):
    """Ways with a row of their own at pillars: a label at one end only, and never at a bare node, where
    labels of two cables would have to agree."""
    nodes, cables = town.behind[source]
    for number in cables:
        edge = town.edges[number]
        starts = town.nodes[edge.a] in ("supply", "substation", "section")
        if starts and town.nodes[edge.b] in ("column", "joint", "fused") and rng.random() < 0.5:
            town.labels[number] = "W%d" % number
            town.way_fuses[number] = rng.choice(FUSES)


def make_town(seed, number, cables):
    rng = random.Random("%s/town/%d" % (seed, number))
    lighting = sorted(n for n, row in cables.items() if row["use"] == "circuit")
    street = sorted(n for n, row in cables.items() if row["use"] == "main")
    town = Town("T%03d" % number)
    voltage = rng.choice([230.0, 240.0, 216.5])
    lay_main(town, rng, street, voltage)
    for _ in range(rng.randrange(0, 4)):
        kind = rng.choice(["service", "pillar", "pillar", "substation"])
        town.records[town.add("supply")] = (substation if kind == "substation" else (
            lambda r, v, k=kind: half_record(r, k, v)))(rng, voltage)
    for source in [n for n, kind in enumerate(town.nodes) if kind != "plain"]:
        if town.nodes[source] != "substation" or rng.random() < 0.5:
            if len(town.nodes) + MOST_BEHIND < networks.MOST_NODES:
                light(town, rng, source, lighting)
    return town


# ------------------------------------------------------------------------------------- the records


def device(fuse):
    return {"fuse_type": fuse[0], "fuse_a": fuse[1]} if fuse else {}


def features_of(number, town):
    layers = {name: [] for name in LAYERS}
    for node, kind in enumerate(town.nodes):
        if kind == "column":
            layers["columns"].append(feature(
                point(number, node), column_id=town.id_of(node), load_w=0.0, power_factor=0.9,
                fuse_type="BS 88-2", fuse_a=6.0, owner="council",
                tail_type="Flat twin and earth 1.5", tail_m=6.0))
        elif kind in ("joint", "fused"):
            layers["joints"].append(feature(
                point(number, node), joint_id=town.id_of(node),
                kind="fused" if kind == "fused" else "straight", **device(town.fuses.get(node))))
        elif kind in ("supply", "substation", "section"):
            layers["supplies"].append(feature(
                point(number, node), supply_id=town.id_of(node), **town.records[node],
                **device(town.fuses.get(node))))
    for n, edge in enumerate(town.edges):
        layers["cables"].append(feature(
            {"type": "LineString", "coordinates": line(number, edge)}, cable_id=town.cable_id(n),
            cable_type=edge.cable_type, length_m=edge.length, circuit=town.labels.get(n),
            owner="council"))
        if n in town.labels:
            layers["ways"].append(feature(None, supply_id=town.id_of(edge.a), way=town.labels[n],
                                          circuit=town.labels[n], **device(town.way_fuses[n])))
    for n, edge in enumerate(town.mains):
        layers["mains"].append(feature(
            {"type": "LineString", "coordinates": line(number, edge)},
            main_id="%s-M%02d" % (town.name, n), cable_type=edge.cable_type, length_m=edge.length))
    return layers
