# A made-up town of which three columns in four hang on the distributor's mains, with no Ze and no
# prospective current on record: what its records lack is said once, not at every column.
. "$(dirname "$0")/../common.sh"

python3 - <<'PYTHON'
import json

layers = {name: [] for name in ("columns", "cables", "supplies", "ways", "mains")}


def add(layer, geometry, **properties):
    layers[layer].append({"type": "Feature", "properties": properties, "geometry": geometry})


def point(x, y):
    return {"type": "Point", "coordinates": [x, y]}


def line(a, b):
    return {"type": "LineString", "coordinates": [a, b]}


def column(name, street, x, y, **properties):
    add("columns", point(x, y), column_id=name, road="Road %d" % street, area="Ward %d" % (street // 10),
        fuse_a=6, load_w=40, power_factor=0.9, tail_type="Flat twin and earth 1.5", tail_m=6, **properties)


for street in range(40):
    left, y = 400000, 200000 + 200 * street
    if street % 4 > 0:
        add("mains", line((left, y), (left + 760, y)), main_id="M%d" % street)
        for n in range(25):
            x, name = left + 30 * n + 10, "S%d-%02d" % (street, n)
            column(name, street, x, y + 4, owner="distributor" if n % 2 else None, feed="main",
                   fuse_type="BS 88-2" if n % 3 else None)
            add("cables", line((x, y), (x, y + 4)), cable_id="K" + name, owner="distributor")
        continue
    pillar, before = "P%d" % street, (left, y)
    add("supplies", point(*before), supply_id=pillar, kind="pillar", earthing="TN-C-S")
    add("ways", None, supply_id=pillar, way="1", fuse_type="BS 88-2", fuse_a=25)
    for n in range(25):
        x, name = left + 30 * n + 20, "S%d-%02d" % (street, n)
        column(name, street, x, y, owner="council", fuse_type="BS 88-2")
        add("cables", line(before, (x, y)), cable_id="K" + name, cable_type="SWA XLPE Cu 2x16",
            owner="council", length_m=31 if n else 21)
        before = (x, y)
system = {"type": "name", "properties": {"name": "urn:ogc:def:crs:EPSG::27700"}}
with open("job.toml", "w", encoding="utf-8") as job:
    for name, features in layers.items():
        job.write('[%s]\ndataset = "%s.geojson"\n' % (name, name))
        with open(name + ".geojson", "w", encoding="utf-8") as file:
            json.dump({"type": "FeatureCollection", "name": name, "crs": system, "features": features}, file)
PYTHON

loopwalk check job.toml -o checked.gpkg --quiet; expect_status 0
ask() { sqlite3 checked.gpkg "$1"; }
[ "$(ask "SELECT count(*) FROM columns WHERE lw_feed = 'main'")" = 750 ] || fail "three in four hang on a main"
share=$(ask "SELECT (SELECT count(*) FROM findings) * 1.0 / count(*) FROM columns")
[ "$(ask "SELECT $share < 0.5")" = 1 ] || fail "$share findings a column"
# One main-fuse-only for each road, with all its columns.
[ "$(ask "SELECT count(*) || ' ' || sum(count) FROM findings WHERE rule = 'main-fuse-only'")" = "30 750" ] ||
    fail "main-fuse-only: $(ask "SELECT asset_id, count FROM findings WHERE rule = 'main-fuse-only'")"
