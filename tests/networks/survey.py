"""The survey's ranking against trying every value of every missing attribute.

    survey.py SEED COUNT LOOPWALK CATALOGUE

Some cables hold a word that nobody knows, which is one item where it stands more than once.
Each network is a tree whose records lack types, lengths, a source's impedance and kinds of fuses. It is
copied once for each missing attribute and value with that one filled in; all are checked in one run. The
undecided verdicts that all copies of an attribute decide, and those that some do, are what `survey` must
say: disconnection for all of them, breaking capacity and heat for fuses and the prospective current. Of a range its ends and values between are tried, so there the survey may count less as
settled, where something undecided hides between two tried values, but never more.
"""

import csv
import json
import os
import random
import sqlite3
import sys
import tempfile

from simulators import check_with_program

STOCK = ["SWA XLPE Cu 2x6", "SWA XLPE Cu 2x10", "SWA XLPE Cu 2x25", "SWA XLPE Cu 3x2.5",
         "SWA XLPE Cu 3x6 both"]
LENGTHS = (10.0, 400.0)
ZE = (0.1, 0.6)
# Measured at nominal voltage; 1.1 times that is the conventional maximum of 16 kA.
PSCC = (0.05, 16.0 / 1.1)
STEPS = 12
COPY_STEP = 1500.0
WORD = "old cable, see file"


def fuses(catalogue):
    """Ratings by type, breakers left out."""
    ratings = {}
    with open(os.path.join(catalogue, "devices.csv"), newline="", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            if not row["fuse_type"].startswith("MCB"):
                ratings.setdefault(row["fuse_type"], []).append(float(row["rating_a"]))
    return ratings


class Records:
    """One incomplete network, and its copies."""

    def __init__(self, number, rng, ratings):
        self.number, self.ratings = number, ratings
        self.columns, self.cables, self.holes = {}, {}, []
        self.supply = {"supply_id": "S", "kind": "pillar", "earthing": "TN-S", "pscc_ka": 2.0,
                       "pscc_basis": "measured", "ze_ohm": rng.choice([0.2, 0.5]),
                       "ze_basis": "measured"}
        self.way = {"supply_id": "S", "way": "1", "fuse_type": "BS 88-2",
                    "fuse_a": rng.choice([16.0, 25.0, 32.0])}
        nodes = rng.randrange(3, 7)
        for node in range(1, nodes + 1):
            before = node - 1 if rng.random() < 0.7 else rng.randrange(node)
            column = "C%d" % node
            self.columns[column] = {"column_id": column, "load_w": 30, "power_factor": 0.9,
                                    "fuse_type": "BS 88-2", "fuse_a": 6.0, "tail_m": 6.0,
                                    "tail_type": "Flat twin and earth 1.5", "owner": "council"}
            cable = {"cable_id": "K%d" % node, "cable_type": rng.choice(STOCK),
                     "length_m": round(rng.uniform(20.0, 200.0), 1), "ends": (before, node)}
            self.cables[cable["cable_id"]] = cable
            if rng.random() < 0.5:
                self.hole("cables", cable, "cable_type", STOCK)
            if rng.random() < 0.3:
                self.hole("cables", cable, "length_m", steps(*LENGTHS))
        worded = [row for layer, row, attribute, _ in self.holes
                  if attribute == "cable_type" and rng.random() < 0.6]
        for row in worded:
            row["cable_type"] = WORD
        if len(worded) > 1:
            self.holes.append(("cables", worded, "cable_type", STOCK))
        if rng.random() < 0.3:
            self.hole("supplies", self.supply, "ze_ohm", steps(*ZE))
        if rng.random() < 0.3:
            self.hole("supplies", self.supply, "pscc_ka",
                      [PSCC[0] * (PSCC[1] / PSCC[0]) ** (n / STEPS) for n in range(STEPS + 1)])
        if rng.random() < 0.3:
            rating = self.way["fuse_a"]
            self.hole("ways", self.way, "fuse_type", sorted(
                t for t, all_of in ratings.items() if rating in all_of))
        if rng.random() < 0.3:
            column = self.columns[rng.choice(sorted(self.columns))]
            self.hole("columns", column, "fuse_a", ratings["BS 88-2"])

    def hole(self, layer, row, attribute, values):
        row[attribute] = None
        self.holes.append((layer, row, attribute, values))

    def copies(self):
        """(tag, layer, row, attribute, value); the first has nothing filled in."""
        yield "x", None, None, None, None
        for h, (layer, row, attribute, values) in enumerate(self.holes):
            for v, value in enumerate(values):
                yield "%d.%d" % (h, v), layer, row, attribute, value

    def asset(self, layer, row, tag):
        if isinstance(row, list):
            return WORD + self.suffix(tag)
        name = {"cables": "cable_id", "columns": "column_id", "supplies": "supply_id"}.get(layer)
        return row[name] + self.suffix(tag) if name else "S%s/1" % self.suffix(tag)

    def suffix(self, tag):
        return "@%d@%s" % (self.number, tag)


def steps(low, high):
    return [low + (high - low) * n / STEPS for n in range(STEPS + 1)]


def write(all_records, folder):
    layers = {"columns": [], "cables": [], "supplies": [], "ways": []}
    place = 0
    for records in all_records:
        for tag, _, changed, attribute, value in records.copies():
            x = 200000.0 + COPY_STEP * (place % 200)
            y = 200000.0 + COPY_STEP * (place // 200)
            place += 1

            def add(layer, row, geometry, tag=tag, changed=changed, attribute=attribute,
                    value=value):
                row_now = {k: v + records.suffix(tag) if k.endswith("_id") or v == WORD else v
                           for k, v in row.items() if k != "ends"}
                if row is changed or isinstance(changed, list) and any(row is r for r in changed):
                    row_now[attribute] = value
                layers[layer].append({"type": "Feature", "geometry": geometry,
                                      "properties": row_now})

            def at(node, x=x, y=y):
                # Nodes on a bow, so that no cable is drawn past a third one.
                return [x + 150.0 * node, y + 12.0 * node * node]
            add("supplies", records.supply, {"type": "Point", "coordinates": at(0)})
            add("ways", records.way, None)
            for n, row in enumerate(records.columns.values()):
                add("columns", row, {"type": "Point", "coordinates": at(n + 1)})
            for row in records.cables.values():
                a, b = row["ends"]
                add("cables", row, {"type": "LineString", "coordinates": [at(a), at(b)]})
    crs = {"type": "name", "properties": {"name": "urn:ogc:def:crs:EPSG::27700"}}
    job = os.path.join(folder, "job.toml")
    with open(job, "w", encoding="utf-8") as toml:
        toml.write("[network]\nsnap_m = 0.1\nreach_m = 0.2\n")
        for name, features in layers.items():
            toml.write('[%s]\ndataset = "%s.geojson"\n' % (name, name))
            if name == "cables":
                toml.write("missing = { cable_type = %s, length_m = { low = %g, high = %g } }\n"
                           % (json.dumps(STOCK), *LENGTHS))
            if name == "supplies":
                toml.write("missing = { ze_ohm = { low = %g, high = %g } }\n" % ZE)
            with open(os.path.join(folder, name + ".geojson"), "w", encoding="utf-8") as file:
                json.dump({"type": "FeatureCollection", "name": name, "crs": crs,
                           "features": features}, file)
    return job


# What a fuse decides besides disconnection: whether it can break the current, and the heat.
OF_FUSES = ("lw_breaking_verdict", "lw_heat_verdict")


def tried(records, rows, open_ways):
    """(settled, touched) of each missing attribute, by the copies' verdicts. `open_ways`: supplies whose
    way may be unable to break the current."""
    sides = [(c, side) for c in records.columns
             for side in ("lw_in_verdict", "lw_out_verdict") + OF_FUSES]
    undecided = [(c, side) for c, side in sides
                 if rows[c + records.suffix("x")][side] == "undecided"]
    for h, (layer, row, attribute, values) in enumerate(records.holes):
        tags = [records.suffix("%d.%d" % (h, v)) for v in range(len(values))]
        of_fuse = attribute in ("fuse_type", "fuse_a", "pscc_ka")
        decided = [[rows[c + tag][side] != "undecided" for tag in tags]
                   for c, side in undecided if of_fuse or side not in OF_FUSES]
        if (layer == "ways" or attribute == "pscc_ka") and "S" + records.suffix("x") in open_ways:
            decided.append(["S" + tag not in open_ways for tag in tags])
        yield (layer, records.asset(layer, row, "x"), attribute), (
            sum(all(d) for d in decided), sum(any(d) for d in decided))


def main(seed, count, program, catalogue):
    ratings = fuses(catalogue)
    all_records = [Records(n, random.Random("survey %s/%d" % (seed, n)), ratings)
                   for n in range(count)]
    with tempfile.TemporaryDirectory() as folder:
        rows = check_with_program(program, write(all_records, folder), folder)
        checked = sqlite3.connect(os.path.join(folder, "checked.gpkg"))
        told = {(layer, asset, attribute): (settled, touched) for layer, asset, attribute, settled,
                touched in checked.execute(
                    "select asset_layer, coalesce(word, asset_id), attribute, verdicts_settled,"
                    " verdicts_touched from survey")}
        open_ways = {asset for asset, in checked.execute(
            "select asset_id from findings where rule = 'breaking-capacity'"
            " and asset_layer = 'supplies' and severity = 'warning'")}
    seen, faults, totals, of_words = 0, [], [0, 0], 0
    for records in all_records:
        for key, (settled, touched) in tried(records, rows, open_ways):
            said = told.get(key, (0, 0))
            in_range = key[2] in ("length_m", "ze_ohm", "pscc_ka")
            seen += 1
            of_words += touched if key[1].startswith(WORD) else 0
            totals = [totals[0] + settled, totals[1] + touched]
            if said[1] != touched or not (said[0] == settled or in_range and said[0] < settled):
                faults.append("%s: %s, tried %s" % (key, said, (settled, touched)))
    print("seed %s: %d networks, %d missing attributes; verdicts settled %d, touched %d, by words %d"
          % (seed, count, seen, *totals, of_words))
    if faults or not all(totals) or not of_words:
        sys.exit("\n".join(["%d differ:" % len(faults)] + faults[:20]))


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), sys.argv[3], sys.argv[4])
