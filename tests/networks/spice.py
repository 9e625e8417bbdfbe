"""Driving-point impedances by ngspice: one ampere at 50 Hz into a point, the voltage there.

Many circuits that have nothing to do with one another stand in one deck: run k puts the ampere into
the k-th point of each.
"""

import math
import os
import re
import subprocess

OMEGA = 2.0 * math.pi * 50.0


class Circuit:
    """Branches between named nodes; "0" is the reference. Impedances in ohm at 50 Hz."""

    def __init__(self):
        self.branches, self.points = [], []  # (a, b, z); (name, plus, minus)

    def branch(self, a, b, z):
        self.branches.append((a, b, z))

    def point(self, name, plus, minus):
        """Where an impedance is asked for, between two nodes."""
        self.points.append((name, plus, minus))


def branch_lines(prefix, number, a, b, z):
    """A resistor, a coil, or both in series."""
    a = "0" if a == "0" else prefix + a
    b = "0" if b == "0" else prefix + b
    name = "%s%d" % (prefix, number)
    if z.imag == 0.0:
        return ["R%s %s %s %.17g" % (name, a, b, z.real)]
    if z.real == 0.0:
        return ["L%s %s %s %.17g" % (name, a, b, z.imag / OMEGA)]
    return ["R%s %s %sm%d %.17g" % (name, a, prefix, number, z.real),
            "L%s %sm%d %s %.17g" % (name, prefix, number, b, z.imag / OMEGA)]


def deck(circuits, run):
    lines = ["* random networks, run %d" % run]
    asked = []
    for n, circuit in enumerate(circuits):
        if run >= len(circuit.points):
            continue
        prefix = "c%dx" % n
        for number, (a, b, z) in enumerate(circuit.branches):
            lines += branch_lines(prefix, number, a, b, z)
        name, plus, minus = circuit.points[run]
        plus, minus = ("0" if end == "0" else prefix + end for end in (plus, minus))
        lines.append("I%s %s %s dc 0 ac 1" % (prefix, minus, plus))
        asked.append((n, name, plus, minus))
    lines += [".control", "set numdgt=16", "ac lin 1 50 50"]
    for k, (_, _, plus, minus) in enumerate(asked):
        lines.append("let z%d = %s" % (k, "v(%s)" % plus if minus == "0" else
                                       "v(%s)-v(%s)" % (plus, minus)))
        lines.append("print z%d" % k)
    lines += [".endc", ".end", ""]
    return "\n".join(lines), asked


def run_deck(text, folder, name):
    path = os.path.join(folder, name)
    with open(path, "w", encoding="ascii") as file:
        file.write(text)
    done = subprocess.run(["ngspice", "-b", path], capture_output=True, text=True, check=False)
    return done.stdout, done.stderr


def impedances(circuits, folder):
    """For each circuit a dictionary from the names of its points to complex ohms."""
    results = [{} for _ in circuits]
    for run in range(max((len(c.points) for c in circuits), default=0)):
        text, asked = deck(circuits, run)
        printed, said = run_deck(text, folder, "run%d.cir" % run)
        values = re.findall(r"^z(\d+) = (\S+),(\S+)\s*$", printed, re.MULTILINE)
        if [int(k) for k, _, _ in values] != list(range(len(asked))):
            raise RuntimeError("ngspice gave %d values, not %d:\n%s"
                               % (len(values), len(asked), said))
        for (n, name, _, _), (_, real, imaginary) in zip(asked, values):
            results[n][name] = complex(float(real), float(imaginary))
    return results
