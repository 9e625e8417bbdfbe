#!/usr/bin/env python3
"""Writes random cables and columns for the database to measure: random_map.py SEED FOLDER

Small groups far from each other, each a bent cable and, drawn at random, a column off one of its
ends, a column beside its middle, another cable that ends beside its middle, or a column beyond an
end. No distance lies near a limit (0.5 m for snapping, 5 m for gaps), so that every method must
agree on what is joined. Lines run either way.
"""
import math
import random
import sys

GROUPS = 150


def main():
    rng = random.Random(int(sys.argv[1]))
    cables, columns = [], []
    for n in range(GROUPS):
        x0, y0 = 400000.0 + 200.0 * (n % 15), 300000.0 + 200.0 * (n // 15)
        turn = rng.uniform(-math.pi, math.pi)

        def place(along, aside):
            return (x0 + along * math.cos(turn) - aside * math.sin(turn),
                    y0 + along * math.sin(turn) + aside * math.cos(turn))

        def off(point, least, most):
            by, to = rng.uniform(least, most), rng.uniform(-math.pi, math.pi)
            return point[0] + by * math.cos(to), point[1] + by * math.sin(to)

        def cable(name, points):
            cables.append((name, points if rng.random() < 0.5 else points[::-1]))

        line = [place(0, 0), place(rng.uniform(12, 18), rng.uniform(-2, 2)),
                place(rng.uniform(30, 40), 0)]
        cable(f"C{n:03}", line)
        share = rng.uniform(0.3, 0.7)
        (ax, ay), (bx, by) = line[1], line[2]
        length = math.hypot(bx - ax, by - ay)
        side = rng.choice((-1, 1)) * rng.uniform(0.02, 0.45)
        beside = (ax + share * (bx - ax) - side * (by - ay) / length,
                  ay + share * (by - ay) + side * (bx - ax) / length)
        kind = n % 4
        if kind == 0:
            columns.append((f"K{n:03}", off(line[0], 0.02, 0.45)))
        elif kind == 1:
            columns.append((f"K{n:03}", beside))
        elif kind == 2:
            away = (math.copysign(25, side) * (ay - by) / length, math.copysign(25, side) * (bx - ax) / length)
            cable(f"D{n:03}", [beside, (beside[0] + away[0], beside[1] + away[1])])
        else:
            out = rng.uniform(0.8, 4.5)
            (cx, cy), (dx, dy) = line[1], line[2]
            run = math.hypot(dx - cx, dy - cy)
            columns.append((f"K{n:03}", (dx + out * (dx - cx) / run, dy + out * (dy - cy) / run)))
    with open(sys.argv[2] + "/cables.csv", "w") as file:
        file.write("WKT,cable_id\n")
        for name, points in cables:
            file.write('"LINESTRING (%s)",%s\n' % (", ".join("%.6f %.6f" % p for p in points), name))
    with open(sys.argv[2] + "/columns.csv", "w") as file:
        file.write("WKT,column_id\n")
        for name, point in columns:
            file.write('"POINT (%.6f %.6f)",%s\n' % (*point, name))


if __name__ == "__main__":
    main()
