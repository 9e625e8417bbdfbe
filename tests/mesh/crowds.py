"""Crowds: dozens of supplies joined, thousands of cables side by side. What is not followed any
more must be said to be undecided, and the time must stay near-linear (CTest's limit ends it).

Seed 1: 64 supplies on one line of columns; 2: 17, one more than are followed; 3: 4,000 equal cables
between a pillar and a column, each a way of its own; 4: the same as one way; 5: eight supplies joined
by cables without a length on record, so that no order of opening is followed.
"""
import sqlite3
import sys

from layers import Layers

TYPE = "SWA XLPE Cu 2x6"
Y = 500000
JOINED = {1: 64, 2: 17, 5: 8}
CABLES = 4000


def write_joined(layers, count):
    last = None
    for i in range(count):
        x = 400000 + i * 60
        layers.supply(f"P{i:03}", [x, Y + 10], 0.3, 1.0, 16)
        layers.column(f"C{i:03}", [x, Y])
        layers.cable(f"S{i:03}", [[x, Y + 10], [x, Y]], TYPE, 10.0 + i % 3)
        if last is not None:
            layers.cable(f"L{i:03}", [[last, Y], [x, Y]], TYPE, 60.0)
        last = x


def write_parallel(layers):
    layers.supply("P", [400000, Y], 0.3, 1.0, 16)
    layers.column("A", [400020, Y])
    for i in range(CABLES):
        layers.cable(f"K{i:05}", [[400000, Y], [400020, Y]], TYPE, 20.0)


def write(seed, folder):
    layers = Layers()
    if seed in JOINED:
        write_joined(layers, JOINED[seed])
    else:
        write_parallel(layers)
    if seed == 5:
        for cable in layers.features["cables"]:
            cable["properties"]["length_m"] = None
    if seed == 4:
        for cable in layers.features["cables"]:
            cable["properties"]["circuit"] = "1"
    layers.write(folder, "")


def expect(condition, what):
    if not condition:
        sys.exit(what)


def compare(seed, folder):
    db = sqlite3.connect(f"{folder}/checked.gpkg")
    rows = db.execute("select lw_in_verdict, lw_zs_low_ohm, lw_zs_high_ohm, lw_why, lw_in_margin"
                      " from columns").fetchall()
    circuits, = db.execute("select count(*) from circuits").fetchone()
    if seed == 4:
        # 4,000 cables of 0.02 km * 13.709591 ohm/km hot (tests/maps/thin_line.txt) side by side
        high = 0.3 + 0.02 * 13.709591 / CABLES
        verdict, _, zs, _, _ = rows[0]
        expect(verdict == "meets" and abs(zs - high) < 1e-8, f"{verdict}, {zs} ohm, not {high}")
        expect(circuits == 1, f"{circuits} circuits")
    else:
        ways = JOINED.get(seed, CABLES)
        expect(circuits == ways, f"{circuits} circuits, not {ways}")
        # The loop from one pillar is what it is with all its fuses closed; of joined supplies each
        # may be left alone with the fault, and that is not worked out.
        side_by_side = 0.3 + 0.02 * 13.709591 / CABLES
        for verdict, low, high, why, margin in rows:
            expect(verdict == "undecided", f"{verdict} with {ways} devices around it")
            expect(low is not None and low > 0.0, f"{low} ohm")
            expect(margin is None, f"a margin of {margin} where nothing is followed")
            if seed == 5:
                continue
            expect(high is None if seed in JOINED else abs(high - side_by_side) < 1e-8,
                   f"{low} to {high} ohm")
            expect("more than 16 devices or supplies" in why and len(why) < 1000, why)
    print(f"seed {seed}: {len(rows)} columns, {circuits} circuits")


if __name__ == "__main__":
    if sys.argv[1] == "write":
        write(int(sys.argv[2]), sys.argv[3])
    else:
        compare(int(sys.argv[2]), sys.argv[3])
