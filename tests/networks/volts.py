"""Voltages of constant-power loads by Newton's method on the nodal equations (scipy's sparse LU).

Unknown are the potentials of every node but the supply's, on each phase's line and on the neutral:
sum of (V_i - V_j) / z over the cables at i = -(current drawn at i), the current of a load of S volt-ampere
between line and neutral being conj(S / (V_line - V_neutral)).
"""

import cmath
import math

import numpy
from scipy.sparse import bmat, coo_matrix, csc_matrix
from scipy.sparse.linalg import splu

PHASES = {"L1": 0, "L2": 1, "L3": 2}
MOST_STEPS = 30


def admittance(count, branches):
    """Nodal matrix of one conductor, node 0 (the supply) left out, and its column to node 0."""
    rows, columns, values = [], [], []
    to_supply = numpy.zeros(count - 1, dtype=complex)
    for a, b, z in branches:
        for i, j in ((a, b), (b, a)):
            if i == 0:
                continue
            rows.append(i - 1), columns.append(i - 1), values.append(1.0 / z)
            if j == 0:
                to_supply[i - 1] += 1.0 / z
            else:
                rows.append(i - 1), columns.append(j - 1), values.append(-1.0 / z)
    shape = (count - 1, count - 1)
    return csc_matrix(coo_matrix((values, (rows, columns)), shape=shape)), to_supply


def real_form(matrix):
    """The real matrix that acts on (real, imaginary) as `matrix` does on complex numbers."""
    return bmat([[matrix.real, -matrix.imag], [matrix.imag, matrix.real]], format="csc")


def conjugate_form(rows, columns, values, size):
    """The real matrix of v -> A conj(v)."""
    a = coo_matrix((values, (rows, columns)), shape=(size, size))
    return bmat([[a.real, a.imag], [a.imag, -a.real]], format="csc")


def solve(count, line, neutral, loads, u0):
    """Drop in percent of u0 at each (node, phase) asked in `loads`: a list of (node, phase, VA)."""
    phases = sorted({phase for _, phase, _ in loads})
    m = count - 1
    line_y, line_0 = admittance(count, line)
    neutral_y, _ = admittance(count, neutral)
    emf = {p: cmath.rect(u0, -2.0 * math.pi * p / 3.0) for p in phases}
    blocks = [[None] * (len(phases) + 1) for _ in range(len(phases) + 1)]
    for k in range(len(phases)):
        blocks[k][k] = line_y
    blocks[-1][-1] = neutral_y
    y = bmat(blocks, format="csc")
    size = m * (len(phases) + 1)
    fixed = numpy.concatenate([line_0 * emf[p] for p in phases] + [numpy.zeros(m)])
    at = numpy.array([m * phases.index(p) + n - 1 for n, p, _ in loads])
    back = numpy.array([m * len(phases) + n - 1 for n, _, _ in loads])
    power = numpy.array([s for _, _, s in loads], dtype=complex)
    v = numpy.concatenate([numpy.full(m, emf[p]) for p in phases] + [numpy.zeros(m)])
    for _ in range(MOST_STEPS):
        u = v[at] - v[back]
        current = numpy.conj(power / u)
        fault = y @ v - fixed
        numpy.add.at(fault, at, current)
        numpy.subtract.at(fault, back, current)
        slope = -numpy.conj(power / u ** 2)  # of the current by conj(u)
        change = conjugate_form(numpy.concatenate([at, at, back, back]),
                                numpy.concatenate([at, back, at, back]),
                                numpy.concatenate([slope, -slope, -slope, slope]), size)
        step = splu((real_form(y) + change).tocsc()).solve(
            numpy.concatenate([fault.real, fault.imag]))
        v = v - (step[:size] + 1j * step[size:])
        # Steps shrink by their square, down to what rounding in the nodal matrix leaves (some 1e-11).
        if numpy.max(numpy.abs(step)) < 1e-8 * u0:
            return 100.0 * (u0 - numpy.abs(v[at] - v[back])) / u0
    raise RuntimeError("Newton's method does not arrive")
