"""Made-up records of councils in four languages: draft, then check, nothing edited.

councils.py LOOPWALK TOWN_GPKG

The made-up town under the names and words that an office of each country might write: accents,
abbreviations, mixed cases, words of the trade there. They were written before anybody looked what the
draft makes of them, and not from its word lists. The true job of each is written from the same table.
No verdict may be better with the drafted job than with the true one: better is to predict that a
column meets what it does not, or to hide that it fails.
"""

import collections
import json
import pathlib
import sqlite3
import sys
import tempfile
import tomllib

from town import run, write_copy


def words(field, table):
    cases = " ".join(f"WHEN '{a}' THEN '{b}'" for a, b in table.items())
    return f"CASE {field} {cases} ELSE {field} END"


def council(layers, fields, tables):
    """role: (layer, {field: (name, SQL, unit)}), and the meaning of each word."""
    plan, meanings = {}, {}
    for role, layer in layers.items():
        plan[role] = (layer, {})
        for field, name in fields[role].items():
            unit, sql = None, f'"{field}"'
            if isinstance(name, tuple):
                name, unit, factor = name
                sql = f'"{field}" * {factor}'
            table = tables.get(f"{role}.{field}", tables.get(field))
            if table:
                sql = words(f'"{field}"', table)
                meanings[role, field] = {b: a for a, b in table.items()}
            plan[role][1][field] = (name, sql, unit)
    return plan, meanings


GERMAN = council(
    {"columns": "Straßenbeleuchtung_Masten", "cables": "Beleuchtungskabel",
     "supplies": "Schaltschränke", "ways": "Abgänge", "joints": "Muffen"},
    {"columns": {"column_id": "Mast-Nr.", "kind": "Bauart", "road": "Straße", "area": "Ortsteil",
                 "owner": "Eigentümer", "circuit": "Stromkreis", "phase": "Außenleiter",
                 "control": "Schaltung", "load_w": "Anschlußleistung_W", "fuse_type": "Si-Typ",
                 "fuse_a": "Si_Nennstrom", "height_m": "LPH_m", "tail_m": "Zul_Länge",
                 "earthing": "Netzform", "status": "Zustand"},
     "cables": {"cable_id": "Kabel-Nr.", "cable_type": "Kabeltyp/Querschnitt",
                "circuit": "Stromkreis", "length_m": "Länge_m", "owner": "Eigentümer",
                "status": "Betriebszustand"},
     "supplies": {"supply_id": "Schrank_Nr", "kind": "Art", "earthing": "Netzform",
                  "ze_ohm": "Schleifenimpedanz", "ze_basis": "Herkunft_Zs",
                  "pscc_ka": "Ik_1pol_kA", "fuse_type": "Vorsicherung_Typ",
                  "fuse_a": "Vorsicherung_A", "status": "Zustand"},
     "ways": {"supply_id": "Schrank_Nr", "way": "Abg.", "circuit": "Stromkreis",
              "phase": "Leiter", "fuse_type": "Sicherungsart", "fuse_a": "Nennstrom"},
     "joints": {"joint_id": "Muffen-Nr.", "kind": "Muffenart"}},
    {"kind": {"column": "Stahlmast", "sign": "bel. Verkehrszeichen", "bollard": "Pollerleuchte",
              "beacon": "Blinkleuchte", "shelter": "FGU"},
     "supplies.kind": {"pillar": "Schaltschrank", "section pillar": "KVS", "service": "HAK",
                       "substation": "Ortsnetzstation"},
     "joints.kind": {"straight": "Verb.-Muffe", "tee": "Abzweigmuffe", "pot end": "Endmuffe"},
     "owner": {"council": "Stadt", "distributor": "Stadtwerke Netz GmbH", "unknown": "unbek."},
     "control": {"own photocell": "Dämmerungssch.", "permanent": "Dauerspg.",
                 "group switched": "RSE"},
     "ze_basis": {"measured": "gemessen", "declared": "Angabe VNB", "assumed": "angenommen"},
     "status": {"in service": "i. B.", "removed": "abgebaut", "proposed": "gepl.",
                "disconnected": "abgeklemmt"}})
FRENCH = council(
    {"columns": "Éclairage public – supports", "cables": "Réseau_EP", "supplies": "Armoires EP",
     "ways": "Départs", "joints": "Boîtes de jonction"},
    {"columns": {"column_id": "N°_Support", "kind": "Nature", "road": "Voie", "area": "Quartier",
                 "owner": "Propriétaire", "circuit": "N°_départ", "phase": "Phase",
                 "control": "Commande", "load_w": "Puiss._totale_W", "fuse_type": "Type_fusible",
                 "fuse_a": "Cal_fus", "height_m": "Ht_feu", "tail_m": "Long. remontée",
                 "earthing": "Régime_neutre", "status": "État"},
     "cables": {"cable_id": "ID_Tronçon", "cable_type": "Nature_câble", "circuit": "N°_départ",
                "length_m": "Lg_posée", "owner": "Propriétaire", "status": "État"},
     "supplies": {"supply_id": "Réf_armoire", "kind": "Nature", "earthing": "SLT",
                  "ze_ohm": "Z_boucle", "ze_basis": "Origine_Z", "pscc_ka": "Icc_mono_kA",
                  "fuse_type": "Prot._tête", "fuse_a": "Calibre_AGCP", "status": "État"},
     "ways": {"supply_id": "Réf_armoire", "way": "Départ", "circuit": "N°_départ",
              "phase": "Phase", "fuse_type": "Protection", "fuse_a": "Calibre"},
     "joints": {"joint_id": "Id_boîte", "kind": "Genre"}},
    {"kind": {"column": "Candélabre", "sign": "Panneau lumineux", "bollard": "Borne lum.",
              "beacon": "Feu à éclats", "shelter": "Abri-bus"},
     "supplies.kind": {"pillar": "Armoire", "section pillar": "Coffret de sectionnement",
                       "service": "Branchement", "substation": "Poste HTA/BT"},
     "joints.kind": {"straight": "Jonction", "tee": "Dérivation", "pot end": "Bout perdu"},
     "owner": {"council": "Commune", "distributor": "GRD", "unknown": "n.c."},
     "control": {"own photocell": "Cellule", "permanent": "Permanent", "group switched": "Horloge"},
     "ze_basis": {"measured": "mesurée", "declared": "donnée GRD", "assumed": "estimée"},
     "status": {"in service": "En service", "removed": "Déposé", "proposed": "À poser",
                "disconnected": "Débranché"}})
SPANISH = council(
    {"columns": "Puntos_de_luz", "cables": "Tramos_línea_AP", "supplies": "Centros de mando",
     "ways": "Salidas", "joints": "Empalmes"},
    {"columns": {"column_id": "Nº_PL", "kind": "Soporte", "road": "Vía", "area": "Distrito",
                 "owner": "Titularidad", "circuit": "Cto.", "phase": "Fase",
                 "control": "Encendido", "load_w": "Pot_inst_(W)", "fuse_type": "Tipo_fus.",
                 "fuse_a": "Int_fus_A", "height_m": "Altura", "tail_m": "L_acometida",
                 "earthing": "Esq_TT", "status": "Situación"},
     "cables": {"cable_id": "Cod_tramo", "cable_type": "Sección_conductor", "circuit": "Cto.",
                "length_m": "Long_m", "owner": "Titularidad", "status": "Situación"},
     "supplies": {"supply_id": "Nº_CM", "kind": "Clase", "earthing": "Esquema_tierra",
                  "ze_ohm": "Imp_bucle", "ze_basis": "Origen_imp", "pscc_ka": "Icc_kA",
                  "fuse_type": "Tipo_prot", "fuse_a": "IGA_A", "status": "Situación"},
     "ways": {"supply_id": "Nº_CM", "way": "Salida", "circuit": "Cto.", "phase": "Fase",
              "fuse_type": "Protección", "fuse_a": "Calibre_A"},
     "joints": {"joint_id": "Nº_empalme", "kind": "Clase"}},
    {"kind": {"column": "Báculo", "sign": "Señal luminosa", "bollard": "Baliza",
              "beacon": "Intermitente", "shelter": "Marquesina"},
     "supplies.kind": {"pillar": "Cuadro de mando", "section pillar": "Caja de seccionamiento",
                       "service": "Acometida", "substation": "C.T."},
     "joints.kind": {"straight": "Recto", "tee": "Derivación", "pot end": "Terminal"},
     "owner": {"council": "Ayto.", "distributor": "Cía. eléctrica", "unknown": "s/d"},
     "control": {"own photocell": "Fotocélula", "permanent": "Fijo", "group switched": "Reloj astr."},
     "ze_basis": {"measured": "medida", "declared": "facilitada", "assumed": "supuesta"},
     "status": {"in service": "En servicio", "removed": "Retirado", "proposed": "Proyecto",
                "disconnected": "Desconectado"}})
POLISH = council(
    {"columns": "Słupy oświetleniowe", "cables": "Linie kablowe ośw.", "supplies": "Szafki SO",
     "ways": "Obwody", "joints": "Mufy"},
    {"columns": {"column_id": "Nr_słupa", "kind": "Rodzaj", "road": "Ulica", "area": "Osiedle",
                 "owner": "Własność", "circuit": "Nr_obwodu", "phase": "Faza",
                 "control": "Sterowanie", "load_w": "Moc_oprawy_W", "fuse_type": "Typ_wkł.",
                 "fuse_a": "Bezp._[A]", "height_m": "Wys.", "tail_m": "Dł_przew",
                 "earthing": "Układ_sieci", "status": "Stan"},
     "cables": {"cable_id": "Nr_odcinka", "cable_type": "Typ_kabla", "circuit": "Nr_obwodu",
                "length_m": "Długość", "owner": "Własność", "status": "Stan"},
     "supplies": {"supply_id": "Nr_szafki", "kind": "Rodzaj", "earthing": "Układ_sieci",
                  "ze_ohm": "Imp_pętli", "ze_basis": "Źródło_danych", "pscc_ka": "Ik1_kA",
                  "fuse_type": "Zab_przedl", "fuse_a": "Zab_przedl_A", "status": "Stan"},
     "ways": {"supply_id": "Nr_szafki", "way": "Odpływ", "circuit": "Nr_obwodu", "phase": "Faza",
              "fuse_type": "Typ_zab", "fuse_a": "Zab_A"},
     "joints": {"joint_id": "Nr_mufy", "kind": "Rodzaj"}},
    {"kind": {"column": "Słup stalowy", "sign": "Znak podśw.", "bollard": "Słupek", "beacon": "Pulsator",
              "shelter": "Wiata"},
     "supplies.kind": {"pillar": "Szafka ośw.", "section pillar": "Złącze kablowe",
                       "service": "Przyłącze", "substation": "Stacja trafo"},
     "joints.kind": {"straight": "Przelotowa", "tee": "Odgałęźna", "pot end": "Końcowa"},
     "owner": {"council": "Gmina", "distributor": "Zakład Energ.", "unknown": "b.d."},
     "control": {"own photocell": "Czujnik zmierzchu", "permanent": "Stałe",
                 "group switched": "Zegar astr."},
     "ze_basis": {"measured": "pomiar", "declared": "z warunków", "assumed": "przyjęto"},
     "status": {"in service": "czynny", "removed": "zlikwidowany", "proposed": "projektowany",
                "disconnected": "odłączony"}})


def text(value):
    return json.dumps(value, ensure_ascii=False)


def true_job(copy, plan, meanings):
    lines = ["[data]", f"dataset = {text(str(copy))}"]
    for role, (layer, fields) in plan.items():
        lines += ["", f"[{role}]", f"layer = {text(layer)}"]
        lines.append("fields = { " + ", ".join(f"{field} = {text(name)}"
                                              for field, (name, _, _) in fields.items()) + " }")
        units = [f"{field} = {text(unit)}" for field, (_, _, unit) in fields.items() if unit]
        if units:
            lines.append("units = { " + ", ".join(units) + " }")
        for field in fields:
            if (role, field) in meanings:
                lines.append(f"[{role}.values.{field}]")
                lines += [f"{text(word)} = {text(meaning)}"
                          for word, meaning in meanings[role, field].items()]
    return "\n".join(lines) + "\n"


def judge(job, plan, meanings):
    """Counts of fields, faults: what is stated and wrong, by field and word."""
    count, lines = collections.Counter(), []
    for role, (layer, fields) in plan.items():
        table = job.get(role, {})
        table = table[0] if isinstance(table, list) else table
        if table.get("layer") != layer:
            lines.append(f"{role}: layer {table.get('layer')}, is {layer}")
            table = {}
        guessed = {k: v for k, v in table.get("fields", {}).items() if v}
        for field, (name, _, unit) in fields.items():
            got = guessed.pop(field, None)
            kind = ("blank" if got is None else "right" if got == name and
                    table.get("units", {}).get(field) == unit else "wrong")
            count[kind] += 1
            if kind != "right":
                lines.append(f"{role}.{field}: {kind}, got {got}, is {name}")
            if kind == "right":
                for word, meaning in table.get("values", {}).get(field, {}).items():
                    true = meanings.get((role, field), {}).get(word)
                    kind = "words right" if true == meaning or not true else "words wrong"
                    count[kind] += 1
                    if kind == "words wrong":
                        lines.append(f"{role}.{field}: {word} = {meaning}, is {true}")
        for field, got in guessed.items():
            count["wrong"] += 1
            lines.append(f"{role}.{field}: wrong, got {got}, no field holds it")
    return count, lines


def verdicts(path):
    db = sqlite3.connect(path)
    return dict(db.execute("SELECT fid, lw_verdict FROM columns"))


def better(true, drafted):
    """Columns that the draft makes look better: a false `meets`, and a `fails` that is called
    nobody's business. What is not traced is to be taken for live."""
    return {fid: (verdict, drafted.get(fid)) for fid, verdict in true.items()
            if (drafted.get(fid) == "meets" and verdict != "meets") or
            (verdict == "fails" and drafted.get(fid) not in ("fails", "undecided", "not traced"))}


def main():
    loopwalk, town = sys.argv[1], pathlib.Path(sys.argv[2])
    faults = []
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        for name, (plan, meanings) in (("German", GERMAN), ("French", FRENCH),
                                       ("Spanish", SPANISH), ("Polish", POLISH)):
            copy, job, true = (folder / f"{name}{end}" for end in (".gpkg", ".toml", "_true.toml"))
            write_copy(town, copy, plan, worn=False)
            true.write_text(true_job(copy, plan, meanings))
            run(loopwalk, "check", true, "-o", folder / f"{name}_true.gpkg", "--quiet")
            run(loopwalk, "draft", copy, "-o", job, "--quiet")
            count, lines = judge(tomllib.loads(job.read_text()), plan, meanings)
            print(f"{name}: " + ", ".join(f"{k} {count[k]}" for k in (
                "right", "blank", "wrong", "words right", "words wrong")))
            for line in lines:
                print("  " + line)
            if len(sys.argv) > 3:
                print(job.read_text())
            run(loopwalk, "check", job, "-o", folder / f"{name}_out.gpkg", "--quiet")
            before = verdicts(folder / f"{name}_true.gpkg")
            after = verdicts(folder / f"{name}_out.gpkg")
            for kind, all_verdicts in (("true job", before), ("drafted", after)):
                print(f"  {kind}: {dict(sorted(collections.Counter(all_verdicts.values()).items()))}")
            found = better(before, after)
            faults += [f"{name}: column {fid}: {a}, drafted {b}"
                       for fid, (a, b) in sorted(found.items())[:5]]
            if count["wrong"] or count["words wrong"]:
                faults.append(f"{name}: something stated is wrong")
            if count["right"] < 0.7 * sum(count[k] for k in ("right", "blank", "wrong")):
                faults.append(f"{name}: too few fields are right")
            if len(before) != len(after):
                faults.append(f"{name}: {len(after)} columns, not {len(before)}")
    for fault in faults:
        print("FAULT:", fault)
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
