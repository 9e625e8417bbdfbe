"""Who is fed from where, on random networks with worn records, against networkx.

    traces.py SEED COUNT LOOPWALK CATALOGUE

Columns, joints and supplies stand on a jittered grid; cables join neighbours. The records are worn in
ways that must not change what is fed: ends up to 0.24 m off, lines drawn from either end, a cable drawn on
through columns it loops into, two cables that meet at nothing. Some cables are removed or end open, some
columns are out of service, some places hold nothing at all.
"""

import json
import os
import random
import sys
import tempfile

import networkx

from simulators import check_with_program

SIDE = 4           # places along a side of a network
STEP = 40.0        # m between places
CELL = 400.0       # m between networks
IN_ROW = 40
SHAKEN = 0.17      # m, either way in x and y: two ends at one place stay within snap_m


class Worn:
    """One network: a graph of what conducts, and its records."""

    def __init__(self, number, rng):
        self.number, self.rng = number, rng
        self.graph = networkx.Graph()
        self.kind, self.place = {}, {}
        self.cables, self.terminations = [], []
        self.make_places()
        self.make_cables()

    def name(self, node):
        return "%d-%s%d%d" % (self.number, self.kind[node][0].upper(), *node)

    def make_places(self):
        rng = self.rng
        x = 300000.0 + CELL * (self.number % IN_ROW)
        y = 200000.0 + CELL * (self.number // IN_ROW)
        supplies = rng.choice([1, 1, 1, 2])
        places = [(i, j) for i in range(SIDE) for j in range(SIDE)]
        rng.shuffle(places)
        for n, node in enumerate(places):
            self.kind[node] = "supply" if n < supplies else rng.choices(
                ["column", "joint", "bare"], [8, 1, 1])[0]
            self.place[node] = (x + STEP * node[0] + rng.uniform(-8.0, 8.0),
                                y + STEP * node[1] + rng.uniform(-8.0, 8.0))
            if self.kind[node] == "column" and rng.random() < 0.05:
                self.kind[node] = "column out of service"
            self.graph.add_node(node)

    def make_cables(self):
        grid = networkx.grid_2d_graph(SIDE, SIDE)
        chosen = [e for e in sorted(grid.edges) if self.rng.random() < 0.68]
        loose = networkx.Graph(chosen)
        while loose.number_of_edges():
            self.draw(self.stretch(loose))

    def stretch(self, loose):
        """A cable from one place on, at times through columns that nothing else ends at."""
        node = self.rng.choice(sorted(n for n in loose if loose.degree(n)))
        path = [node]
        while True:
            following = [n for n in sorted(loose[path[-1]]) if n not in path]
            if not following:
                break
            path.append(self.rng.choice(following))
            loose.remove_edge(path[-2], path[-1])
            passes = self.kind[path[-1]].startswith("column") and loose.degree(path[-1]) == 1 and \
                self.rng.random() < 0.5 and self.is_untouched(path[-1])
            if not passes:
                break
        loose.remove_nodes_from([n for n in list(loose) if not loose.degree(n)])
        return path

    def is_untouched(self, node):
        return all(node not in path for path, *_ in self.cables)

    def shaken(self, node):
        x, y = self.place[node]
        return [round(x + self.rng.uniform(-SHAKEN, SHAKEN), 4),
                round(y + self.rng.uniform(-SHAKEN, SHAKEN), 4)]

    def draw(self, path):
        rng = self.rng
        if len(path) < 2:
            return
        cable = "%d-K%d" % (self.number, len(self.cables))
        line = [self.shaken(path[0])]
        for a, b in zip(path, path[1:]):
            (ax, ay), (bx, by) = self.place[a], self.place[b]
            line.append([round((ax + bx) / 2.0 + rng.uniform(-3.0, 3.0), 4),
                         round((ay + by) / 2.0 + rng.uniform(-3.0, 3.0), 4)])
            line.append(self.shaken(b))
        status = rng.choices(["in service", None, "proposed", "removed", "disconnected"],
                             [80, 8, 4, 4, 4])[0]
        self.cables.append((path, cable, line if rng.random() < 0.5 else line[::-1], status))
        if status in ("removed", "disconnected"):
            return
        open_end = None
        ends = [n for n in (path[0], path[-1]) if self.kind[n] != "bare"]
        if ends and rng.random() < 0.06:
            open_end = rng.choice(ends)
            self.terminations.append((self.name(open_end), cable,
                                      {"supply": "supplies", "joint": "joints"}.get(
                                          self.kind[open_end], "columns")))
        for a, b in zip(path, path[1:]):
            ends = [(n, cable) if n == open_end and n in (path[0], path[-1]) else n for n in (a, b)]
            self.graph.add_edge(*ends)

    def fed_from(self):
        """Supplies of each column, by networkx; and the columns on the only path to it. A path through
        a supply is that supply's."""
        graph = self.graph.copy()
        graph.remove_nodes_from([n for n in self.kind if self.kind[n] == "column out of service"])
        supplies = [n for n in self.kind if self.kind[n] == "supply"]
        for node in (n for n in self.kind if self.kind[n] == "column"):
            sources = [s for s in supplies if networkx.has_path(
                graph.subgraph(n for n in graph if n == s or n not in supplies), s, node)]
            hops = None
            if len(sources) == 1:
                part = graph.subgraph(networkx.node_connected_component(graph, node))
                if networkx.is_tree(part):
                    path = networkx.shortest_path(part, sources[0], node)
                    hops = sum(self.kind.get(n) == "column" for n in path)
            yield self.name(node), [self.name(s) for s in sources], hops

    def features(self, layers):
        for node, kind in self.kind.items():
            geometry = {"type": "Point", "coordinates": [round(v, 4) for v in self.place[node]]}
            if kind.startswith("column"):
                layers["columns"].append((geometry, {
                    "column_id": self.name(node), "status": "removed" if " " in kind else None}))
            elif kind == "joint":
                layers["joints"].append((geometry, {"joint_id": self.name(node)}))
            elif kind == "supply":
                layers["supplies"].append((geometry, {
                    "supply_id": self.name(node), "kind": "pillar", "earthing": "TN-S",
                    "ze_ohm": 0.2, "pscc_ka": 1.0, "fuse_type": "gG", "fuse_a": 25}))
        for _, cable, line, status in self.cables:
            layers["cables"].append(({"type": "LineString", "coordinates": line}, {
                "cable_id": cable, "status": status, "cable_type": "SWA XLPE Cu 2x6"}))
        for asset, cable, layer in self.terminations:
            layers["terminations"].append((None, {"asset_id": asset, "cable_id": cable,
                                                  "asset_layer": layer, "state": "open"}))


def write(networks, folder):
    layers = {"columns": [], "cables": [], "supplies": [], "joints": [], "terminations": []}
    for network in networks:
        network.features(layers)
    crs = {"type": "name", "properties": {"name": "urn:ogc:def:crs:EPSG::27700"}}
    job = os.path.join(folder, "job.toml")
    with open(job, "w", encoding="utf-8") as toml:
        for name, features in layers.items():
            toml.write('[%s]\ndataset = "%s.geojson"\n' % (name, name))
            with open(os.path.join(folder, name + ".geojson"), "w", encoding="utf-8") as file:
                json.dump({"type": "FeatureCollection", "name": name, "crs": crs, "features": [
                    {"type": "Feature", "geometry": g, "properties": p} for g, p in features]}, file)
    return job


def main(seed, count, program):
    networks = [Worn(n, random.Random("%s/%d" % (seed, n))) for n in range(count)]
    with tempfile.TemporaryDirectory() as folder:
        rows = check_with_program(program, write(networks, folder), folder)
    seen = {"one": 0, "several": 0, "none": 0, "hops": 0}
    faults = []
    for network in networks:
        for column, sources, hops in network.fed_from():
            row = rows[column]
            feed = {0: "not traced", 1: "pillar"}.get(len(sources), "several")
            if feed == "pillar" and row["lw_feed"] == "column" and row["lw_supply_id"]:
                feed = "column"
            seen[{0: "none", 1: "one"}.get(len(sources), "several")] += 1
            if row["lw_feed"] != feed:
                faults.append("%s is fed from %r, expected %s %s" % (column, row["lw_feed"], feed,
                                                                     sources))
            elif len(sources) == 1 and row["lw_supply_id"] != sources[0]:
                faults.append("%s hangs on %s, expected %s" % (column, row["lw_supply_id"], sources))
            if hops is not None and feed == "pillar":
                seen["hops"] += 1
                if row["lw_hops"] != hops:
                    faults.append("%s has %s hops, expected %d" % (column, row["lw_hops"], hops))
    print("seed %s: %d networks; columns with one supply %d, with several %d, with none %d; hops of %d"
          % (seed, count, seen["one"], seen["several"], seen["none"], seen["hops"]))
    if faults or not all(seen.values()):
        sys.exit("\n".join(["%d differ:" % len(faults)] + faults[:20]))


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), sys.argv[3])
