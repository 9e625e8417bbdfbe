"""Every completion of an incomplete record stays within the bounds of that record.

Copy 0 of a small mesh lacks types and lengths; the other copies are the same mesh with what is
missing drawn at random, half of them from the corners of its range. All are checked in one run.
"""
import random
import sqlite3
import sys

from layers import Layers

COPIES = 100
TYPES = ["SWA XLPE Cu 2x6", "SWA XLPE Cu 2x16", "SWA XLPE Cu 2x25", "SWA PVC Cu 2x10",
         "SWA XLPE Cu 3x6", "SWA XLPE Cu 3x10 both", "SWA XLPE Cu 2x70"]
PILLAR = (-1, -1)
SPACING = 30.0


def edges_of(draw):
    """A square of four loops on a trunk, with a stub; sometimes a second cable to the pillar."""
    edges = [((i, j), (i + 1, j)) for i in range(2) for j in range(3)]
    edges += [((i, j), (i, j + 1)) for i in range(3) for j in range(2)]
    edges += [((0, 0), PILLAR), ((2, 0), (3, -1))]
    if draw.random() < 0.5:
        edges.append(((2, 2), PILLAR))
    return edges


def write(seed, folder):
    draw = random.Random(seed)
    edges = edges_of(draw)
    known = [(draw.choice(TYPES) if draw.random() < 0.4 else None,
              round(draw.uniform(25, 60), 2) if draw.random() < 0.4 else None) for _ in edges]
    layers = Layers()
    for copy in range(COPIES + 1):
        def place(point, at=copy):
            return [300000 + at % 40 * 400 + SPACING * point[0],
                    500000 + at // 40 * 400 + SPACING * point[1]]
        for point in sorted({p for e in edges for p in e} - {PILLAR}):
            layers.column(f"{copy}:{point[0]},{point[1]}", place(point))
        layers.supply(f"P{copy}", place(PILLAR), 0.2, 5.0, 32)
        at_corner = draw.random() < 0.5
        for number, (edge, (cable_type, length)) in enumerate(zip(edges, known)):
            a, b = place(edge[0]), place(edge[1])
            if copy > 0:
                drawn = ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5
                cable_type = cable_type or draw.choice(TYPES)
                # Drawn to drawn * 1.03 + 3 m; the grid's metre differs from the ground's by < 0.1 %.
                low, high = drawn * 1.002, drawn * 1.028 + 3.0
                length = length or (draw.choice([low, high]) if at_corner
                                    else draw.uniform(low, high))
            layers.cable(f"C{copy}_{number}", (a, b), cable_type, length)
    stock = ", ".join(f'"{t}"' for t in TYPES)
    layers.write(folder, f"[cables]\nmissing = {{ cable_type = [{stock}] }}\n")


def compare(seed, folder):
    rows = sqlite3.connect(f"{folder}/checked.gpkg").execute(
        "select column_id, lw_zs_low_ohm, lw_zs_high_ohm, lw_zs_20c_low_ohm, lw_zs_20c_high_ohm,"
        " lw_pscc_max_ka, lw_in_verdict from columns").fetchall()
    bounds = {r[0][2:]: r for r in rows if r[0].startswith("0:")}
    faults, seen = [], 0
    for row in rows:
        copy, point = row[0].split(":")
        if copy == "0":
            continue
        seen += 1
        box = bounds[point]
        for low in (1, 3):
            if not (box[low] * (1 - 1e-12) <= row[low] and
                    row[low + 1] <= box[low + 1] * (1 + 1e-12)):
                faults.append(f"{row[0]}: {row[low]} to {row[low + 1]} leaves "
                              f"{box[low]} to {box[low + 1]}")
        if row[5] > box[5] * (1 + 1e-12):
            faults.append(f"{row[0]}: {row[5]} kA is above {box[5]}")
        if box[6] in ("meets", "fails") and row[6] != box[6]:
            faults.append(f"{row[0]}: {row[6]}, but the record's verdict is {box[6]}")
    print(f"seed {seed}: {seen} completed columns, {len(faults)} outside")
    if faults or seen != COPIES * len(bounds):
        sys.exit("\n".join(faults[:10]) or "columns are missing")


if __name__ == "__main__":
    if sys.argv[1] == "write":
        write(int(sys.argv[2]), sys.argv[3])
    else:
        compare(int(sys.argv[2]), sys.argv[3])
