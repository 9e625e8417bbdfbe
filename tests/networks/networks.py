"""Random lighting networks: replayable by their seed, with every record complete.

Nodes lie on a circle, so that no cable is drawn past an asset it does not end at. Lengths are laid
lengths: they have nothing to do with the drawing.
"""

import json
import math
import os
import random

RADIUS = 600.0  # m; 60 nodes: 63 m from one to the next, 3 m between a chord over two and the middle
SPACING = 2000.0
MOST_NODES = 60


class Edge:
    def __init__(self, a, b, cable_type, length, bulge=0.0):
        self.a, self.b, self.cable_type, self.length, self.bulge = a, b, cable_type, length, bulge


class Network:
    """nodes: "supply", "column", "joint" or "bare" (cables that meet at nothing)."""

    def __init__(self, name, shape):
        self.name, self.shape = name, shape
        self.phases = 3 if shape.startswith("three-phase") else 1
        self.nodes, self.edges, self.supplies, self.ways = [], [], {}, {}
        self.loads, self.phase = {}, {}

    def id_of(self, node):
        return "%s-%s%02d" % (self.name, {"supply": "S", "column": "C", "joint": "J",
                                           "bare": "B"}[self.nodes[node]], node)

    def cable_id(self, number):
        return "%s-K%02d" % (self.name, number)

    def columns(self):
        return [n for n, kind in enumerate(self.nodes) if kind == "column"]

    def supply_nodes(self):
        return [n for n, kind in enumerate(self.nodes) if kind == "supply"]


def random_length(rng):
    return 10.0 ** rng.uniform(-1.0, 3.0)


def random_source(rng, voltage, phases):
    """ze known as R and X or by its size; the prospective current measured or declared."""
    source = {"kind": "pillar", "earthing": rng.choice(["TN-S", "TN-C-S"]), "phases": phases,
              "voltage_v": voltage,
              "ze_basis": rng.choice(["measured", "declared"]),
              "pscc_basis": rng.choice(["measured", "declared"]),
              "pscc_ka": 10.0 ** rng.uniform(-0.5, 1.2)}
    if rng.random() < 0.6:
        source["ze_r_ohm"] = 10.0 ** rng.uniform(-2.5, 0.0)
        source["ze_x_ohm"] = 10.0 ** rng.uniform(-3.0, -0.5)
    else:
        source["ze_ohm"] = 10.0 ** rng.uniform(-2.0, 0.3)
    return source


def add_edge(network, rng, a, b, types):
    parallel = sum(1 for e in network.edges if {e.a, e.b} == {a, b})
    network.edges.append(Edge(a, b, rng.choice(types), random_length(rng),
                              0.08 * parallel if parallel else 0.0))


def grow_tree(network, rng, count, types, first=0):
    """Each node hangs on an earlier one, mostly the last: long runs with branches."""
    for _ in range(count):
        node = len(network.nodes)
        before = [n for n in range(first, node)]
        parent = before[-1] if rng.random() < 0.6 else rng.choice(before)
        network.nodes.append(rng.choices(["column", "joint", "bare"], [8, 2, 1])[0])
        add_edge(network, rng, parent, node, types)
    if not network.columns():
        network.nodes[-1] = "column"


def close_loops(network, rng, count, types, supply_too):
    """More cables between nodes that are there: rings, rings within rings, cables in parallel."""
    first = 0 if supply_too else 1
    for _ in range(count):
        a = rng.randrange(first, len(network.nodes))
        b = rng.randrange(first, len(network.nodes))
        if a != b:
            add_edge(network, rng, a, b, types)


def label_ways(network, rng, together):
    """Cables at a supply: each a way of its own, or all of them one way."""
    for supply in network.supply_nodes():
        at = [n for n, e in enumerate(network.edges) if supply in (e.a, e.b)]
        for position, number in enumerate(at):
            network.ways[number] = "1" if together else str(position + 1)
    # Ends of two ways that meet at nothing contradict each other and are left unconnected.
    for node, kind in enumerate(network.nodes):
        labels = {network.ways.get(n) for n, e in enumerate(network.edges) if node in (e.a, e.b)}
        if kind == "bare" and len(labels - {None}) > 1:
            network.nodes[node] = "joint"


def give_loads(network, rng, ohms):
    """Watts and power factor of each column, a few leading. Together they stay below what any circuit
    of this much cable can carry: S * Z < U0^2 / 4 (two equal conductors, all load at the end)."""
    columns = network.columns()
    weights = {node: rng.choice([0.0, 1.0, 1.0, rng.uniform(0.2, 2.0)]) for node in columns}
    u0 = network.supplies[0]["voltage_v"]
    most = 0.2 * u0 ** 2 / sum(abs(ohms(e.cable_type)) * e.length for e in network.edges)
    each = 0.8 * most / max(sum(weights.values()), 1.0)
    for node in columns:
        factor = rng.uniform(0.8, 1.0) * (1.0 if rng.random() < 0.9 else -1.0)
        network.loads[node] = (round(weights[node] * each, 6), factor)
        if network.phases == 3:
            network.phase[node] = rng.choice(["L1", "L2", "L3"])


SHAPES = ("tree", "ring", "two ways", "mesh", "parallel", "several supplies", "three-phase tree",
          "three-phase mesh")


def make_network(seed, number, shape, types, ohms):
    """The `number`-th network of a seed, whatever else is made with it. `ohms` gives the ohm per metre
    of both conductors of a type."""
    rng = random.Random("%s/%d/%s" % (seed, number, shape))
    network = Network("N%03d" % number, shape)
    voltage = rng.choice([230.0, 240.0, 216.5])
    network.nodes.append("supply")
    network.supplies[0] = random_source(rng, voltage, network.phases)
    grow_tree(network, rng, rng.randrange(3, 25), types)
    if shape == "ring":
        add_edge(network, rng, 0, len(network.nodes) - 1, types)
    elif shape == "two ways":
        close_loops(network, rng, 1, types, True)
        add_edge(network, rng, 0, rng.randrange(1, len(network.nodes)), types)
    elif shape in ("mesh", "three-phase mesh"):
        close_loops(network, rng, rng.randrange(2, 8), types, True)
    elif shape == "parallel":
        for edge in rng.sample(network.edges, min(3, len(network.edges))):
            add_edge(network, rng, edge.a, edge.b, types)
    elif shape == "several supplies":
        for _ in range(rng.randrange(1, 3)):
            supply = len(network.nodes)
            network.nodes.append("supply")
            network.supplies[supply] = random_source(rng, voltage, 1)
            add_edge(network, rng, supply, rng.randrange(1, supply), types)
        close_loops(network, rng, rng.randrange(0, 3), types, False)
    # Of joined supplies, a way beside the joined one is calculated from its own supply alone.
    label_ways(network, rng, shape in ("ring", "several supplies") or rng.random() < 0.3)
    give_loads(network, rng, ohms)
    return network


def make_networks(seed, count, types, ohms):
    return [make_network(seed, n, SHAPES[n % len(SHAPES)], types, ohms) for n in range(count)]


# ------------------------------------------------------------------------------------- the records


def place(number, node):
    angle = 2.0 * math.pi * node / MOST_NODES
    x = 400000.0 + SPACING * (number % 20) + RADIUS * math.cos(angle)
    y = 300000.0 + SPACING * (number // 20) + RADIUS * math.sin(angle)
    return [round(x, 3), round(y, 3)]


def line(number, edge):
    a, b = place(number, edge.a), place(number, edge.b)
    if not edge.bulge:
        return [a, b]
    # To one side, so that cables in parallel are two lines.
    middle = [(a[0] + b[0]) / 2.0 + edge.bulge * (a[1] - b[1]),
              (a[1] + b[1]) / 2.0 + edge.bulge * (b[0] - a[0])]
    return [a, [round(v, 3) for v in middle], b]


def feature(geometry, **properties):
    return {"type": "Feature", "geometry": geometry, "properties": properties}


def point(number, node):
    return {"type": "Point", "coordinates": place(number, node)}


def features_of(number, network):
    layers = {"columns": [], "cables": [], "supplies": [], "ways": [], "joints": []}
    for node, kind in enumerate(network.nodes):
        if kind == "column":
            watts, factor = network.loads[node]
            layers["columns"].append(feature(
                point(number, node), column_id=network.id_of(node), load_w=watts,
                power_factor=factor, phase=network.phase.get(node), fuse_type="BS 88-2", fuse_a=6.0, owner="council",
                tail_type="Flat twin and earth 1.5", tail_m=6.0))
        elif kind == "joint":
            layers["joints"].append(feature(point(number, node), joint_id=network.id_of(node),
                                            kind="straight"))
        elif kind == "supply":
            layers["supplies"].append(feature(point(number, node),
                                              supply_id=network.id_of(node),
                                              **network.supplies[node]))
    for n, edge in enumerate(network.edges):
        layers["cables"].append(feature(
            {"type": "LineString", "coordinates": line(number, edge)},
            cable_id=network.cable_id(n), cable_type=edge.cable_type, length_m=edge.length,
            circuit=network.ways.get(n)))
    for supply in network.supply_nodes():
        named = {network.ways[n] for n, e in enumerate(network.edges) if supply in (e.a, e.b)}
        for way in sorted(named):
            layers["ways"].append(feature(None, supply_id=network.id_of(supply), way=way,
                                          circuit=way, fuse_type="BS 88-2", fuse_a=25.0,
                                          phase="L1" if network.phases == 1 else None))
    return layers


def write_job(networks, folder):
    """One GeoJSON file for each layer, and job.toml; the path of the job."""
    return write_layers([features_of(n, network) for n, network in enumerate(networks)], folder)


def write_layers(each, folder):
    """The same of layers that are made already, a dictionary for each network."""
    layers = {name: sum((one[name] for one in each), []) for name in each[0]}
    crs = {"type": "name", "properties": {"name": "urn:ogc:def:crs:EPSG::27700"}}
    for name, features in layers.items():
        with open(os.path.join(folder, name + ".geojson"), "w", encoding="utf-8") as file:
            json.dump({"type": "FeatureCollection", "name": name, "crs": crs,
                       "features": features}, file)
    job = os.path.join(folder, "job.toml")
    with open(job, "w", encoding="utf-8") as file:
        for name in layers:
            file.write('[%s]\ndataset = "%s.geojson"\n' % (name, name))
    return job
