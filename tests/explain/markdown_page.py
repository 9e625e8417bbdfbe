"""A page of `loopwalk explain --format markdown`, taken apart: headings, tables, lines of working."""

import re


class Table:
    def __init__(self, heading, caption, head, rows, above):
        self.heading, self.caption, self.head, self.rows = heading, caption, head, rows
        self.above = above  # numbers that stand on the page before the table

    def column(self, name):
        at = self.head.index(name)
        return [row[at] for row in self.rows]

    def records(self):
        return [dict(zip(self.head, row)) for row in self.rows]


class Line:
    """name = formula = numbers = result unit"""

    def __init__(self, heading, text, above):
        self.heading, self.text, self.above = heading, text, above
        parts = text.split(" = ")
        if len(parts) < 2:
            raise ValueError("not a line of working: " + text)
        self.name = parts[0]
        self.result, _, self.unit = parts[-1].partition(" ")
        last = parts[-2] if len(parts) > 2 else ""
        self.numbers = last if re.fullmatch(r"(?:sqrt|log|max|min|[-\d.\s+*/^(),e])+", last) else ""


NUMBER = re.compile(r"(?<![\w.])\d+(?:\.\d+)?(?:e[-+]?\d+)?(?![\w]|\.\d)")


def numbers_in(text):
    return set(NUMBER.findall(text))


def unescaped(text):
    return re.sub(r"\\(.)", r"\1", text)


def cells(line):
    return [unescaped(c.strip()) for c in re.split(r"(?<!\\)\|", line)[1:-1]]


class Page:
    def __init__(self, text):
        self.text, self.tables, self.lines = text, [], []
        self.paragraphs = []  # (heading, text)
        heading, caption, above = "", "", set()
        lines = text.split("\n")
        self.title = unescaped(lines[0].removeprefix("# "))
        at = 1
        while at < len(lines):
            line = lines[at]
            if line.startswith("## "):
                heading = unescaped(line[3:])
            elif line.startswith("```"):
                at += 1
                while not lines[at].startswith("```"):
                    self.lines.append(Line(heading, lines[at], set(above)))
                    above |= numbers_in(lines[at])
                    at += 1
            elif line.startswith("|"):
                head = cells(line)
                at += 2
                rows = []
                while at < len(lines) and lines[at].startswith("|"):
                    rows.append(cells(lines[at]))
                    if len(rows[-1]) != len(head):
                        raise ValueError("a row of %d cells under %s" % (len(rows[-1]), head))
                    at += 1
                self.tables.append(Table(heading, caption, head, rows, set(above)))
                for row in rows:
                    above |= numbers_in(" ".join(row))
                continue
            elif line:
                caption = unescaped(line)
                self.paragraphs.append((heading, caption))
                above |= numbers_in(caption)
            at += 1

    def tables_with(self, *head, heading=None):
        return [t for t in self.tables if t.head[:len(head)] == list(head)
                and (heading is None or t.heading == heading)]

    def result(self, heading, *names):
        """Result of the last line under a heading that has one of the names; None if there is none."""
        found = [l.result for l in self.lines if l.heading == heading and l.name in names]
        return found[-1] if found else None
