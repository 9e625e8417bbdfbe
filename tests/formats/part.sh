#!/usr/bin/env bash
# A part of the records: what lies in a box or round an area gives what it gives among all others,
# what lies outside is not there, and the result says that it is a part.
. "$(dirname "$0")/common.sh"
native_result
# same_figures PART.gpkg [WHERE]: the columns of the part have the figures that they have in the whole.
figures="lw_id, lw_feed, lw_supply_id, lw_way, lw_zs_high_ohm, lw_in_margin, lw_verdict, lw_why"
same_figures() {
    local other
    other=$(sql "$1" "ATTACH 'native.gpkg' AS whole; SELECT count(*) FROM (
        SELECT $figures FROM columns WHERE ${2:-1} EXCEPT SELECT $figures FROM whole.columns)")
    [ "$other" = 0 ] || fail "$1: $other columns have other figures than in the whole"
}
count() { sql "$1" "SELECT count(*) FROM $2"; }

# Anchor Street lies by itself: its box is that of its columns in the committed records.
box=$(sql "$town" "SELECT printf('%.2f,%.2f,%.2f,%.2f', min(r.minx) - 20, min(r.miny) - 20,
    max(r.maxx) + 20, max(r.maxy) + 20) FROM columns c JOIN rtree_columns_geom r ON r.id = c.fid
    WHERE c.column_id LIKE 'AN%'")
inside=$(sql "$town" "WITH b AS (SELECT $(sed -E \
    's/^([^,]+),([^,]+),([^,]+),([^,]+)$/\1 AS x0, \2 AS y0, \3 AS x1, \4 AS y1/' <<<"$box"))
    SELECT count(*) FROM rtree_columns_geom, b WHERE maxx >= x0 AND minx <= x1 AND maxy >= y0 AND miny <= y1")
[ "$inside" -ge 8 ] && [ "$inside" -lt 60 ] || fail "$inside columns in the box $box"
loopwalk check "$town" --bbox="$box" -o box.gpkg; expect_status 0
prints 'only a part of the records was read: the box' 'look untraced or end early'
[ "$(count box.gpkg columns)" = "$inside" ] || fail "$(count box.gpkg columns) columns, not $inside"
[ "$(sql box.gpkg "SELECT count(*) FROM columns WHERE lw_supply_id = 'P-AN'")" = 8 ] || fail "P-AN"
[ "$(sql box.gpkg "SELECT count(*) FROM ways WHERE supply_id = 'P-AN'")" -ge 1 ] || fail "no ways"
[ "$(sql box.gpkg "SELECT count(*) FROM ways WHERE supply_id NOT IN
    (SELECT supply_id FROM supplies)")" = 0 ] || fail "ways of supplies that were not read"
[ "$(sql box.gpkg "SELECT count(*) FROM run WHERE key = 'assumption' AND value LIKE
    'Only a part of the records%end early.'")" = 1 ] || fail "the run table does not tell"
sql box.gpkg "SELECT value FROM run WHERE key = 'setting data.bbox'" | grep -q , || fail "setting"
same_figures box.gpkg
# The same box in degrees, from the job, on records in feet and degrees mixed.
degrees=$(python3 - "$box" <<'PY'
import subprocess, sys
x0, y0, x1, y1 = map(float, sys.argv[1].split(","))
run = subprocess.run(["gdaltransform", "-s_srs", "EPSG:27700", "-t_srs", "EPSG:4326", "-output_xy"],
                     input=f"{x0} {y0}\n{x1} {y0}\n{x0} {y1}\n{x1} {y1}\n", text=True,
                     capture_output=True, check=True)
points = [tuple(map(float, line.split())) for line in run.stdout.split("\n") if line]
xs, ys = zip(*points)
print(", ".join(f"{v:.8f}" for v in (min(xs), min(ys), max(xs), max(ys))))
PY
)
cp "$town" mixed.gpkg
convert -f GPKG -update -overwrite -t_srs EPSG:4326 mixed.gpkg "$town" columns
convert -f GPKG -update -overwrite -t_srs EPSG:32629 mixed.gpkg "$town" supplies
printf '%s\n' '[data]' 'dataset = "mixed.gpkg"' "bbox = [$degrees]" 'bbox_crs = "EPSG:4326"' >job.toml
loopwalk check job.toml -o degrees.gpkg; expect_status 0
[ "$(sql degrees.gpkg "SELECT count(*) FROM columns WHERE lw_supply_id = 'P-AN'")" = 8 ] ||
    fail "P-AN in degrees"
# The command line goes before the job.
loopwalk check job.toml --area Hill -o hill.gpkg; expect_status 0; prints 'around the area Hill'

# An area: all its columns, and a way of 200 m round them.
for area in Harbour Hill Shore; do
    loopwalk check "$town" --area $area -o $area.gpkg; expect_status 0
    [ "$(sql $area.gpkg "SELECT count(*) FROM columns WHERE area = '$area'")" = \
        "$(sql "$town" "SELECT count(*) FROM columns WHERE area = '$area' AND geom IS NOT NULL")" ] ||
        fail "$area: columns are missing"
    same_figures $area.gpkg "area = '$area'" # at the rim circuits are cut off
done
# It works with every driver, also those that leave filtering to GDAL, and with fields renamed.
each_layer GeoJSON geojson geojson
loopwalk check geojson --bbox="$box" -o geojson.gpkg; expect_status 0
[ "$(count geojson.gpkg columns)" = "$inside" ] || fail "geojson"
ogr2ogr -q -f GPKG renamed.gpkg "$town"
sql renamed.gpkg 'ALTER TABLE columns RENAME COLUMN area TO ward' 2>/dev/null || skip "old sqlite3"
printf '%s\n' '[data]' 'dataset = "renamed.gpkg"' 'area = "Shore"' '[columns]' \
    'where = "road IS NOT NULL"' 'fields = { area = "ward" }' >ward.toml
loopwalk check ward.toml -o ward.gpkg; expect_status 0
[ "$(count ward.gpkg columns)" = "$(count Shore.gpkg columns)" ] || fail "renamed"

# Slips.
loopwalk check "$town" --bbox 1,2,3 -o x.gpkg; expect_status 2
loopwalk check "$town" --bbox 3,2,1,4 -o x.gpkg; expect_status 2; says 'smaller before the larger'
loopwalk check "$town" --bbox 1,2,3,4 --area Hill -o x.gpkg; expect_status 2; says 'exclude'
loopwalk check "$town" --bbox-crs EPSG:4326 -o x.gpkg; expect_status 2; says 'no box'
loopwalk check "$town" --bbox 1,2,3,4 --bbox-crs nonsense -o x.gpkg; expect_status 2; says 'bbox_crs'
loopwalk check "$town" --area Nowhere -o x.gpkg; expect_status 2; says 'Nowhere'
absent x.gpkg
