"""Writes small GeoPackages (OGC 12-128r15) with nothing but sqlite3: no index, no triggers."""
import sqlite3
import struct

SRS = 27700

TABLES = """
CREATE TABLE gpkg_spatial_ref_sys (srs_name TEXT NOT NULL, srs_id INTEGER PRIMARY KEY,
  organization TEXT NOT NULL, organization_coordsys_id INTEGER NOT NULL, definition TEXT NOT NULL,
  description TEXT);
CREATE TABLE gpkg_contents (table_name TEXT PRIMARY KEY, data_type TEXT NOT NULL,
  identifier TEXT UNIQUE, description TEXT DEFAULT '',
  last_change DATETIME NOT NULL DEFAULT '2000-01-01T00:00:00.000Z',
  min_x DOUBLE, min_y DOUBLE, max_x DOUBLE, max_y DOUBLE, srs_id INTEGER);
CREATE TABLE gpkg_geometry_columns (table_name TEXT NOT NULL, column_name TEXT NOT NULL,
  geometry_type_name TEXT NOT NULL, srs_id INTEGER NOT NULL, z TINYINT NOT NULL, m TINYINT NOT NULL,
  PRIMARY KEY (table_name, column_name));
"""


def point(x, y):
    return struct.pack("<BIdd", 1, 1, x, y)


def line(points):
    return struct.pack("<BII", 1, 2, len(points)) + b"".join(struct.pack("<dd", *p) for p in points)


def lines(parts):
    return struct.pack("<BII", 1, 5, len(parts)) + b"".join(line(p) for p in parts)


def blob(wkb):
    return b"GP\x00\x01" + struct.pack("<i", SRS) + wkb


def write(path, layers, definition):
    """layers: name -> (geometry type or None, [(geometry or None, {field: value})]). `definition`:
    the coordinate system as well-known text."""
    db = sqlite3.connect(path)
    db.executescript(TABLES)
    db.execute("PRAGMA application_id = 0x47504B47")
    db.execute("PRAGMA user_version = 10200")
    db.executemany("INSERT INTO gpkg_spatial_ref_sys VALUES (?, ?, ?, ?, ?, NULL)",
                   [("undefined", -1, "NONE", -1, "undefined"),
                    ("undefined geographic", 0, "NONE", 0, "undefined"),
                    ("national grid", SRS, "EPSG", SRS, definition)])
    for name, (kind, rows) in layers.items():
        fields = {}
        for _, values in rows:
            for field, value in values.items():
                text = isinstance(value, str) or fields.get(field) == "TEXT"
                fields[field] = "TEXT" if text else "REAL"
        columns = ['"%s" %s' % item for item in fields.items()]
        geometry = ["geom BLOB"] if kind else []
        db.execute("CREATE TABLE %s (%s)" % (name, ", ".join(
            ["fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL"] + geometry + columns)))
        db.execute("INSERT INTO gpkg_contents (table_name, data_type, identifier, srs_id)"
                   " VALUES (?, ?, ?, ?)",
                   (name, "features" if kind else "attributes", name, SRS if kind else None))
        if kind:
            db.execute("INSERT INTO gpkg_geometry_columns VALUES (?, 'geom', ?, ?, 0, 0)",
                       (name, kind, SRS))
        for fid, (shape, values) in enumerate(rows, 1):
            cells = [fid] + ([blob(shape) if shape else None] if kind else [])
            cells += [values.get(f) for f in fields]
            db.execute("INSERT INTO %s VALUES (%s)" % (name, ", ".join("?" * len(cells))), cells)
    db.commit()
    db.close()
