#!/usr/bin/env python3
"""Two results of `loopwalk check`, that of the native town and that of a converted one, compared.

    compare.py NATIVE.gpkg OTHER.gpkg [--tolerance R] [--without ID] [--placed-only]

Every column must have the same feed, supply, way, upstream asset and verdicts, and the same
impedances and margin within the relative tolerance R (default 1e-9: only the rounding of a text).
Every finding must be there again: the same rule about the same asset, as often. The asset given
with --without must not be in OTHER at all: its format cannot hold it; nor, with --placed-only, can it hold
findings without a place. Ids that the program made
from feature ids (fid:7) count as equal, since most formats number features anew.
"""
import argparse
import collections
import re
import sqlite3
import sys

TEXTS = ("lw_feed", "lw_feed_basis", "lw_supply_id", "lw_way", "lw_upstream_id", "lw_in_device",
         "lw_in_state", "lw_verdict", "lw_in_verdict", "lw_out_verdict", "lw_breaking_verdict",
         "lw_heat_verdict", "lw_vdrop_verdict", "lw_basis")
NUMBERS = ("lw_zs_low_ohm", "lw_zs_high_ohm", "lw_run_m", "lw_in_margin", "lw_pscc_max_ka")


def plain(value):
    """Null and the empty text are one: most formats cannot tell them apart."""
    return "" if value is None else re.sub(r"fid:\d+", "fid", str(value))


def number(value):
    """CSV and MapInfo results hold numbers as texts, an empty one for null."""
    return None if value in (None, "") else float(value)


def columns(path):
    database = sqlite3.connect(f"file:{path}?mode=ro", uri=True)
    rows = database.execute(f"SELECT lw_id, {', '.join(TEXTS + NUMBERS)} FROM columns").fetchall()
    groups = collections.defaultdict(list)
    for row in rows:
        texts = tuple(plain(value) for value in row[1:len(TEXTS) + 1])
        groups[plain(row[0])].append((texts, tuple(map(number, row[len(TEXTS) + 1:]))))
    for group in groups.values():
        group.sort(key=lambda r: (r[0], [(n is None, n or 0.0) for n in r[1]]))
    return groups


def findings(path, placed_only=False):
    database = sqlite3.connect(f"file:{path}?mode=ro", uri=True)
    rows = database.execute("SELECT rule, severity, asset_layer, asset_id FROM findings"
                            + (" WHERE geom IS NOT NULL" if placed_only else ""))
    return collections.Counter(tuple(map(plain, row)) for row in rows)


def far(a, b, tolerance):
    if a is None or b is None:
        return a is not b
    return abs(a - b) > tolerance * max(abs(a), abs(b))


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("native")
    parser.add_argument("other")
    parser.add_argument("--tolerance", type=float, default=1e-9)
    parser.add_argument("--without", default="")
    parser.add_argument("--placed-only", action="store_true")
    options = parser.parse_args()
    wrong = []
    native, other = columns(options.native), columns(options.other)
    compared = 0
    if options.without and native.pop(options.without, None) is None:
        wrong.append(f"column {options.without} is not in {options.native}")
    for key in sorted(native.keys() | other.keys()):
        if len(native[key]) != len(other[key]):
            wrong.append(f"column {key}: {len(native[key])} and {len(other[key])} times")
            continue
        for (texts, numbers), (texts2, numbers2) in zip(native[key], other[key]):
            compared += 1
            for name, a, b in zip(TEXTS, texts, texts2):
                if a != b:
                    wrong.append(f"column {key}: {name} is '{b}', not '{a}'")
            for name, a, b in zip(NUMBERS, numbers, numbers2):
                if far(a, b, options.tolerance):
                    wrong.append(f"column {key}: {name} is {b}, not {a}")
    before = findings(options.native, options.placed_only)
    after = findings(options.other)
    for key in [key for key in before if key[3] == options.without]:
        del before[key]
    for sign, counts in (("missing", before - after), ("in excess", after - before)):
        wrong += [f"finding {' '.join(key)}: {count} {sign}" for key, count in counts.items()]
    if compared < 300 or sum(before.values()) < 50:
        wrong.append(f"only {compared} columns and {sum(before.values())} findings: not the town")
    for line in wrong[:40]:
        print(line, file=sys.stderr)
    if wrong:
        print(f"{len(wrong)} differences", file=sys.stderr)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
