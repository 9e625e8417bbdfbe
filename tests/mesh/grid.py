"""A grid of cables with hundreds of loops against the nodal equations, solved here by elimination.

Line and armour are two networks; the loop at a column is the sum of their driving-point impedances.
Ohms per km come from the catalogue's rows; conductors hot, armour with its factor of 1.1
(docs/method.md sections 3 and 5). Agreement to 1e-9 is asked.
"""
import csv
import random
import sqlite3
import sys

from layers import Layers

SIDE = 9
TYPES = ["SWA XLPE Cu 2x6", "SWA XLPE Cu 2x16", "SWA XLPE Cu 2x25"]
ZE = 0.1


def network(seed):
    draw = random.Random(seed)
    nodes = [(i, j) for i in range(SIDE) for j in range(SIDE)]
    edges = [((i, j), (i + di, j + dj)) for i, j in nodes for di, dj in ((1, 0), (0, 1))
             if i + di < SIDE and j + dj < SIDE]
    edges.append(((-1, -1), (0, 0)))
    if seed % 2 == 0:
        edges.append(((-1, -1), (0, 1)))
    return nodes, [(a, b, draw.choice(TYPES), round(draw.uniform(25, 60), 3)) for a, b in edges]


def write(seed, folder):
    nodes, edges = network(seed)
    layers = Layers()

    def place(point):
        return [400000 + 30.0 * point[0], 300000 + 30.0 * point[1]]
    for node in nodes:
        layers.column(f"{node[0]},{node[1]}", place(node))
    layers.supply("P", place((-1, -1)), ZE, 5.0, 63)
    for number, (a, b, cable_type, length) in enumerate(edges):
        layers.cable(f"C{number}", (place(a), place(b)), cable_type, length)
    layers.write(folder, "")


def per_km(catalogue):
    ohms = {}
    with open(f"{catalogue}/cables.csv", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            if row["cable_type"] not in TYPES:
                continue

            def hot(part, factor, row=row):
                r, x, alpha, c = (float(row[f"{part}_{k}"])
                                  for k in ("r20_ohm_km", "x_ohm_km", "alpha", "c"))
                return complex(r * (1 + alpha * (c - 20)) * factor, x)
            ohms[row["cable_type"]] = (hot("line", 1.0), hot("armour", 1.1))
    return ohms


def driving_points(nodes, branches):
    """Diagonal of the inverse of the nodal matrix, the pillar held at zero."""
    position = {node: n for n, node in enumerate(nodes)}
    size = len(nodes)
    matrix = [[0j] * size + [1.0 + 0j if r == c else 0j for c in range(size)]
              for r in range(size)]
    for a, b, ohms in branches:
        for p, q in ((a, b), (b, a)):
            if p in position:
                matrix[position[p]][position[p]] += 1 / ohms
                if q in position:
                    matrix[position[p]][position[q]] -= 1 / ohms
    for c in range(size):
        pivot = matrix[c][c]
        matrix[c] = [v / pivot for v in matrix[c]]
        for r in range(size):
            if r != c and matrix[r][c] != 0:
                factor = matrix[r][c]
                matrix[r] = [v - factor * w for v, w in zip(matrix[r], matrix[c])]
    return {node: matrix[n][size + n] for node, n in position.items()}


def compare(seed, folder, catalogue):
    nodes, edges = network(seed)
    ohms = per_km(catalogue)
    line, armour = (driving_points(nodes, [(a, b, ohms[t][part] * length / 1000)
                                           for a, b, t, length in edges]) for part in (0, 1))
    worst, seen = 0.0, 0
    for name, low, high in sqlite3.connect(f"{folder}/checked.gpkg").execute(
            "select column_id, lw_zs_low_ohm, lw_zs_high_ohm from columns"):
        node = tuple(int(part) for part in name.split(","))
        expected = ZE + abs(line[node] + armour[node])
        worst = max(worst, abs(low - expected) / expected, abs(high - expected) / expected)
        seen += 1
    print(f"seed {seed}: {seen} columns, {len(edges) - len(nodes)} loops or more, "
          f"worst relative difference {worst:.2e}")
    if seen != len(nodes) or worst > 1e-9:
        sys.exit("the program and the nodal equations disagree")


if __name__ == "__main__":
    if sys.argv[1] == "write":
        write(int(sys.argv[2]), sys.argv[3])
    else:
        compare(int(sys.argv[2]), sys.argv[3], sys.argv[4])
