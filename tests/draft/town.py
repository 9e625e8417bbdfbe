"""The made-up town under other names, words and units: draft, then check, nothing edited.

town.py LOOPWALK TOWN_GPKG

The right answers are the renamings below, not what the program says. A renamed copy must have the
verdicts of the town itself. Worn ones have half of the records missing, an older field beside a newer
and a layer of other things; terse ones have names that no one can be sure of. Nothing that is called
sure may be wrong in any, and check must take each draft as it is.
"""

import collections
import pathlib
import re
import sqlite3
import subprocess
import sys
import tempfile
import tomllib

FT = 0.3048


def words(field, table):
    cases = " ".join(f"WHEN '{a}' THEN '{b}'" for a, b in table.items())
    return f"CASE {field} {cases} ELSE {field} END"


KINDS = {"column": "Lighting Column", "sign": "Illuminated Sign", "bollard": "Traffic Bollard",
         "beacon": "Belisha Beacon", "shelter": "Bus Shelter"}
OWNERS = {"council": "Borough Council", "distributor": "DNO", "unknown": "Not known"}
STATUSES = {"in service": "Live", "removed": "Decommissioned", "proposed": "Planned"}
CONTROLS = {"own photocell": "Photocell", "permanent": "Unswitched",
            "group switched": "Group control"}
FUSES = {"BS 88-2": "BS88 part 2"}
CABLES = {f"SWA XLPE Cu 2x{s}": f"2c {s}mm2 SWA XLPE Cu" for s in ("6", "10", "16")}
HEIGHT = f"CASE WHEN height_m + 0 > 0 THEN round(height_m / {FT}, 4) ELSE height_m END"

# layer of the contract: (name in the copy, {field: (name in the copy, SQL, unit or None)})
COPY = {
    "columns": ("LP_UNITS", {
        "column_id": ("UNIT_NO", "column_id", None),
        "kind": ("UNIT_TYPE", words("kind", KINDS), None),
        "road": ("ROAD_NAME", "road", None),
        "area": ("WARD", "area", None),
        "owner": ("SUPP_OWNER", words("owner", OWNERS), None),
        "feed": ("FED_FROM", "feed", None),
        "circuit": ("CIRCUIT_NO", "circuit", None),
        "phase": ("PHASE", "phase", None),
        "control": ("SWITCHING", words("control", CONTROLS), None),
        "load_w": ("LOAD_KW", "load_w / 1000.0", "kW"),
        "power_factor": ("POWER_FACT", "power_factor", None),
        "fuse_type": ("FUSE_TYPE", words("fuse_type", FUSES), None),
        "fuse_a": ("FUSE_RATIN", "fuse_a", None),
        "fuse_breaking_ka": ("FUSE_BREAK", "fuse_breaking_ka", None),
        "poles": ("FUSE_POLES", "poles", None),
        "tail_type": ("TAIL_TYPE", "tail_type", None),
        "tail_m": ("TAIL_LENGT", "tail_m", None),
        "height_m": ("HEIGHT_FT", HEIGHT, "ft"),
        "earthing": ("EARTH_SYST", "earthing", None),
        "electrode_ohm": ("ELECTRODE_", "electrode_ohm", None),
        "status": ("STATUS", words("status", STATUSES), None),
    }),
    "cables": ("SL_CABLES", {
        "cable_id": ("CABLE_REF", "cable_id", None),
        "cable_type": ("CABLE_SIZE", words("cable_type", CABLES), None),
        "circuit": ("CCT", "circuit", None),
        "length_m": ("CABLE_LENG", f"round(length_m / {FT}, 4)", "ft"),
        "owner": ("OWNER", words("owner", OWNERS), None),
        "status": ("CABLE_STAT", words("status", STATUSES), None),
    }),
    "supplies": ("FEEDER_PILLARS", {
        "supply_id": ("PILLAR_NO", "supply_id", None),
        "kind": ("SUPP_TYPE", "kind", None),
        "earthing": ("EARTHING", "earthing", None),
        "ze_ohm": ("ZE", "ze_ohm", None),
        "ze_basis": ("ZE_BASIS", "ze_basis", None),
        "pscc_ka": ("PSCC_A", "pscc_ka * 1000", "A"),
        "pscc3_ka": ("PSCC_3PH", "pscc3_ka", None),
        "pscc_basis": ("PSCC_BASIS", "pscc_basis", None),
        "voltage_v": ("VOLTAGE", "voltage_v", None),
        "phases": ("NO_PHASES", "phases", None),
        "fuse_type": ("FUSE_TYPE", words("fuse_type", FUSES), None),
        "fuse_a": ("FUSE_SIZE", "fuse_a", None),
        "rcd_ma": ("RCD_MA", "rcd_ma", None),
        "electrode_ohm": ("ROD_OHMS", "electrode_ohm", None),
        "transformer_kva": ("TX_KVA", "transformer_kva", None),
        "transformer_z_pct": ("TX_Z_PCT", "transformer_z_pct", None),
        "transformer_r_pct": ("TX_R_PCT", "transformer_r_pct", None),
        "status": ("STATUS", words("status", STATUSES), None),
    }),
    "ways": ("PILLAR_WAYS", {
        "supply_id": ("PILLAR_NO", "supply_id", None),
        "way": ("WAY_NO", "way", None),
        "circuit": ("CIRCUIT", "circuit", None),
        "phase": ("PHASE", "phase", None),
        "control": ("CONTROL", words("control", CONTROLS), None),
        "fuse_type": ("FUSE_TYPE", words("fuse_type", FUSES), None),
        "fuse_a": ("FUSE_AMPS", "fuse_a", None),
        "rcd_ma": ("RCD", "rcd_ma", None),
        "limit_s": ("LIMIT_S", "limit_s", None),
    }),
    "joints": ("CABLE_JOINTS", {
        "joint_id": ("JOINT_ID", "joint_id", None),
        "kind": ("JOINT_TYPE", "kind", None),
        "fuse_type": ("FUSE_TYPE", words("fuse_type", FUSES), None),
        "fuse_a": ("FUSE_AMPS", "fuse_a", None),
    }),
    "mains": ("LV_MAINS", {
        "main_id": ("MAIN_ID", "main_id", None),
        "cable_type": ("CABLE_TYPE", "cable_type", None),
        "length_m": ("LENGTH_M", "length_m", None),
        "customers": ("CUSTOMERS", "customers", None),
    }),
    "terminations": ("TERMINATIONS", {
        "asset_id": ("UNIT_NO", "asset_id", None),
        "cable_id": ("CABLE_REF", "cable_id", None),
        "asset_layer": ("ASSET_TYPE", "asset_layer", None),
        "state": ("STATE", "state", None),
        "side": ("SIDE", "side", None),
        "earth": ("EARTH_BOND", "earth", None),
    }),
    "loads": ("COLUMN_LOADS", {
        "column_id": ("UNIT_NO", "column_id", None),
        "use": ("LOAD_USE", '"use"', None),
        "load_w": ("WATTS", "load_w", None),
        "power_factor": ("POWER_FACT", "power_factor", None),
        "fuse_type": ("FUSE_TYPE", words("fuse_type", FUSES), None),
        "fuse_a": ("FUSE_AMPS", "fuse_a", None),
        "phase": ("PHASE", "phase", None),
        "rcd_ma": ("RCD_MA", "rcd_ma", None),
        "limit_s": ("LIMIT_S", "limit_s", None),
    }),
    "readings": ("TEST_RESULTS", {
        "asset_id": ("ASSET_NO", "asset_id", None),
        "asset_layer": ("ASSET_TYPE", "asset_layer", None),
        "taken_on": ("TEST_DATE", "taken_on", None),
        "taken_at": ("TEST_PLACE", "taken_at", None),
        "zs_ohm": ("ZS", "zs_ohm", None),
        "conductor_c": ("CABLE_TEMP", "conductor_c", None),
        "method": ("METHOD", "method", None),
    }),
}
# Shorter than any sensible office writes; what they mean cannot always be told.
TERSE = {
    "columns": ("SL", "LP TYP RD DIST OWN FEED CCT PH CTRL KW PF FTYPE FAMP FKA NP TTYPE TLEN HT ETH "
                      "EL STAT"),
    "cables": ("CBL", "REF SIZE CCT LEN OWN STAT"),
    "supplies": ("PILL", "NO TYP ETH ZE ZSRC PSC PSC3 PSRC V NPH FTYPE FAMP RCD ROD KVA Z R STAT"),
    "ways": ("WAYS", "PILL WAY CCT PH CTRL FTYPE FAMP RCD T"),
    "joints": ("JTS", "NO TYP FTYPE FAMP"),
    "mains": ("MAINS", "NO SIZE LEN CUST"),
    "terminations": ("TERMS", "LP CBL LYR STAT SIDE ETH"),
    "loads": ("LOADS", "LP USE W PF FTYPE FAMP PH RCD T"),
    "readings": ("TESTS", "REF LYR DT PLC ZS TEMP METH"),
}


def terse_copy():
    copy = {}
    for role, (_, fields) in COPY.items():
        layer, names = TERSE[role]
        assert len(names.split()) == len(fields), role
        copy[role] = (layer, {field: (name, sql, unit) for name, (field, (_, sql, unit))
                              in zip(names.split(), fields.items())})
    return copy


KEPT_WHEN_WORN = {"column_id", "cable_id", "supply_id", "joint_id", "main_id", "asset_id", "way"}


def run(*command):
    done = subprocess.run(command, capture_output=True, text=True)
    if done.returncode != 0:
        sys.exit(f"{' '.join(map(str, command))}: status {done.returncode}\n{done.stderr}")
    return done.stdout


def write_copy(town, target, plan, worn):
    for role, (layer, fields) in plan.items():
        has_place = role in ("columns", "cables", "supplies", "joints", "mains")
        columns = []
        for n, (field, (name, sql, _)) in enumerate(fields.items()):
            if worn and field not in KEPT_WHEN_WORN:
                # Half of the records, another half for each field.
                sql = f"CASE WHEN (fid * 7 + {n}) % 2 THEN NULL ELSE {sql} END"
            columns.append(f'{sql} AS "{name}"')
        if worn and role == "cables":
            columns.append("'?' || cable_type AS CABLE_OLD")
        select = f"SELECT {'geom, ' if has_place else ''}{', '.join(columns)} FROM {role}"
        run("ogr2ogr", "-f", "GPKG", *(["-update"] if target.exists() else []), target, town,
            "-nln", layer, "-sql", select)
    if worn:
        run("ogr2ogr", "-f", "GPKG", "-update", target, town, "-nln", "STREET_CENTRELINES", "-sql",
            "SELECT geom, fid AS STREET_ID, 'Road' AS TYPE, 10.0 AS LENGTH FROM mains")


def marks(text):
    """(role, field) or (role, field, word): its confidence, of lines that are no comments."""
    found, table = {}, []
    for line in text.splitlines():
        if head := re.match(r"\[(.+)\]$", line):
            table = head[1].split(".")
        entry = re.match(r'("(?:[^"\\]|\\.)*"|\w+) = .*# (sure|likely|unsure)\b', line)
        if not entry or len(table) < 2:
            continue
        key = entry[1].strip('"')
        if table[1] == "fields":
            found[table[0], key] = entry[2]
        elif table[1] == "values":
            found[table[0], table[2], key] = entry[2]
    return found


def originals(db, role, layer, name, field, town):
    """Word in the copy: word of the town, by feature."""
    copied = dict(db.execute(f'SELECT fid, "{name}" FROM "{layer}"'))
    plain = dict(town.execute(f'SELECT fid, "{field}" FROM {role}'))
    pairs = collections.defaultdict(set)
    for (_, word), (_, meant) in zip(sorted(copied.items()), sorted(plain.items())):
        if word is not None:
            pairs[str(word)].add(str(meant))
    return pairs


def judge(job_path, copy, plan, town):
    """Prints what was guessed and returns (right, all, faults)."""
    job, confidence = tomllib.loads(job_path.read_text()), marks(job_path.read_text())
    db, source = sqlite3.connect(copy), sqlite3.connect(town)
    right = wrong = blank = 0
    faults = []
    for role, (layer, fields) in plan.items():
        table = job.get(role, {})
        if table.get("layer") != layer:
            faults += [f"{role}: layer {table.get('layer')}"] if table.get("layer") else []
            print(f"  {role}: layer {layer} was not found")
        guessed = {k: v for k, v in table.get("fields", {}).items() if v}
        for field, (name, _, unit) in fields.items():
            got, got_unit = guessed.pop(field, None), table.get("units", {}).get(field)
            recorded = db.execute(f'SELECT count("{name}") FROM "{layer}"').fetchone()[0]
            if got is None:
                blank += 1
                print(f"  {role}.{field}: left blank (is {name}, {recorded} records)")
            elif got != name or (got_unit != unit and recorded):
                wrong += 1
                print(f"  {role}.{field}: {got} [{got_unit}], is {name} [{unit}]")
                if confidence.get((role, field)) == "sure":
                    faults.append(f"sure but wrong: {role}.{field} = {got} [{got_unit}]")
            else:
                right += 1
                for word, meaning in table.get("values", {}).get(field, {}).items():
                    meant = originals(db, role, layer, name, field, source).get(word, set())
                    if str(meaning) not in meant and not (meaning == "" and meant <= {"unknown"}):
                        faults.append(f"{role}.{field}: {word} = {meaning}, is {meant}")
        for field, got in guessed.items():
            wrong += 1
            print(f"  {role}.{field}: {got}, but no field holds it")
            if confidence.get((role, field)) == "sure":
                faults.append(f"sure but wrong: {role}.{field} = {got}")
    total = sum(len(fields) for _, fields in plan.values())
    print(f"  of {total} fields: right {right}, wrong {wrong}, left blank {blank}")
    return right, total, faults


def verdicts(path):
    rows = sqlite3.connect(path).execute("SELECT lw_id, lw_verdict FROM columns")
    return sorted(rows, key=str)


def main():
    loopwalk, town = sys.argv[1], pathlib.Path(sys.argv[2])
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        faults = []
        run(loopwalk, "check", town, "-o", folder / "town.gpkg", "--quiet")
        for name, plan, worn, least in (("renamed", COPY, False, 0.9), ("worn", COPY, True, 0.75),
                                        ("terse", terse_copy(), False, 0.5),
                                        ("terse and worn", terse_copy(), True, 0.4)):
            copy, job = folder / f"{name}.gpkg", folder / f"{name}.toml"
            write_copy(town, copy, plan, worn)
            run(loopwalk, "draft", copy, "-o", job, "--quiet")
            print(f"{name}:")
            right, total, found = judge(job, copy, plan, town)
            if len(sys.argv) > 3:
                print(job.read_text())
            faults += [f"{name}: {fault}" for fault in found]
            if right < least * total:
                faults.append(f"{name}: {right} of {total} fields are right, too few")
            run(loopwalk, "check", job, "-o", folder / f"{name}_checked.gpkg", "--quiet")
        plain, renamed = verdicts(folder / "town.gpkg"), verdicts(folder / "renamed_checked.gpkg")
        faults += [f"verdict of {a[0]}: {a[1]}, renamed: {b}"
                   for a, b in zip(plain, renamed) if a != b][:10]
        if len(plain) != len(renamed):
            faults.append("the renamed town has another number of columns")
        print(f"verdicts of {len(plain)} columns compared")
    for fault in faults:
        print("FAULT:", fault)
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
