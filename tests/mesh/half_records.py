"""Every completion of a half-recorded supply, transformer, main or fuse stays within the bounds of the record.

Copy 0 of each case lacks what is drawn to be missing; the other copies have it drawn at random within the
ranges of docs/method.md section 12, half of them from the corners, and nothing else changed. A verdict of
the record that is decided must be that of every completion.
"""
import random
import sqlite3
import sys

from layers import Layers

CASES = 16
COPIES = 40
SPACING = 50.0
LIGHTING = ["SWA XLPE Cu 2x6", "SWA XLPE Cu 2x16", "SWA XLPE Cu 2x25", "SWA XLPE Cu 3x10 both"]
STREET = ["Main CNE Al 95", "Main CNE Al 185", "Main CNE Al 300", "Main SWA XLPE Al 4x185"]
# Every fuse type of the catalogue that has the rating (devices.csv).
CARTRIDGE = ["BS 88-2", "BS 88-3", "gG"]
FUSES = {6.0: CARTRIDGE, 16.0: CARTRIDGE, 20.0: CARTRIDGE + ["BS 1361", "BS 3036"], 32.0: CARTRIDGE,
         63.0: CARTRIDGE}
MOST_ZE = {"TN-C-S": 0.35, "TN-S": 0.8}
SERVICE_KA, U0, CMAX = 16.0, 230.0, 1.1
VERDICTS = ("lw_in_verdict", "lw_out_verdict", "lw_breaking_verdict", "lw_heat_verdict")


def strongest(kiloamperes):
    return CMAX * U0 / (kiloamperes * 1000.0)


class Case:
    """A record with holes. Points: N substation, a and b on its main, V the supply, 0 to 5 behind it."""

    POINTS = {"N": (0, 0), "a": (1, 0), "b": (2, 0), "V": (3, 0), "0": (3, 1), "1": (4, 1), "2": (4, 2),
              "3": (3, 2), "4": (5, 2), "t": (1, 1), "u": (1, 2)}

    def __init__(self, draw):
        self.draw = draw
        self.has_main = draw.random() < 0.6
        self.mains = [self.line(draw, ends, STREET) for ends in ("Na", "ab", "bV")] if self.has_main else []
        self.cables = [self.line(draw, ends, LIGHTING) for ends in ("V0", "01", "12", "23", "24")]
        if draw.random() < 0.5:
            self.cables.append(self.line(draw, "30", LIGHTING))
        if self.has_main:
            self.cables += [self.line(draw, ends, LIGHTING) for ends in ("at", "tu")]
        self.columns = [p for p in ("0", "1", "2", "3", "4") + (("t", "u") if self.has_main else ())]
        self.joint = draw.choice([None, "1", "t"])  # a fused joint in place of a column
        if self.joint in self.columns:
            self.columns.remove(self.joint)
        else:
            self.joint = None
        self.set_sources(draw)
        self.set_fuses(draw)

    @staticmethod
    def line(draw, ends, stock):
        length = draw.choice([None, SPACING * draw.uniform(1.0, 1.1)])
        return {"ends": ends, "stock": stock, "cable_type": draw.choice([None, draw.choice(stock)]),
                "length_m": length}

    def set_sources(self, draw):
        self.transformer = {"transformer_kva": draw.choice([None, 100.0, 315.0, 500.0]),
                            "transformer_z_pct": draw.choice([None, 4.0, 5.0])}
        self.is_modelled = self.has_main and None not in self.transformer.values()
        self.earthing = draw.choice(["TN-C-S", "TN-S", None])
        self.pscc = draw.choice([None, None, draw.uniform(0.5, 12.0)])
        low = strongest(self.pscc or SERVICE_KA)
        self.ze = draw.choice([None, None, draw.uniform(min(low, 0.3), 0.35)])
        self.kind = draw.choice(["service", "pillar"])
        self.phases = draw.choice([1, 3, None])

    def set_fuses(self, draw):
        self.fuses = {}
        for name, ratings in (("V", (16.0, 20.0, 32.0, 63.0)), ("joint", (6.0, 16.0)), ("columns", (6.0, 16.0))):
            rating = draw.choice(ratings)
            self.fuses[name] = (draw.choice([None, draw.choice(FUSES[rating])]), rating)

    # One completion -----------------------------------------------------------------------------

    def complete(self, draw):
        """What was missing, by name; drawn again until it lies within the ranges of the record."""
        pick = (lambda low, high: draw.choice([low, high])) if draw.random() < 0.5 else draw.uniform
        while True:
            filled = {"fuses": {name: (kind or draw.choice(FUSES[rating]), rating)
                                for name, (kind, rating) in self.fuses.items()}}
            filled["transformer"] = {
                "transformer_kva": self.transformer["transformer_kva"] or draw.choice([100.0, 315.0, 500.0]),
                "transformer_z_pct": self.transformer["transformer_z_pct"] or pick(4.0, 6.0)}
            filled["mains"] = [self.fill_line(draw, pick, line) for line in self.mains]
            filled["cables"] = [self.fill_line(draw, pick, line) for line in self.cables]
            filled["earthing"] = self.earthing or draw.choice(list(MOST_ZE))
            filled["pscc"], filled["ze"] = self.pscc, self.ze
            # With the transformer now on record the main gives what the supply's own record lacks.
            from_main = self.is_modelled or self.has_main and draw.random() < 0.5
            if not from_main:
                filled["transformer"] = self.transformer if self.has_main else {}
            if not from_main or self.pscc and self.ze:
                filled["pscc"] = self.pscc or pick(0.5, SERVICE_KA)
                most = MOST_ZE[filled["earthing"]]
                filled["ze"] = self.ze or pick(min(strongest(filled["pscc"]), most), most)
            if self.is_modelled or self.is_within(filled):
                return filled

    @staticmethod
    def fill_line(draw, pick, line):
        # Drawn to drawn * 1.03 + 1.5 m at each end with an asset; the grid's metre differs from the
        # ground's by less than 0.1 %. A cable end on a main has no allowance.
        ends = sum(end not in "ab" for end in line["ends"])
        low, high = SPACING * 1.002, SPACING * 1.028 + 1.5 * ends
        if line["stock"] is LIGHTING and line["ends"] in ("12", "01"):
            high = SPACING * 1.028 + 3.0
        return {**line, "cable_type": line["cable_type"] or draw.choice(line["stock"]),
                "length_m": line["length_m"] or pick(low, high)}

    def is_within(self, filled):
        """A main that is modelled by the completion must give a supply such as section 12 admits: no
        stronger than 16 kA, no weaker than the most of its earthing (mains by their most, 1 ohm/km)."""
        if not filled["transformer"] or None in filled["transformer"].values():
            return True
        z = filled["transformer"]["transformer_z_pct"] / 100.0 * 3.0 * U0 ** 2 / (
            filled["transformer"]["transformer_kva"] * 1000.0)
        metres = sum(line["length_m"] for line in filled["mains"])
        most = MOST_ZE[filled["earthing"]]
        low = strongest(self.pscc or SERVICE_KA)
        return z >= strongest(SERVICE_KA) and low <= z and z + metres / 1000.0 <= most

    # The rows -----------------------------------------------------------------------------------

    def write(self, layers, name, place, filled):
        def at(p):
            return [place[0] + SPACING * self.POINTS[p][0], place[1] + SPACING * self.POINTS[p][1]]

        def device(of):
            kind, rating = filled["fuses"][of]
            return {"fuse_type": kind, "fuse_a": rating}
        for p in self.columns:
            layers.add("columns", at(p), column_id=f"{name}:{p}", load_w=30, power_factor=0.9, tail_m=6.0,
                       tail_type="Flat twin and earth 1.5", owner="council", **device("columns"))
        if self.joint:
            layers.add("joints", at(self.joint), joint_id=f"J{name}", kind="fused", **device("joint"))
        layers.add("supplies", at("V"), supply_id=f"V{name}", kind=self.kind, earthing=filled["earthing"],
                   ze_ohm=filled["ze"], pscc_ka=filled["pscc"], phases=self.phases, **device("V"))
        if self.has_main:
            layers.add("supplies", at("N"), supply_id=f"N{name}", kind="substation", earthing="TN-C-S",
                       phases=3, **filled["transformer"])
        for layer, key in (("mains", "main_id"), ("cables", "cable_id")):
            for n, line in enumerate(filled[layer]):
                owner = {"owner": "council"} if layer == "cables" else {}
                layers.add(layer, [at(p) for p in line["ends"]], **{key: f"{layer[0]}{name}_{n}"},
                           cable_type=line["cable_type"], length_m=line["length_m"], **owner)

    def record(self):
        return {"fuses": self.fuses, "transformer": self.transformer if self.has_main else {},
                "mains": self.mains, "cables": self.cables, "earthing": self.earthing,
                "pscc": self.pscc, "ze": self.ze}


def write(seed, folder):
    draw = random.Random(seed)
    layers = Layers()
    for number in range(CASES):
        case = Case(draw)
        for copy in range(COPIES + 1):
            place = (300000 + 600 * copy, 400000 + 600 * number)
            case.write(layers, f"{number}.{copy}", place, case.complete(draw) if copy else case.record())
    layers.features = {name: rows for name, rows in layers.features.items() if rows}
    stock = ", ".join(f'"{t}"' for t in LIGHTING)
    # An assumed source may meet here: else nothing decided would be left to hold the copies against.
    layers.write(folder, f'[cables]\nmissing = {{ cable_type = [{stock}] }}\n'
                         '[rules]\nassumed_source = "meets"\n')


def outside(box, row):
    """What of a completion leaves the record's bounds."""
    def both(field):
        return box[field] is not None and row[field] is not None
    for low, high in (("lw_zs_low_ohm", "lw_zs_high_ohm"), ("lw_zs_20c_low_ohm", "lw_zs_20c_high_ohm")):
        if both(low) and row[low] < box[low] * (1 - 1e-12):
            yield f"{low} {row[low]} is below {box[low]}"
        if both(high) and row[high] > box[high] * (1 + 1e-12):
            yield f"{high} {row[high]} is above {box[high]}"
    if both("lw_pscc_max_ka") and row["lw_pscc_max_ka"] > box["lw_pscc_max_ka"] * (1 + 1e-12):
        yield f"{row['lw_pscc_max_ka']} kA is above {box['lw_pscc_max_ka']}"
    for verdict in VERDICTS:
        if box[verdict] in ("meets", "fails") and row[verdict] != box[verdict]:
            yield f"{verdict} {row[verdict]}, but the record's is {box[verdict]}"


def compare(seed, folder):
    db = sqlite3.connect(f"{folder}/checked.gpkg")
    db.row_factory = sqlite3.Row
    rows = {row["column_id"]: row for row in db.execute("select * from columns")}
    faults, seen, bounded, decided = [], 0, 0, 0
    for name, row in rows.items():
        number, copy = name.split(":")[0].split(".")
        box = rows[f"{number}.0:{name.split(':')[1]}"]
        if copy == "0":
            decided += sum(row[verdict] in ("meets", "fails") for verdict in VERDICTS)
            continue
        seen += 1
        bounded += box["lw_zs_high_ohm"] is not None
        faults += [f"{name}: {what}" for what in outside(box, row)]
    print(f"seed {seed}: {seen} completed columns, {bounded} of a bounded record, {len(faults)} outside; "
          f"{decided} verdicts of the records decided")
    if faults or not bounded or not decided:
        sys.exit("\n".join(faults[:10]) or "nothing was compared")


if __name__ == "__main__":
    if sys.argv[1] == "write":
        write(int(sys.argv[2]), sys.argv[3])
    else:
        compare(int(sys.argv[2]), sys.argv[3])
