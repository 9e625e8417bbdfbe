"""The worn town against its key and against the clean one.

    compare.py CLEAN.gpkg WORN.gpkg CLEAN_KEY.csv WORN_KEY.csv

Prints precision and recall for each rule. No verdict of the worn town may contradict the clean one.
"""

import collections
import csv
import sqlite3
import sys

RENAMED = {"0302": "CA3-02", "302": "CA3-03"}
SETTLED = ("meets", "fails")


def plain(rule, layer, asset):
    """The number of a feature without an id of its own depends on the format."""
    return rule, layer, "fid" if asset.startswith("fid:") else asset


def findings(path):
    return {plain(*row) for row in sqlite3.connect(path).execute(
        "select rule, asset_layer, asset_id from findings")}


def key(path):
    with open(path, newline="", encoding="utf-8") as file:
        return {plain(r["rule"], r["asset_layer"], r["asset_id"]) for r in csv.DictReader(file)}


def verdicts(path):
    return {RENAMED.get(name, name): (verdict, why) for name, verdict, why in
            sqlite3.connect(path).execute("select lw_id, lw_verdict, lw_why from columns")}


def rates(found, wanted, known):
    """By rule: found of what was worn, and how much of what was found was worn."""
    rules = collections.defaultdict(lambda: [0, 0, 0])
    for one in wanted:
        rules[one[0]][0] += 1
        rules[one[0]][1] += one in found
    for one in found - known:
        rules[one[0]][2] += one not in wanted
    return sorted(rules.items())


def main(clean, worn, clean_key, worn_key):
    found, wanted = findings(worn), key(worn_key)
    faults = []
    print("%-22s %6s %6s %9s %7s" % ("rule", "worn", "found", "precision", "recall"))
    for rule, (planted, hits, false) in rates(found, wanted, key(clean_key)):
        print("%-22s %6d %6d %9.2f %7.2f" % (rule, planted, hits, hits / max(hits + false, 1),
                                             hits / max(planted, 1)))
    faults += ["not found: %s at %s %s" % one for one in sorted(wanted - found)]
    faults += ["not worn: %s at %s %s" % one for one in sorted(found - wanted - key(clean_key))]
    before, after = verdicts(clean), verdicts(worn)
    side_by_side = collections.Counter()
    for name, (verdict, why) in after.items():
        if name in before:
            side_by_side[(before[name][0], verdict)] += 1
            if verdict in SETTLED and verdict != before[name][0]:
                faults.append("%s: %s, but %s in the clean town (%s)" % (name, verdict,
                                                                         before[name][0], why))
    for (old, new), count in sorted(side_by_side.items()):
        print("%4d columns: %s -> %s" % (count, old, new))
    if faults:
        sys.exit("\n".join(faults))


if __name__ == "__main__":
    main(*sys.argv[1:])
