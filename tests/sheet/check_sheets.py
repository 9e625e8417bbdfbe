"""Sheets of every asset of a job: paper, words, cautions, cable ends and what stays live in them.

check_sheets.py PROGRAM JOB OUTPUT_OF_CHECK CAUTIONS
"""
import collections
import re
import sqlite3
import subprocess
import sys

PROGRAM, JOB, OUTPUT, CAUTIONS = sys.argv[1:]
MUST_NOT_SAY = re.compile(r"(?<![a-z])(safe|safely|dead|isolated|compliant|certified)(?![a-z])", re.I)
CAUTION_SENTENCES = [
    "These are predictions from records. This is not a permit and not a certificate.",
    "A lamp off in daylight proves nothing.",
    "A column can hold more than one supply.",
    "What is recorded as removed, disconnected or beyond an open point may be live.",
    "Only the distributor, or whom it authorises, works on its equipment.",
    "A lost neutral is not detected by anything computed here.",
]
LIVE_WORDS = {"yes": "STAYS LIVE", "unknown": "not known, treat as live,",
              "no": "no other feed in the records, prove it,"}
faults = []


def assets(db):
    layers = [("columns", "select lw_id from columns"), ("supplies", "select lw_id from supplies"),
              ("joints", "select lw_id from joints"),
              ("ways", "select supply_id || '/' || way from circuits union "
                       "select w.supply_id || '/' || w.way from ways w join supplies s "
                       "on s.lw_id = w.supply_id where s.kind = 'section pillar'")]
    return [(layer, row[0]) for layer, query in layers for row in db.execute(query)]


def printed(names, *options):
    run = subprocess.run([PROGRAM, "sheet", JOB, *names, *options], capture_output=True, text=True,
                         check=True)
    return run.stdout


def part(page, heading):
    found = re.search(r"^-- " + heading + r"[^\n]*-\n(.*?)(?=^-- )", page, re.M | re.S)
    if not found:
        return None
    return [re.sub(r"\s+", " ", item) for item in re.split(r"\n(?! )", found.group(1).rstrip("\n"))]


def check_paper(name, page):
    lines = page.rstrip("\n").split("\n")
    if len(lines) > 60:
        faults.append(f"{name}: {len(lines)} lines")
    faults.extend(f"{name}: {len(line)} characters: {line}" for line in lines if len(line) > 80)


def check_words(name, page, allowed):
    flat = re.sub(r"\s+", " ", page)
    for sentence in CAUTION_SENTENCES:
        if sentence not in flat:
            faults.append(f"{name}: lacks the caution '{sentence}'")
    for wanted in ("This is not a permit.", "Proved dead by: ____", "Signature: ____"):
        if wanted not in flat:
            faults.append(f"{name}: lacks '{wanted}'")
    if len(re.findall("proved dead by", flat, re.I)) != 1:
        faults.append(f"{name}: 'proved dead by' is more than a blank")
    for exception in allowed:
        flat = re.sub(re.escape(exception), "", flat, flags=re.I)
    said = MUST_NOT_SAY.search(flat)
    if said:
        faults.append(f"{name}: says '{said.group()}'")


def check_ends(name, page, rows):
    wanted = collections.Counter((row["cable_id"], row["state"]) for row in rows)
    items = part(page, "Cable ends") or []
    got = collections.Counter()
    for item in items:
        found = re.fullmatch(r"(\S+) to .*?: ([a-z ]+); .*", item)
        if found:
            got[(found.group(1), found.group(2))] += 1
    if got != wanted:
        faults.append(f"{name}: ends {sorted(got)} on the page, {sorted(wanted)} in cable_ends")


def check_live(name, page, rows, field, begin):
    """Each end stands in the group that its word in cable_ends asks for."""
    items = [item for item in part(page, "What stays live") or [] if re.match(begin, item)]
    if not items:
        if any(row[field] for row in rows):
            faults.append(f"{name}: says nothing for {field}")
        return
    groups = re.split(r": |; ", items[0].rstrip("."))[1:]
    for word, words in LIVE_WORDS.items():
        text = next((g for g in groups if g.startswith(words)), "")
        got = collections.Counter(re.findall(r"(\S+) \(to ", text))
        wanted = collections.Counter(row["cable_id"] for row in rows
                                     if (row[field] or "unknown") == word)
        if got != wanted:
            faults.append(f"{name}: {field} {word}: {sorted(got)} on the page, {sorted(wanted)}")


def main():
    db = sqlite3.connect(OUTPUT)
    db.row_factory = sqlite3.Row
    rows = collections.defaultdict(list)
    for row in db.execute("select * from cable_ends"):
        rows[(row["asset_layer"], row["asset_id"])].append(row)
    with open(CAUTIONS, encoding="utf-8") as file:
        allowed = file.read().split("\n")
    allowed = [line for line in allowed if line]
    wanted = assets(db)
    names = [f"{layer}:{name}" for layer, name in wanted]
    text = printed(names)
    pages = text.split("\f")
    if len(pages) != len(wanted):
        faults.append(f"{len(pages)} pages of {len(wanted)} assets")
    for (layer, name), page in zip(wanted, pages):
        label = f"{layer}:{name}"
        check_paper(label, page)
        check_words(label, page, allowed)
        if layer == "ways":  # the ends of its pillar
            name = name.rsplit("/", 1)[0]
            layer = "supplies"
        here = rows[(layer, name)]
        check_ends(label, page, here)
        if here:
            check_live(label, page, here, "live_with_fuse_out", "This column's fuse|The fuse in")
            check_live(label, page, here, "live_with_way_out",
                       "Way |The way|Any one of its ways|Its own way|Each end's")
            check_live(label, page, here, "live_with_supply_off",
                       "Supply |Its supply|This supply|The supply|Any one of its supplies|Main ")
    if printed(names) != text:
        faults.append("a second run prints something else")
    if printed(names[::-1]) != "\f".join(pages[::-1]):
        faults.append("the order of the pages changes what is on them")
    print(f"{len(pages)} sheets, {sum(map(len, rows.values()))} cable ends, {len(faults)} faults")
    for fault in faults[:40]:
        print(fault)
    return 1 if faults else 0


sys.exit(main())
