"""Interval arithmetic: what a written number may stand for, carried through a reckoning.

A number of six digits or more, or of seven decimals, is rounded to its last digit; any other is exact.
"""

import math
import re

SLACK = 1e-12  # rounding of doubles on the way


class Interval:
    def __init__(self, low, high=None):
        self.low = low
        self.high = low if high is None else high

    def __add__(self, o):
        o = of(o)
        return Interval(self.low + o.low, self.high + o.high)

    def __sub__(self, o):
        o = of(o)
        return Interval(self.low - o.high, self.high - o.low)

    def __mul__(self, o):
        o = of(o)
        ends = [a * b for a in (self.low, self.high) for b in (o.low, o.high)]
        return Interval(min(ends), max(ends))

    def __truediv__(self, o):
        o = of(o)
        if o.low <= 0 <= o.high:
            raise ZeroDivisionError("division by an interval around zero")
        return self * Interval(1 / o.high, 1 / o.low)

    def __neg__(self):
        return Interval(-self.high, -self.low)

    def __pow__(self, o):
        o = of(o)
        if o.low == o.high == 2:
            ends = [self.low ** 2, self.high ** 2]
            return Interval(0.0 if self.low <= 0 <= self.high else min(ends), max(ends))
        ends = [a ** b for a in (self.low, self.high) for b in (o.low, o.high)]
        return Interval(min(ends), max(ends))

    def width(self):
        return self.high - self.low

    def middle(self):
        return (self.low + self.high) / 2

    def meets(self, o):
        slack = SLACK * max(abs(self.low), abs(self.high), abs(o.low), abs(o.high))
        return self.low <= o.high + slack and o.low <= self.high + slack


def of(value):
    return value if isinstance(value, Interval) else Interval(value)


def sqrt(v):
    v = of(v)
    return Interval(math.sqrt(max(0.0, v.low)), math.sqrt(v.high))


def log(v):
    v = of(v)
    return Interval(math.log(v.low), math.log(v.high))


def largest(*vs):
    return Interval(max(of(v).low for v in vs), max(of(v).high for v in vs))


def smallest(*vs):
    return Interval(min(of(v).low for v in vs), min(of(v).high for v in vs))


def read(text):
    """The interval that a written number stands for."""
    value = float(text)
    digits = text.lstrip("-").split("e")[0]
    significant = len(digits.replace(".", "").lstrip("0"))
    decimals = len(digits.partition(".")[2])
    if significant < 6 and decimals < 7:
        return Interval(value)
    half = 0.5 * 10.0 ** -decimals
    if "e" in text:
        half *= 10.0 ** int(text.split("e")[1])
    return Interval(value - half, value + half)


def evaluate(expression):
    """An expression of written numbers, + - * / ^, sqrt, log, max and min."""
    code = re.sub(r"(?<![\w.])\d+(?:\.\d+)?(?:e[-+]?\d+)?", lambda m: "read('%s')" % m.group(0),
                  expression).replace("^", "**")
    if not re.fullmatch(r"(?:read\('[-+\d.e]+'\)|sqrt|log|max|min|[-+*/(),\s])+", code):
        raise ValueError("not an expression: " + expression)
    names = {"read": read, "sqrt": sqrt, "log": log, "max": largest, "min": smallest}
    return of(eval(code, {"__builtins__": {}}, names))  # nothing but the names above
