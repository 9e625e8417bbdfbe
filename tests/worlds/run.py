"""run.py SEED COUNT LOOPWALK [--all]: random worlds through the whole program.

For each world: `check` (status 0), `explain` of some assets (of every one with --all), and then the
same world with its features in another order, its lines drawn from the other end and one core.
Whatever the records are, this must hold (docs/method.md, docs/data_model.md):

 1. the records are as they were, and every feature is in the result once, with its attributes;
 2. a low bound is no larger than its high bound;
 3. `meets` never stands beside a margin below 1, a reading over the limit, or a state that does not
    clear; the whole of a column is no better than its parts;
 4. what is not traced has no figures;
 5. neither order, direction nor cores change anything.

A world that breaks any of this is made smaller by leaving rows out, and kept where LW_KEEP says.
"""
import hashlib
import os
import random
import shutil
import sqlite3
import subprocess
import sys
import tempfile

import draw
import geopackage

LAYERS = ["columns", "cables", "supplies", "joints"]
IDS = {"columns": "column_id", "cables": "cable_id", "supplies": "supply_id", "joints": "joint_id",
       "mains": "main_id"}
WORST = {"fails": 0, "undecided": 1, "meets": 2}
ROUNDING = 1e-9


class Broken(Exception):
    pass


def definition():
    run = subprocess.run(["gdalsrsinfo", "-o", "wkt1", "EPSG:27700"], capture_output=True, text=True,
                         check=True)
    return run.stdout.strip()


def digest(path):
    with open(path, "rb") as file:
        return hashlib.sha256(file.read()).hexdigest()


def run(command, **options):
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False, **options)
    if done.returncode != 0:
        raise Broken("status %d of %s: %s" % (done.returncode, " ".join(command[1:]),
                                              done.stderr.strip()[-600:]))
    return done.stdout


def rows_of(path, layer):
    db = sqlite3.connect(path)
    db.row_factory = sqlite3.Row
    rows = [dict(row) for row in db.execute('SELECT * FROM "%s" ORDER BY fid' % layer)]
    db.close()
    return rows


def same(a, b):
    return a == b or (isinstance(a, float) and isinstance(b, (int, float)) and float(b) == a)


def check_copies(layers, result):
    for name, (_, rows) in layers.items():
        copies = rows_of(result, name)
        if len(copies) != len(rows):
            raise Broken("%s: %d features of %d" % (name, len(copies), len(rows)))
        for (shape, values), copy in zip(rows, copies):
            for field, value in values.items():
                if not same(value, copy[field]):
                    raise Broken("%s: %s was %r and is %r" % (name, field, value, copy[field]))
            if shape and geopackage.blob(shape)[8:] not in (copy["geom"] or b""):
                raise Broken("%s: another geometry" % name)


def check_column(row):
    for low, high in (("lw_zs_low_ohm", "lw_zs_high_ohm"), ("lw_zs_20c_low_ohm", "lw_zs_20c_high_ohm"),
                      ("lw_vdrop_low_pct", "lw_vdrop_high_pct")):
        if row[low] is not None and row[high] is not None and \
                row[low] > row[high] * (1 + ROUNDING) + ROUNDING:
            raise Broken("%s: %s %r above %s %r" % (row["lw_id"], low, row[low], high, row[high]))
    for side in ("in", "out"):
        verdict, margin = row["lw_%s_verdict" % side], row["lw_%s_margin" % side]
        if verdict == "meets" and margin is not None and margin < 1 - ROUNDING:
            raise Broken("%s: %s meets with a margin of %r" % (row["lw_id"], side, margin))
        if verdict == "meets" and row["lw_%s_state" % side] == "not within table":
            raise Broken("%s: %s meets outside the table" % (row["lw_id"], side))
        if row["lw_%s_state" % side] == "clears" and row["lw_%s_clear_s" % side] is None:
            raise Broken("%s: %s clears in no time" % (row["lw_id"], side))
    parts = [row[f] for f in ("lw_in_verdict", "lw_out_verdict", "lw_breaking_verdict",
                              "lw_heat_verdict") if row[f] in WORST]
    whole = row["lw_verdict"]
    if parts and whole in WORST and WORST[whole] > min(WORST[p] for p in parts):
        raise Broken("%s: %s, but its parts are %s" % (row["lw_id"], whole, parts))
    if row["lw_feed"] == "not traced" and (row["lw_zs_high_ohm"] is not None or whole == "meets"):
        raise Broken("%s: not traced, but has figures" % row["lw_id"])


def check_readings(layers, columns):
    """A reading at the cut-out that is above the limit of its device never stands beside meets."""
    by_id = {}
    for row in columns:
        by_id.setdefault(row["column_id"], []).append(row)
    for _, reading in layers.get("readings", (None, []))[1]:
        owners = by_id.get(reading.get("asset_id"), [])
        if len(owners) != 1 or reading.get("asset_layer", "columns") != "columns":
            continue
        row, zs = owners[0], reading.get("zs_ohm")
        limit = row["lw_in_zs_limit_ohm"]
        if isinstance(zs, (int, float)) and limit is not None and zs > limit and \
                reading.get("taken_at") == "cut-out" and row["lw_in_verdict"] == "meets" and \
                not (row["lw_in_device"] or "").endswith("RCD") and row["earthing"] != "TT":
            raise Broken("%s: meets with a reading of %r over %r" % (row["lw_id"], zs, limit))


def content(path):
    """Everything in a result but row numbers and what names files and digests."""
    db = sqlite3.connect(path)
    tables = [r[0] for r in db.execute("SELECT table_name FROM gpkg_contents ORDER BY 1")]
    found = {}
    for table in tables:
        cursor = db.execute('SELECT * FROM "%s"' % table)
        names = [d[0] for d in cursor.description]
        keep = [i for i, n in enumerate(names) if n not in ("fid", "geom", "id")]
        keep.sort(key=lambda i: names[i])
        rows = sorted(repr([row[i] for i in keep]) for row in cursor)
        if table == "run":
            rows = [r for r in rows if not r.startswith(("['input", "['layer"))]
        found[table] = rows
    db.close()
    return found


def shuffled(layers, rng):
    """The same records in another order, lines drawn from the other end."""
    other = {}
    for name, (kind, rows) in layers.items():
        rows = list(rows)
        rng.shuffle(rows)
        turned = []
        for shape, values in rows:
            if kind == "LINESTRING" and shape and rng.random() < 0.5:
                count = (len(shape) - 9) // 16
                points = [shape[9 + 16 * i:25 + 16 * i] for i in range(count)]
                shape = shape[:9] + b"".join(reversed(points))
            turned.append((shape, values))
        other[name] = (kind, turned)
    return other


def examine(layers, folder, program, rng, explained, wkt):
    records, result = folder + "/records.gpkg", folder + "/checked.gpkg"
    for path in (records, result):
        if os.path.exists(path):
            os.remove(path)
    geopackage.write(records, layers, wkt)
    before = digest(records)
    run([program, "check", records, "-o", result, "--quiet"], cwd=folder)
    check_copies(layers, result)
    columns = rows_of(result, "columns")
    for row in columns:
        check_column(row)
    check_readings(layers, columns)
    assets = [(layer, row["lw_id"]) for layer in LAYERS if layer in layers
              for row in rows_of(result, layer)]
    chosen = assets if explained is None else rng.sample(assets, min(explained, len(assets)))
    for layer, name in chosen:
        run([program, "explain", records, "%s:%s" % (layer, name)], cwd=folder)
    if digest(records) != before or os.path.exists(records + "-wal"):
        raise Broken("the records were changed")
    other, again = folder + "/other.gpkg", folder + "/again.gpkg"
    for path in (other, again):
        if os.path.exists(path):
            os.remove(path)
    has_twice = len({v.get("column_id") for _, v in layers["columns"][1]}) < len(layers["columns"][1])
    if not has_twice:  # which of two equal ids keeps it is settled by place, its number shows
        geopackage.write(other, shuffled(layers, rng), wkt)
        run(["taskset", "-c", "0", program, "check", other, "-o", again, "--quiet"], cwd=folder)
        first, second = content(result), content(again)
        for table, rows in first.items():
            if rows != second.get(table):
                lost = [r for r in rows if r not in second.get(table, [])][:1]
                came = [r for r in second.get(table, []) if r not in rows][:1]
                raise Broken("order or direction changes %s: %s became %s" % (table, lost, came))
    return len(chosen)


def fails(layers, *rest):
    try:
        examine(layers, *rest)
    except Broken as broken:
        return str(broken)
    except subprocess.TimeoutExpired:
        return "more than a minute"
    return None


def smaller(layers, why, *rest):
    """Leaves out rows as long as the same kind of thing goes wrong."""
    kind = why.split(":")[0][:24]
    changed = True
    while changed:
        changed = False
        for name, (geometry, rows) in list(layers.items()):
            for i in range(len(rows) - 1, -1, -1):
                tried = dict(layers)
                tried[name] = (geometry, rows[:i] + rows[i + 1:])
                if name not in ("columns", "cables") and not tried[name][1]:
                    del tried[name]
                said = fails(tried, *rest)
                if said is not None and said.split(":")[0][:24] == kind:
                    layers, rows, changed, why = tried, rows[:i] + rows[i + 1:], True, said
    return layers, why


def main():
    seed, count, program = int(sys.argv[1]), int(sys.argv[2]), os.path.abspath(sys.argv[3])
    explained = None if "--all" in sys.argv else 3
    wkt = definition()
    pages = broken = 0
    with tempfile.TemporaryDirectory() as folder:
        for number in range(count):
            rng = random.Random("%d/%d" % (seed, number))
            layers = draw.draw(rng)
            state = rng.getstate()
            try:
                pages += examine(layers, folder, program, rng, explained, wkt)
                continue
            except Broken as error:
                why = str(error)
            except subprocess.TimeoutExpired:
                why = "more than a minute"
            broken += 1
            print("seed %d, world %d: %s" % (seed, number, why))
            if os.environ.get("LW_KEEP"):
                again = random.Random()
                again.setstate(state)
                layers, why = smaller(layers, why, folder, program, again, None, wkt)
                kept = "%s/world_%d_%d.gpkg" % (os.environ["LW_KEEP"], seed, number)
                if os.path.exists(kept):
                    os.remove(kept)
                geopackage.write(kept, layers, wkt)
                print("  made smaller: %s (%s)" % (kept, why))
    print("seed %d: %d worlds, %d pages, %d broken" % (seed, count, pages, broken))
    sys.exit(1 if broken else 0)


if __name__ == "__main__":
    main()
