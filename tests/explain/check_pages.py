"""Works out again every number on pages of `loopwalk explain`, and compares them with the output of
`loopwalk check` and with the catalogue.

    check_pages.py PAGES CHECKED.gpkg CATALOGUE

PAGES: folder written by the program `pages`. Each written number stands for an interval (see
interval.py); what follows from the numbers above a line must meet the number that stands there. So
nothing depends on a tolerance: a page with too few digits makes wide intervals, and those fail too.
"""

import collections
import csv
import math
import os
import re
import sqlite3
import sys

import interval
from interval import Interval, evaluate, read
from loop_model import LoopModel
from markdown_page import Page, numbers_in

WIDEST = 2e-4  # relative: a wider result would prove nothing
CONSTANTS = {"0.5", "1", "2", "3", "20", "50", "100", "1000"}  # of formulas

LOOP_ROUTE = ("no", "section", "from", "to", "cable type")
LINKS = ("joined", "with", "by")
ROUTE = ("no", "section", "from", "to", "cable type", "protected by")
TYPES = ("cable type", "conductor", "r20", "alpha")
LENGTHS = ("no", "drawn", "cable drawn", "laid", "ends", "low", "high")
OHMS = ("no", "length", "line r", "line x", "earth r", "earth x", "neutral r", "neutral x")
LOADS = ("column", "use", "W", "power factor")
CURRENTS = ("column", "through sections", "W", "var", "V re", "V im", "I re", "I im")
VOLTS = ("no", "I re", "I im", "R", "X", "drop re", "drop im", "V re", "V im")


class Faults:
    def __init__(self):
        self.texts, self.done = [], collections.Counter()

    def add(self, page, text):
        self.texts.append("%s: %s" % (page.title, text))

    def expect(self, page, what, worked, written, smallest_size=0.0):
        """The worked interval is narrow and meets the written number."""
        self.done[what.split(":")[0]] += 1
        shown = read(written)
        size = max(abs(worked.middle()), smallest_size)
        if worked.width() > WIDEST * size and worked.width() > 1e-9:
            self.add(page, "%s: too few digits to tell: %g to %g" % (what, worked.low, worked.high))
        elif not worked.meets(shown):
            self.add(page, "%s: comes to %.10g to %.10g, not %s"
                     % (what, worked.low, worked.high, written))


def check_lines(page, faults):
    for line in page.lines:
        # What is written twice or copied from a table must stand above.
        used = numbers_in(line.numbers) if line.numbers else {line.result}
        for number in used - CONSTANTS - line.above:
            faults.add(page, "%s: %s does not stand above it" % (line.text, number))
        if line.numbers:
            smallest = 1.0 if line.unit == "%" else 0.0  # a drop is the difference of large numbers
            faults.expect(page, "line: " + line.text, evaluate(line.numbers), line.result, smallest)
        else:
            faults.done["copied number"] += 1
            check_copy(page, line, faults)


def check_copy(page, line, faults):
    """A current or time read straight off a table of points stands in it."""
    column = {"A": "current A", "s": "time s"}.get(line.unit)
    if "the table" in line.text and not any(
            line.result in table.column(column) for table in page.tables_with("current A", "time s")
            if table.heading == line.heading):
        faults.add(page, "%s: not in the table of points" % line.text)


def check_types(page, table, catalogue, faults):
    rows = collections.defaultdict(dict)
    for row in table.records():
        name, conductor = row["cable type"], row["conductor"]
        rows[name][conductor] = row
        if row["r20"] == "-":
            continue
        r20 = read(row["r20"])
        factor = read(row["alpha"]) * (read(row["hot C"]) - 20.0) + 1.0
        faults.expect(page, "r hot: " + name, r20 * factor * read(row["factor"]), row["r hot"])
        faults.expect(page, "r 20 C: " + name, r20, row["r 20 C"])
        if row["x hot"] != row["x 20 C"]:
            faults.add(page, "reactance of %s changes with temperature" % name)
        record = catalogue.get(name.removesuffix(", armour not bonded"))
        part, is_least = conductor.removesuffix(", least"), conductor.endswith(", least")
        prefix = {"core": "cpc"}.get(part, part)
        for column, key in (("r20", "r20_low_ohm_km" if is_least else "r20_ohm_km"), ("alpha", "alpha"), ("hot C", "c"),
                            ("x hot", "x_ohm_km")):
            if record is None or float(record[prefix + "_" + key]) != float(row[column]):
                faults.add(page, "%s %s of %s is not the catalogue's" % (prefix, key, name))
            faults.done["catalogue"] += 1
    for name, by in rows.items():
        check_parallel(page, name, by, faults)
        if any("smallest" in conductor for conductor in by):
            check_envelope(page, name, rows, faults)


def complex_product(a, b):
    return a[0] * b[0] - a[1] * b[1], a[0] * b[1] + a[1] * b[0]


def complex_quotient(a, b):
    size = b[0] ** 2 + b[1] ** 2
    over = complex_product(a, (b[0], -b[1]))
    return over[0] / size, over[1] / size


def check_parallel(page, name, by, faults):
    row = by.get("armour and core in parallel")
    if row is None:
        return
    for when in ("hot", "20 C"):
        armour = by.get("armour, least", by["armour"])
        a = read(armour["r " + when]), read(armour["x " + when])
        b = read(by["core"]["r " + when]), read(by["core"]["x " + when])
        z = complex_quotient(complex_product(a, b), (a[0] + b[0], a[1] + b[1]))
        faults.expect(page, "parallel: " + name, z[0], row["r " + when], abs(z[0].middle()))
        faults.expect(page, "parallel: " + name, z[1], row["x " + when], abs(z[0].middle()))


def earth_rows(by, page, name):
    """The earth path of a type: rows for the low and the high bound, and what the page says of it."""
    said = [t for _, t in page.paragraphs if t.startswith("- Earth path of %s: " % name)]
    if "armour and core in parallel" in by:
        return by["armour and core in parallel"], by["core"]
    if "core" in by:
        return by["core"], by["core"]
    if "armour" in by:
        return by.get("armour, least", by["armour"]), by["armour"]
    if said and "combined neutral" in said[0]:
        return by["neutral"], by["neutral"]
    return None, None


def check_envelope(page, name, rows, faults):
    """Smallest and largest over the types that are listed."""
    bonded = "not bonded" not in name
    listed = [n for n in rows if "any of" not in n and ("not bonded" in n) != bonded]
    columns = ("r hot", "x hot", "r 20 C", "x 20 C")
    for conductor in ("line", "neutral", "earth path"):
        low = {c: [] for c in columns}
        high = {c: [] for c in columns}
        for other in listed:
            if conductor == "earth path":
                least, most = earth_rows(rows[other], page, other)
            else:
                least = most = rows[other].get(conductor)
            for c in columns:
                low[c].append(float(least[c]) if least else 0.0)
                high[c].append(float(most[c]) if most else 0.0)
        for c in columns:
            for bound, values, pick in (("smallest", low[c], min), ("largest", high[c], max)):
                shown = rows[name]["%s, %s" % (conductor, bound)][c]
                faults.done["envelope"] += 1
                if pick(values) != float(shown):
                    faults.add(page, "%s, %s %s of %s: %s, not %s"
                               % (conductor, bound, c, name, pick(values), shown))


def check_lengths(page, table, faults):
    rule = [t for h, t in page.paragraphs if h == "Lengths used, m"][0]
    drawn_rule = re.search(r"drawn \* ([\d.]+) \+ ([\d.]+) for each end", rule)
    job_range = re.search(r"holds for the whole cable, ([\d.]+) to ([\d.]+),", rule)
    for row in table.records():
        drawn = read(row["drawn"])
        if row["laid"] != "-":
            share = drawn / read(row["cable drawn"])
            low = high = read(row["laid"]) * share
        elif job_range:
            share = drawn / read(row["cable drawn"])
            low, high = (read(bound) * share for bound in job_range.groups())
        else:
            low = drawn
            high = drawn * read(drawn_rule[1]) + read(drawn_rule[2]) * read(row["ends"])
        faults.expect(page, "length: low", low, row["low"])
        faults.expect(page, "length: high", high, row["high"])


def per_km(page, name, when, bound):
    """(r, x) in ohm per km of line, earth and neutral of a cable type in one condition."""
    rows = {r["conductor"]: r for t in page.tables_with(*TYPES) for r in t.records()
            if r["cable type"] == name}
    if name.startswith("any of"):
        word = "smallest" if bound == "low" else "largest"
        chosen = [rows["%s, %s" % (c, word)] for c in ("line", "earth path", "neutral")]
    else:
        low, high = earth_rows(rows, page, name)
        chosen = [rows["line"], low if bound == "low" else high, rows.get("neutral")]
    return [(read(r["r " + when]), read(r["x " + when])) if r else (Interval(0.0), Interval(0.0))
            for r in chosen]


def condition_of(table):
    """("hot" or "20 C", "low" or "high")"""
    when = "20 C" if table.caption.startswith("At 20 C") else "hot"
    if "low bound" in table.caption:
        return when, "low"
    if "high bound" in table.caption:
        return when, "high"
    return when, "low" if when == "20 C" else "high"


PATH = "Ohms along the path"


def sections_under(page, heading):
    """Rows of the sections and of their lengths that an ohms table under a heading is about."""
    if heading == PATH:
        routes = page.tables_with(*ROUTE)
        lengths = page.tables_with(*LENGTHS, heading="Lengths used, m")
    else:
        routes = page.tables_with(*LOOP_ROUTE, heading=heading)
        lengths = page.tables_with(*LENGTHS, heading=heading)
    return routes[0].records(), lengths[0].records()


def check_ohms(page, table, faults):
    when, bound = condition_of(table)
    route, lengths = sections_under(page, table.heading)
    rows = table.records()
    sections = [row for row in rows if row["no"].isdigit()]
    if [row["no"] for row in sections] != [way["no"] for way in route]:
        faults.add(page, "%s: not a row for each section" % table.caption)
        return
    if [row["no"] for row in lengths] != [way["no"] for way in route]:
        faults.add(page, "%s: the lengths are not numbered like the sections" % table.caption)
    sums = {c: Interval(0.0) for c in OHMS[2:]}
    for row, way, metres in zip(sections, route, lengths):
        if row["length"] != metres[bound]:
            faults.add(page, "%s: section %s has length %s, not %s"
                       % (table.caption, row["no"], row["length"], metres[bound]))
        for name, ohms in zip(("line", "earth", "neutral"),
                              per_km(page, way["cable type"], when, bound)):
            for part, z in zip("rx", ohms):
                column = "%s %s" % (name, part)
                faults.expect(page, "section ohms: " + column,
                              z * read(row["length"]) / 1000.0, row[column])
    if table.heading != PATH:
        return
    for row in rows[:-1]:
        for column in sums:
            sums[column] = sums[column] + read(row[column])
        if row["no"].startswith("loop "):
            check_loop_row(page, row, when, bound, faults)
    for column, total in sums.items():
        faults.expect(page, "sum: " + column, total, rows[-1][column])


def sum_row(page, when, bound):
    tables = [t for t in page.tables_with(*OHMS, heading=PATH) if condition_of(t)[0] == when]
    exact = [t for t in tables if condition_of(t)[1] == bound] or tables
    return exact[0].records()[-1]


def near(a, b, size=None):
    """Equal as far as six written digits on either side can tell."""
    return abs(a - b) <= 2e-5 * (abs(a) if size is None else size)


class LoopOnPage:
    """What the page says of a closed loop."""

    def __init__(self, page, heading):
        self.page, self.heading = page, heading
        text = [t for h, t in page.paragraphs if h == heading and "passes a closed loop" in t][0]
        ends = re.search(r"closed loop from (.+) to (.+), over all its branches", text)
        self.start, self.exit = ends[1], ends[2]
        route = page.tables_with(*LOOP_ROUTE, heading=heading)[0].records()
        links = [row for t in page.tables_with(*LINKS, heading=heading) for row in t.records()]
        self.numbers = [row["no"] for row in route]
        self.model = LoopModel(self.start, [(row["from"], row["to"]) for row in route],
                               [(row["joined"], row["with"], row["by"].rpartition(" of ")[2])
                                for row in links])
        self.rows = {}
        table = [t for t in page.tables_with("conductor", "when", heading=heading)][0]
        for row in table.records():
            self.rows[row["conductor"], row["when"]] = row
        self.table = table

    def ohms(self, conductor, when):
        condition, bound = when.split(", ")
        tables = [t for t in self.page.tables_with(*OHMS, heading=self.heading)
                  if condition_of(t)[0] == condition]
        table = ([t for t in tables if condition_of(t)[1] == bound] or tables)[0]
        return [complex(float(r[conductor + " r"]), float(r[conductor + " x"]))
                for r in table.records()]

    def shown(self, conductor, when):
        """A row that would repeat the one before it is left out."""
        order = ["hot, high", "hot, low", "20 C, low", "20 C, high"]
        for name in reversed(order[:order.index(when) + 1]):
            if (conductor, name) in self.rows:
                row = self.rows[conductor, name]
                return complex(float(row["r"]), float(row["x"]))
        return None


def check_closed_loop(page, loop, faults):
    for conductor in ("line", "earth", "neutral"):
        for when in ("hot, high", "hot, low", "20 C, low", "20 C, high"):
            faults.done["closed loop"] += 1
            worked = loop.model.drive(loop.ohms(conductor, when), loop.exit)
            if not near(worked, loop.shown(conductor, when)):
                faults.add(page, "%s of %s, %s: comes to %s, not %s"
                           % (conductor, loop.heading, when, worked, loop.shown(conductor, when)))
    if "one way r" not in loop.table.head:
        return
    said = [t for h, t in page.paragraphs if h == loop.heading and t.startswith("It is one ring.")][0]
    ways = re.search(r"One way round: sections ([\d, ]+|none); the other: sections ([\d, ]+|none)\.",
                     said)
    for (conductor, when), row in loop.rows.items():
        ohms = dict(zip(loop.numbers, loop.ohms(conductor, when)))
        both = []
        for way, name in ((ways[1], "one way"), (ways[2], "other way")):
            total = sum(ohms[n] for n in way.split(", ") if n != "none")
            both.append(complex(float(row[name + " r"]), float(row[name + " x"])))
            if not near(total, both[-1]):
                faults.add(page, "%s of %s, %s" % (name, conductor, when))
        faults.done["ring"] += 1
        if not near(both[0] * both[1] / (both[0] + both[1]),
                    complex(float(row["r"]), float(row["x"]))):
            faults.add(page, "both ways of %s, %s in parallel" % (conductor, when))


def loops_of(page):
    headings = []
    for table in page.tables_with("conductor", "when"):
        if table.heading.startswith("Closed loop "):
            headings.append(table.heading)
    return [LoopOnPage(page, heading) for heading in headings]


def check_loop_row(page, row, when, bound, faults):
    """A loop's row among the path's ohms is that of its own table."""
    loop = LoopOnPage(page, "Closed " + row["no"])
    for conductor in ("line", "earth", "neutral"):
        z = loop.shown(conductor, "%s, %s" % (when, bound))
        faults.done["loop in path"] += 1
        if z != complex(float(row[conductor + " r"]), float(row[conductor + " x"])):
            faults.add(page, "%s of %s differs from its own table" % (conductor, row["no"]))


def slow_time(points, current):
    """Log-log between points; None below the lowest."""
    points = sorted(points, key=lambda p: (p[0], -p[1]))
    below = [p for p in points if p[0] <= current]
    if not below:
        return None
    i0, t0 = below[-1]
    if len(below) == len(points) or i0 == current:
        return t0
    i1, t1 = points[len(below)]
    return t0 * (t1 / t0) ** (math.log(current / i0) / math.log(i1 / i0))


def check_openings(page, curves, faults):
    """Devices that open one after the other, followed by itself."""
    sides = ("A fault on the incoming side of the cut-out",
             "A fault beyond the cut-out's fuse, at the lantern")
    for side in sides:
        texts = [t for h, t in page.paragraphs if h == side]
        stages = [re.match(r"(All closed|.+ open): loop impedance Zs ([\d.]+) ohm\.", t)
                  for t in texts]
        stages = [stage for stage in stages if stage]
        if not stages:
            continue
        loop = loops_of(page)[0]
        devices = dict(re.match(r"- (.+): (.+ A)\.$", t).groups() for t in texts
                       if re.match(r"- \S+: .+ A\.$", t))
        followed = Followed(page, loop, devices, curves, side)
        followed.check(stages, faults)
        limit = [re.match(r"Limit for the whole: ([\d.]+) s", t) for t in texts]
        margin = [re.search(r"still open within the limit: ([\d.]+)\.", t) for t in texts]
        followed.check_margin(float([m for m in limit if m][0][1]),
                              float([m for m in margin if m][0][1]), faults)


class Followed:
    def __init__(self, page, loop, devices, curves, side):
        self.page, self.loop, self.side = page, loop, side
        self.points = {}
        for name, kind in devices.items():
            match = re.fullmatch(r"(.+) ([\d.]+) A", kind)
            self.points[name] = curves[match[1], float(match[2]), "slow"]
        source = [t for _, t in page.paragraphs if t.startswith("- U0, line to earth: ")][0]
        self.volts = float(re.search(r": ([\d.]+) V", source)[1]) * float(
            re.search(r"Cmin ([\d.]+)", source)[1])
        self.ohms = loop.ohms("line", "hot, high")
        self.closed = loop.model.drive(self.ohms, loop.exit)

    def loop_at(self, opened):
        """Zs with some devices open; None if nothing feeds the place any more."""
        name = ("R lantern", "R lantern (high)") if "lantern" in self.side else ("R", "R (high)")
        heading = self.side if "lantern" in self.side else (
            "Loop impedance and smallest earth-fault current")
        r = float(self.page.result(heading, *name))
        x = float(self.page.result(heading, *(n.replace("R", "X", 1) for n in name)))
        line = self.loop.model.drive(self.ohms, self.loop.exit, opened)
        if line is None or any(d not in [l[2] for l in self.loop.model.links] for d in opened):
            return None
        ze = [t for _, t in self.page.paragraphs if t.startswith("- Ze, the loop impedance")][0]
        parts = re.search(r": ([\d.]+) ohm resistance and ([\d.]+) ohm reactance", ze)
        z = complex(r, x) - self.closed + line
        if parts:
            return abs(complex(float(parts[1]), float(parts[2])) + z)
        one = re.search(r"outside: ([\d.]+) ohm", ze)
        assumed = re.search(r"assumed ([\d.]+) to ([\d.]+) ohm", ze)
        return float(one[1] if one else assumed[2]) + abs(z)

    def follow(self, divided_by=1.0):
        """[(Zs, {device: share}, {device: time}, first)], total time or None."""
        opened, stages, total = [], [], 0.0
        while True:
            zs = self.loop_at(opened)
            if zs is None:
                return stages, total
            shares = {d: self.loop.model.share(self.ohms, d, self.loop.exit, opened)
                      for d in self.points if d not in opened}
            times = {d: slow_time(self.points[d], self.volts / zs / divided_by * share)
                     for d, share in shares.items()}
            timed = [d for d in times if times[d] is not None]
            first = min(timed, key=lambda d: times[d]) if timed else None
            stages.append((zs, shares, times, first))
            if first is None:
                return stages, None
            total += times[first]
            opened.append(first)

    def check(self, shown, faults):
        stages, total = self.follow()
        tables = self.page.tables_with("device", "share of I", heading=self.side)
        if len(stages) != len(shown) or len(tables) != len(shown):
            faults.add(self.page, "%d stages of opening, not %d" % (len(stages), len(shown)))
            return
        for (zs, shares, _, _), text, table in zip(stages, shown, tables):
            faults.done["opening"] += 1
            if not near(zs, float(text[2])):
                faults.add(self.page, "Zs of '%s' is %g, not %s" % (text[1], zs, text[2]))
            for row in table.records():
                if not near(shares[row["device"]], float(row["share of I"]), 1.0):
                    faults.add(self.page, "share of %s is %g, not %s"
                               % (row["device"], shares[row["device"]], row["share of I"]))
        result = self.page.result(self.side, "t")
        if (total is None) != (result is None) or (
                total is not None and abs(total - float(result)) > 1e-3 * total):
            faults.add(self.page, "all open after %s s, not %s" % (total, result))

    def check_margin(self, limit, margin, faults):
        """Divided by the margin it just clears in time, by a little more it does not."""
        faults.done["margin of openings"] += 1
        for by, clears in ((margin * (1 - 1e-3), True), (margin * (1 + 1e-3), False)):
            _, total = self.follow(by)
            if (total is not None and total <= limit) != clears:
                faults.add(self.page, "margin %g: divided by %g it takes %s s of %g"
                           % (margin, by, total, limit))


def reactive(watts, factor):
    return watts * interval.sqrt(Interval(1.0) - factor ** 2) / factor


def bounds_of(cell):
    low, _, high = cell.partition(" to ")
    return read(low), read(high or low)


def check_loads(page, loads, currents, bound, faults):
    """Watts and vars of each column are those of its rows of loads."""
    watts, vars_ = {}, {}
    for row in loads.records():
        w = bounds_of(row["W"])[0 if bound == "low" else 1]
        # The lower power factor is the heavier burden.
        pf = bounds_of(row["power factor"])[1 if bound == "low" else 0]
        lagging = pf.middle() > 0
        var = reactive(w, pf if lagging else -pf)
        name = row["column"]
        watts[name] = watts.get(name, Interval(0.0)) + w
        vars_[name] = vars_.get(name, Interval(0.0)) + (var if lagging else -var)
    for row in currents.records():
        faults.expect(page, "load: W", watts[row["column"]], row["W"])
        faults.expect(page, "load: var", vars_[row["column"]], row["var"])


def check_volts(page, currents, path, bound, faults):
    loads = currents.records()
    for row in loads:
        power = read(row["W"]), read(row["var"])
        volts = read(row["V re"]), read(row["V im"])
        i = complex_quotient((power[0], -power[1]), (volts[0], -volts[1]))
        size = abs(power[0].middle()) + abs(power[1].middle())
        for part, value in zip(("I re", "I im"), i):
            faults.expect(page, "load current: " + row["column"], value, row[part], size / 230.0)
    ohms = [t for t in page.tables_with(*OHMS, heading=PATH) if condition_of(t)[0] == "hot"]
    ohms = ([t for t in ohms if condition_of(t)[1] == bound] or ohms)[0].records()
    source = [t for _, t in page.paragraphs if t.startswith("- U0, line to earth: ")][0]
    volts = read(re.search(r": ([\d.]+) V", source)[1]), Interval(0.0)
    u0 = volts[0].middle()
    for row, z in zip(path.records(), ohms):
        i = Interval(0.0), Interval(0.0)
        for load in loads:
            if int(load["through sections"]) >= int(row["no"]):
                i = i[0] + read(load["I re"]), i[1] + read(load["I im"])
        size = max(abs(i[0].middle()), 1e-3)
        faults.expect(page, "section current: re", i[0], row["I re"], size)
        faults.expect(page, "section current: im", i[1], row["I im"], size)
        faults.expect(page, "line + neutral: R", read(z["line r"]) + read(z["neutral r"]), row["R"])
        faults.expect(page, "line + neutral: X", read(z["line x"]) + read(z["neutral x"]), row["X"])
        drop = complex_product((read(row["I re"]), read(row["I im"])),
                               (read(row["R"]), read(row["X"])))
        size = max(abs(drop[0].middle()), 1e-6)
        faults.expect(page, "drop: re", drop[0], row["drop re"], size)
        faults.expect(page, "drop: im", drop[1], row["drop im"], size)
        volts = volts[0] - read(row["drop re"]), volts[1] - read(row["drop im"])
        faults.expect(page, "volts: re", volts[0], row["V re"], u0)
        faults.expect(page, "volts: im", volts[1], row["V im"], u0)
        volts = read(row["V re"]), read(row["V im"])
    return volts


def check_volt_drop(page, faults):
    paths = page.tables_with(*VOLTS)
    currents = page.tables_with(*CURRENTS)
    loads = page.tables_with(*LOADS)
    if len(paths) != len(currents):
        faults.add(page, "volt drop: tables of currents and of voltages do not pair")
        return
    for current, path in zip(currents, paths):
        bound = "high" if current.caption.startswith("High bound") else "low"
        check_loads(page, loads[0], current, bound, faults)
        check_volts(page, current, path, bound, faults)
        # The last voltage is the one that the volt drop is worked from.
        last = path.records()[-1]
        line = [l for l in page.lines if l.name == "volt drop (%s)" % bound]
        if not line or not {last["V re"].lstrip("-"), last["V im"].lstrip("-")} <= numbers_in(
                line[0].numbers):
            faults.add(page, "the volt drop (%s) is not worked from the last voltage" % bound)


def potentials(row, conductor):
    return read(row[conductor + " re"]), read(row[conductor + " im"])


def minus(a, b):
    return a[0] - b[0], a[1] - b[1]


def expect_complex(page, faults, what, worked, row, size):
    faults.expect(page, what + ": re", worked[0], row["I re"], size)
    faults.expect(page, what + ": im", worked[1], row["I im"], size)


def check_falls(page, places, flows, u0, faults):
    """Over each section the potential falls by I * Z."""
    for row in flows:
        before, after = (potentials(places[row[end]], row["conductor"]) for end in ("from", "to"))
        fall = complex_product((read(row["I re"]), read(row["I im"])),
                               (read(row["R"]), read(row["X"])))
        worked = minus(before, fall)
        for part, name in enumerate(("re", "im")):
            faults.expect(page, "potential: " + name, worked[part],
                          places[row["to"]][row["conductor"] + " " + name], u0)


def check_balances(page, places, flows, drawn, faults):
    """What the sections bring to a place is what is drawn there, and returns by the neutral."""
    for place, at in places.items():
        if float(at["neutral re"]) == 0.0 == float(at["neutral im"]):
            continue  # the supply's terminals
        for conductor in {row["conductor"] for row in flows}:
            sign = -1.0 if conductor == "neutral" else 1.0
            left = Interval(0.0), Interval(0.0)
            for row in flows:
                ways = (row["to"] == place) - (row["from"] == place)
                if ways and row["conductor"] == conductor:
                    left = (left[0] + read(row["I re"]) * (sign * ways),
                            left[1] + read(row["I im"]) * (sign * ways))
            for load in drawn:
                if load["place"] == place and conductor in (load["phase"], "neutral"):
                    left = minus(left, (read(load["I re"]), read(load["I im"])))
            faults.done["balance"] += 1
            if not all(part.meets(Interval(0.0)) for part in left):
                faults.add(page, "the currents of the %s at %s do not add up" % (conductor, place))


def check_network_drop(page, faults):
    """Ways with loops or several phases: the given voltages and currents belong together."""
    tables = zip(page.tables_with("column", "place", "phase"),
                 page.tables_with("section", "from", "to", "conductor"),
                 page.tables_with("place"))
    for drawn, flows, places in tables:
        drawn, flows = drawn.records(), flows.records()
        places = {row["place"]: row for row in places.records()}
        source = [t for _, t in page.paragraphs if t.startswith("- U0, line to earth: ")][0]
        u0 = float(re.search(r": ([\d.]+) V", source)[1])
        for load in drawn:
            at = places[load["place"]]
            volts = minus(potentials(at, load["phase"]), potentials(at, "neutral"))
            amperes = complex_quotient((read(load["W"]), read(load["var"]) * -1.0),
                                       (volts[0], volts[1] * -1.0))
            expect_complex(page, faults, "load current", amperes, load, 1e-3)
        check_falls(page, places, flows, u0, faults)
        check_balances(page, places, flows, drawn, faults)


def check_loop_sums(page, faults):
    """R and X of the loops are made of the sums of the right table and conductors."""
    wanted = []
    for label, when, bound, back in (
            ("", "hot", "high", "earth"), (" (high)", "hot", "high", "earth"),
            (" (low)", "hot", "low", "earth"),
            (" earth", "20 C", "low", "earth"), (" earth (high)", "20 C", "low", "earth"),
            (" earth (low)", "20 C", "high", "earth"),
            (" neutral", "20 C", "low", "neutral"), (" neutral (high)", "20 C", "low", "neutral"),
            (" neutral (low)", "20 C", "high", "neutral"),
            (" 20 C (low)", "20 C", "low", "earth"),
            (" 20 C (high)", "20 C", "high", "earth")):
        wanted += [("R" + label, when, bound, back, "r"), ("X" + label, when, bound, back, "x")]
    for name, when, bound, back, part in wanted:
        for line in page.lines:
            if line.name == name and line.text.split(" = ")[1].startswith("line +"):
                sums = sum_row(page, when, bound)
                expected = "%s + %s" % (sums["line " + part], sums["%s %s" % (back, part)])
                faults.done["loop from sums"] += 1
                if line.numbers != expected and line.result != expected:
                    faults.add(page, "%s is %s, not %s" % (name, line.numbers, expected))


def check_curves(page, curves, faults):
    for table in page.tables_with("current A", "time s"):
        name = re.fullmatch(r"Points of (.+) ([\d.]+) A (slow|fast) edge:", table.caption)
        points = [(float(i), float(t)) for i, t in table.rows]
        faults.done["curve"] += 1
        if sorted(points) != sorted(curves[name[1], float(name[2]), name[3]]):
            faults.add(page, "points of %s are not the catalogue's" % name[0])


COLUMN_FIELDS = {
    "lw_zs_high_ohm": ("Loop impedance and smallest earth-fault current", "Zs", "Zs (high)"),
    "lw_zs_low_ohm": ("Loop impedance and smallest earth-fault current", "Zs", "Zs (low)"),
    "lw_ief_min_a": ("Loop impedance and smallest earth-fault current", "I smallest"),
    "lw_in_margin": ("A fault on the incoming side of the cut-out", "margin"),
    "lw_in_zs_limit_ohm": ("A fault on the incoming side of the cut-out", "Zs limit", "Ra limit"),
    "lw_out_margin": ("A fault beyond the cut-out's fuse, at the lantern", "margin"),
    "lw_out_zs_high_ohm": ("A fault beyond the cut-out's fuse, at the lantern", "Zs", "Zs (high)"),
    "lw_pscc_max_ka": ("Largest prospective current", "I largest", "I largest (high)"),
    "lw_vdrop_high_pct": ("Volt drop", "volt drop (high)"),
    "lw_vdrop_low_pct": ("Volt drop", "volt drop (low)"),
    "lw_zs_20c_low_ohm": ("What a loop test should read", "Zs at 20 C (low)"),
    "lw_zs_20c_high_ohm": ("What a loop test should read", "Zs (20 C, high)"),
}


JOINED_SUPPLY_FIELDS = {"lw_zs_low_ohm", "lw_zs_high_ohm", "lw_ief_min_a", "lw_in_margin",
                        "lw_in_zs_limit_ohm", "lw_pscc_max_ka"}


def check_column(page, row, faults):
    # Where supplies are joined the page says that it gives bounds and does not work them.
    given = [t for _, t in page.paragraphs if t.startswith("Several supplies feed it")]
    for field, (heading, *names) in COLUMN_FIELDS.items():
        if row[field] is None or (given and field in JOINED_SUPPLY_FIELDS):
            continue
        shown = page.result(heading, *names)
        if shown is None and field == "lw_vdrop_low_pct" and any(
                t == "The records are complete here: the low bound is the same."
                for h, t in page.paragraphs if h == heading):
            shown = page.result(*COLUMN_FIELDS["lw_vdrop_high_pct"])
        if shown is None:
            faults.add(page, "%s is %.7g in the output; the page does not have it"
                       % (field, row[field]))
            continue
        faults.done["figure of check"] += 1
        if not read(shown).meets(Interval(row[field])):
            faults.add(page, "%s is %.10g in the output, %s on the page"
                       % (field, row[field], shown))


def current_within(points, limit):
    """Current that the slow edge opens within a limit: log-log between points; None if never."""
    points = sorted(points, key=lambda p: (p[0], -p[1]))
    for n, (i, t) in enumerate(points):
        if t <= limit:
            if n == 0 or t == limit or points[n - 1][0] == i:
                return i
            i0, t0 = points[n - 1]
            return i0 * (i / i0) ** (math.log(limit / t0) / math.log(t / t0))
    return None


def check_ratings(page, curves, faults):
    """Ia of each rating that would serve on the incoming side."""
    incoming = "A fault on the incoming side of the cut-out"
    for table in page.tables_with("rating A", "Ia within the limit, A"):
        said = [t for h, t in page.paragraphs if h == incoming]
        limit = [float(re.match(r"Limit: ([\d.]+) s", t)[1]) for t in said
                 if t.startswith("Limit: ")][0]
        kind = [re.search(r"It is a (.+) [\d.]+ A\.", t)[1] for t in said
                if t.startswith("Device: ")][0]
        for rating, current in table.rows:
            worked = current_within(curves[kind, float(rating), "slow"], limit)
            faults.done["rating"] += 1
            if (worked is None) != (current == "-") or (
                    worked is not None and not read(current).meets(Interval(worked))):
                faults.add(page, "Ia of %s A within %g s is %s, not %s"
                           % (rating, limit, worked, current))


def same_figure(page, what, shown, figure, faults):
    """A figure of the page against one of the output; neither may be there without the other."""
    faults.done["figure of check"] += 1
    if (shown in ("-", "")) != (figure is None) or (
            figure is not None and not read(shown).meets(Interval(figure))):
        faults.add(page, "%s is %s on the page, %s in the output" % (what, shown, figure))


def check_cable(page, sections, faults):
    tables = page.tables_with("section", "from", "to", "supply/way")
    for row in [row for table in tables for row in table.records()]:
        if "-" not in (row["Zs low"], row["Zs high"]) and float(row["Zs low"]) > float(
                row["Zs high"]):
            faults.add(page, "the low bound of %s is the higher" % row["section"])
        record = sections[row["section"]]
        for column, field in (("from", "from_id"), ("to", "to_id")):
            if row[column] != record[field]:
                faults.add(page, "%s of %s is %s, not %s" % (column, row["section"], row[column],
                                                             record[field]))
        # The output's length is the laid one, else the drawn one, which is the low bound.
        same_figure(page, "length of " + row["section"], row["m low"], record["length_m"], faults)
        same_figure(page, "Zs of " + row["section"], row["Zs high"], record["lw_zs_high_ohm"],
                    faults)
        for table in page.tables_with(*ROUTE):
            for way, metres in zip(table.records(), page.tables_with(*LENGTHS)[0].records()
                                   if page.tables_with(*LENGTHS) else []):
                if way["section"] == row["section"] and (row["m low"], row["m high"]) != (
                        metres["low"], metres["high"]):
                    faults.add(page, "two lengths of " + row["section"])


def check_supply(page, asset, circuits, faults):
    for table in page.tables_with("way", "device", "columns"):
        for row in table.records():
            record = circuits[asset, row["way"]]
            same_figure(page, "columns of " + row["way"], row["columns"], record["columns"], faults)
            same_figure(page, "load of " + row["way"], row["W high"], record["load_w"], faults)
            same_figure(page, "Ib of " + row["way"], row["Ib high"], record["design_current_a"],
                        faults)
            same_figure(page, "margin of " + row["way"], row["margin"], record["margin"], faults)
            if row["verdict"] != (record["verdict"] or ""):
                faults.add(page, "verdict of %s is not %s" % (row["way"], record["verdict"]))


def check_page(page, catalogue, curves, faults):
    check_lines(page, faults)
    for table in page.tables_with(*TYPES):
        check_types(page, table, catalogue, faults)
    for table in page.tables_with(*LENGTHS):
        check_lengths(page, table, faults)
    for table in page.tables_with(*OHMS):
        check_ohms(page, table, faults)
    check_loop_sums(page, faults)
    check_curves(page, curves, faults)
    check_ratings(page, curves, faults)
    for loop in loops_of(page):
        check_closed_loop(page, loop, faults)
    check_openings(page, curves, faults)
    check_volt_drop(page, faults)
    check_network_drop(page, faults)


def read_catalogue(folder):
    with open(os.path.join(folder, "cables.csv"), newline="", encoding="utf-8") as file:
        cables = {r["cable_type"]: r for r in csv.DictReader(file)}
    curves = collections.defaultdict(list)
    with open(os.path.join(folder, "curves.csv"), newline="", encoding="utf-8") as file:
        for r in csv.DictReader(file):
            curves[r["fuse_type"], float(r["rating_a"]), r["edge"]].append(
                (float(r["current_a"]), float(r["time_s"])))
    return cables, curves


class Checked:
    """The output of `loopwalk check`."""

    def __init__(self, path):
        database = sqlite3.connect("file:%s?mode=ro" % path, uri=True)
        database.row_factory = sqlite3.Row
        rows = lambda layer: database.execute("SELECT * FROM " + layer)
        self.columns = {r["lw_id"]: r for r in rows("columns")}
        self.sections = {r["section_id"]: r for r in rows("sections")}
        self.circuits = {(r["supply_id"], r["way"]): r for r in rows("circuits")}


def check_against(page, layer, asset, checked, faults):
    if layer == "columns":
        check_column(page, checked.columns[asset], faults)
    elif layer == "cables":
        check_cable(page, checked.sections, faults)
    elif layer == "supplies":
        check_supply(page, asset, checked.circuits, faults)


# Kinds of reckoning that must occur, and how often at least: so that nothing passes by not being
# there.
LEAST = {"line": 100, "r hot": 50, "length": 50, "section ohms": 200, "sum": 50, "loop from sums": 50,
         "curve": 10, "figure of check": 100, "catalogue": 100}


def main(pages, output, catalogue_folder, *wanted):
    catalogue, curves = read_catalogue(catalogue_folder)
    checked = Checked(output)
    faults = Faults()
    with open(os.path.join(pages, "list.tsv"), encoding="utf-8") as file:
        listed = [line.rstrip("\n").split("\t") for line in file]
    for name, layer, asset in listed:
        with open(os.path.join(pages, name), encoding="utf-8") as file:
            page = Page(file.read())
        check_page(page, catalogue, curves, faults)
        check_against(page, layer, asset, checked, faults)
    least = dict(LEAST)
    least.update((w.partition("=")[0], int(w.partition("=")[2])) for w in wanted)
    for what, count in least.items():
        if faults.done[what] < count:
            faults.texts.append("only %d times: %s" % (faults.done[what], what))
    print("%d pages; worked again: %s" % (len(listed), ", ".join(
        "%s %d" % item for item in sorted(faults.done.items()))))
    for text in faults.texts[:40]:
        print("FAILED", text)
    if len(faults.texts) > 40:
        print("and %d more" % (len(faults.texts) - 40))
    return 1 if faults.texts else 0


if __name__ == "__main__":
    if len(sys.argv) < 4:
        sys.exit("usage: check_pages.py PAGES CHECKED.gpkg CATALOGUE [WHAT=LEAST ...]")
    sys.exit(main(*sys.argv[1:]))
