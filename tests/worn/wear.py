"""The sample town with its records worn: what people type and draw, street by street, and what a check
must say of it.

    wear.py FOLDER

FOLDER holds the town's layers as GeoJSON, which are replaced; key.csv is written beside them: every
finding that the wear must cause, besides those of the town's own key.
"""

import copy
import csv
import json
import os
import sys

LAYERS = ("columns", "cables", "supplies", "ways", "joints", "mains", "terminations", "loads",
          "readings")


class Town:
    def __init__(self, folder):
        self.folder, self.layers, self.key = folder, {}, []
        for name in LAYERS:
            with open(os.path.join(folder, name + ".geojson"), encoding="utf-8") as file:
                self.layers[name] = json.load(file)

    def features(self, layer):
        return self.layers[layer]["features"]

    def asset(self, layer, name):
        key = layer[:-1] + "_id"
        return next(f for f in self.features(layer) if f["properties"][key] == name)

    def of_way(self, layer, way):
        return [f for f in self.features(layer) if f["properties"]["circuit"] == way]

    def add(self, layer, feature):
        self.features(layer).append(feature)
        return feature["properties"]

    def expect(self, rule, layer, name, why):
        self.key.append((rule, layer, name, why))

    def write(self):
        for name, layer in self.layers.items():
            with open(os.path.join(self.folder, name + ".geojson"), "w", encoding="utf-8") as file:
                json.dump(layer, file)
        with open(os.path.join(self.folder, "key.csv"), "w", newline="", encoding="utf-8") as file:
            rows = csv.writer(file)
            rows.writerow(("rule", "asset_layer", "asset_id", "what_was_worn"))
            rows.writerows(sorted(self.key))


def line(cable):
    """The first part of a cable's geometry, to be altered in place."""
    geometry = cable["geometry"]
    return geometry["coordinates"][0] if geometry["type"] == "MultiLineString" else \
        geometry["coordinates"]


def lose(town, column, why):
    """The column cannot be reached any more, and its cable's end lies at nothing."""
    town.expect("not-traced", "columns", column, why)
    town.expect("live-end", "cables", "C-" + column, why)


# ------------------------------------------------------------------------------------ what is typed


def numbers_as_text(town):
    for column in town.of_way("columns", "AN1"):
        column["properties"]["load_w"] = "%g W" % float(column["properties"]["load_w"])
        column["properties"]["tail_m"] = ("%g" % float(column["properties"]["tail_m"])).replace(
            ".", ",")
    for cable in town.of_way("cables", "AN1"):
        cable["properties"]["length_m"] = " %g m " % float(cable["properties"]["length_m"])
    why = "Anchor Street: watts and metres with their units, decimal commas"
    town.expect("bad-value", "columns", "AN1-01", why)
    town.expect("bad-value", "cables", "C-AN1-01", why)


def words_any_way(town):
    """Mixed case and blanks are no fault."""
    for column in town.of_way("columns", "CA1"):
        column["properties"].update(owner="  COUNCIL", status=" In Service", fuse_type="bs 88-2 ")
    for cable in town.of_way("cables", "CA1"):
        cable["properties"]["cable_type"] = cable["properties"]["cable_type"].lower() + " "


def leading_zeros(town):
    """Ids that would be one number are two texts."""
    for old, new in (("CA3-02", "0302"), ("CA3-03", "302")):
        town.asset("columns", old)["properties"]["column_id"] = new
        for layer in ("terminations", "readings"):
            for row in town.features(layer):
                if row["properties"]["asset_id"] == old:
                    row["properties"]["asset_id"] = new


def sizes(town):
    town.asset("cables", "C-CA4-03")["properties"]["cable_type"] = "SWA XLPE Cu 2x60"
    town.expect("type-unknown", "cables", "C-CA4-03", "60 mm2 typed for 6: no such cable")
    town.expect("reading-high", "columns", "NE1-05", "the reading knows the true length of C-NE1-05")
    town.expect("suspect-termination", "cables", "C-NE1-03",
                "first of the places between two readings that cannot be told apart; the slip is in C-NE1-05")
    for cable, factor in (("C-NE1-05", 0.1), ("C-CA1-01", 10.0)):
        row = town.asset("cables", cable)["properties"]
        row["length_m"] = float(row["length_m"]) * factor
        town.expect("length-differs", "cables", cable, "laid length with a slip of ten")


# ------------------------------------------------------------------------------- where things lie


def swapped_and_zero(town):
    swapped = town.asset("columns", "QU1-05")["geometry"]["coordinates"]
    swapped[0], swapped[1] = swapped[1], swapped[0]
    town.asset("columns", "QU2-05")["geometry"]["coordinates"] = [0.0, 0.0]
    for column in ("QU2-05", "LO-02"):  # the clean town has a column there as well
        town.expect("duplicate-geometry", "columns", column, "two columns at 0, 0")
    for column, why in (("QU1-05", "easting and northing swapped"), ("QU2-05", "at 0, 0")):
        town.expect("outlier-place", "columns", column, why)
        lose(town, column, why)


def wrong_side(town):
    town.asset("columns", "KE1-06")["geometry"]["coordinates"][1] -= 11.0
    lose(town, "KE1-06", "drawn on the other side of the road, out of reach")


def old_beside_new(town):
    old = copy.deepcopy(town.asset("columns", "QU3-02"))
    old["geometry"]["coordinates"][1] += 1.1
    town.add("columns", old)["column_id"] = "QU3-02X"
    for column in ("QU3-02", "QU3-02X"):
        town.expect("column-beside-column", "columns", column, "the old column beside the new one")
    town.expect("not-traced", "columns", "QU3-02X", "the old column beside the new one")


def doubled(town):
    second = copy.deepcopy(town.asset("cables", "C-QU4-03"))
    line(second).reverse()
    town.add("cables", second)["cable_id"] = "C-QU4-03X"
    for cable in ("C-QU4-03", "C-QU4-03X"):
        town.expect("duplicate-geometry", "cables", cable, "entered twice, the copy the other way")
    town.expect("ring", "supplies", "P-QU", "way 4: the copy closes a loop")


# ------------------------------------------------------------------------------- how lines are drawn


def reversed_and_repeated(town):
    """Direction and repeated vertices are no fault."""
    for cable in town.of_way("cables", "KE1"):
        line(cable).reverse()
    for cable in town.of_way("cables", "OA1"):
        line(cable)[:] = [p for p in line(cable) for _ in range(2)]


def through_columns(town):
    cables = [town.asset("cables", "C-AN1-0%d" % n) for n in (6, 7, 8)]
    long = copy.deepcopy(cables[0])
    line(long)[:] = [p for cable in cables for p in line(cable)]
    for cable in cables:
        town.features("cables").remove(cable)
    town.add("cables", long).update(cable_id="C-AN1-L", length_m=None)
    town.expect("cut-assumed", "cables", "C-AN1-L", "one line drawn through two columns")


def short_and_beyond(town):
    short = line(town.asset("cables", "C-CA2-05"))
    town.expect("near-miss", "cables", "C-CA2-05", "ends 2 m short of its column")
    town.expect("not-traced", "columns", "CA2-05", "its cable ends 2 m short")
    (ax, ay), (bx, by) = short[-2], short[-1]
    share = 2.0 / ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
    short[-1] = [bx + (ax - bx) * share, by + (ay - by) * share]
    beyond = line(town.asset("cables", "C-CA3-05"))
    (ax, ay), (bx, by) = beyond[-2], beyond[-1]
    share = 1.5 / ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
    beyond.append([bx + (bx - ax) * share, by + (by - ay) * share])
    town.expect("cut-assumed", "cables", "C-CA3-05", "drawn 1.5 m beyond its column")
    town.expect("live-end", "cables", "C-CA3-05", "drawn 1.5 m beyond its column")


def parts_with_a_gap(town):
    cable = town.asset("cables", "C-MO2-03")
    points = line(cable)
    (ax, ay), (bx, by) = points[0], points[1]
    length = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5

    def at(metres):
        return [ax + (bx - ax) * metres / length, ay + (by - ay) * metres / length]
    cable["geometry"] = {"type": "MultiLineString",
                         "coordinates": [[points[0], at(4.0)], [at(5.5)] + points[1:]]}
    town.expect("near-miss", "cables", "C-MO2-03", "two parts, 1.5 m between them")
    for column in ("MO2-03", "MO2-04"):
        town.expect("not-traced", "columns", column, "beyond the gap in C-MO2-03")
    town.expect("not-traced", "cables", "C-MO2-04", "beyond the gap in C-MO2-03")


def one_trench(town):
    """A cable of another circuit beside those of OA2, past two of its columns, from joint to joint."""
    places = [p for n in (2, 3) for p in line(town.asset("cables", "C-OA2-0%d" % n))]
    places = [[x, y + 0.2] for x, y in places]
    (x, y), (u, v) = places[0], places[-1]
    places = [[x - 3.0, y + 6.0]] + places + [[u + 3.0, v + 6.0]]
    cable = copy.deepcopy(town.asset("cables", "C-OA2-02"))
    cable["geometry"] = {"type": "MultiLineString", "coordinates": [places]}
    town.add("cables", cable).update(cable_id="C-TRENCH", circuit="OA9", length_m=None)
    for name, place in (("J-T1", places[0]), ("J-T2", places[-1])):
        joint = copy.deepcopy(town.features("joints")[0])
        joint["geometry"]["coordinates"] = place
        town.add("joints", joint).update(joint_id=name, kind="pot end", fuse_type=None, fuse_a=None)
    town.expect("ambiguous-snap", "cables", "C-TRENCH", "past columns of another circuit's label")
    town.expect("not-traced", "cables", "C-TRENCH", "no supply on record")


def main(folder):
    town = Town(folder)
    for wear in (numbers_as_text, words_any_way, leading_zeros, sizes, swapped_and_zero, wrong_side,
                 old_beside_new, doubled, reversed_and_repeated, through_columns, short_and_beyond,
                 parts_with_a_gap, one_trench):
        wear(town)
    town.write()


if __name__ == "__main__":
    main(sys.argv[1])
