"""Ohms of cables from the catalogue file, by the definitions of docs/method.md section 3."""

import csv
import os

ARMOUR_FACTOR = 1.1


def read_cables(folder):
    with open(os.path.join(folder, "cables.csv"), newline="", encoding="utf-8") as file:
        return {row["cable_type"]: row for row in csv.DictReader(file)}


def circuit_types(cables):
    return sorted(name for name, row in cables.items() if row["use"] == "circuit")


def conductor(row, name, hot, factor=1.0, bound="high"):
    r20 = float(row[name + "_r20_ohm_km"])
    if bound == "low":  # known as a range only: lead sheaths, armour of thick five-core cables
        r20 = float(row.get(name + "_r20_low_ohm_km") or r20)
    t = float(row[name + "_c"]) if hot else 20.0
    r = r20 * (1.0 + float(row[name + "_alpha"]) * (t - 20.0))
    return complex(r * (factor if hot else 1.0), float(row[name + "_x_ohm_km"]))


def parallel(a, b):
    return a * b / (a + b)


def earth(row, hot, bound):
    """The high bound of armour and core is the core alone; the low bound has both."""
    path = row["earth_path"]
    if path == "armour":
        return conductor(row, "armour", hot, ARMOUR_FACTOR, bound)
    if path == "neutral":
        return conductor(row, "neutral", hot)
    if path == "cpc":
        return conductor(row, "cpc", hot)
    if path == "armour+cpc":
        core = conductor(row, "cpc", hot)
        return core if bound == "high" else parallel(
            core, conductor(row, "armour", hot, ARMOUR_FACTOR, bound))
    raise ValueError("no earth path: " + row["cable_type"])


def ohms(row, part, hot, bound, metres):
    per_km = earth(row, hot, bound) if part == "earth" else conductor(row, part, hot)
    return per_km * (metres / 1000.0)
