#!/usr/bin/env bash
# One database for a region: a run on a part of it leaves the rest alone. Far rows that would be a
# finding if they were read, and one that the driver cannot even turn into a geometry, do not show.
. "$(dirname "$0")/postgis_server.sh"
start_server
load region
native_result
job() { # NAME LINE...
    local file=$1
    shift
    printf '%s\n' '[data]' "dataset = \"$connection active_schema=region\"" "$@" >"$file"
}
# Far away: a column of a repeated id, a cable of no length and no known type, a way of a far supply
# that repeats another, a reading of nobody.
query "INSERT INTO region.columns (fid, column_id, geom)
        VALUES (90001, 'AN1-01', ST_SetSRID(ST_MakePoint(600000, 200000), 27700));
    INSERT INTO region.cables (fid, cable_id, cable_type, geom) VALUES (90001, 'FAR', 'no such type',
        ST_SetSRID(ST_GeomFromText('MULTILINESTRING((600000 200000, 600000 200000))'), 27700));
    INSERT INTO region.supplies (fid, supply_id, geom)
        VALUES (90001, 'P-FAR', ST_SetSRID(ST_MakePoint(600000, 200000), 27700));
    INSERT INTO region.ways (fid, supply_id, way, fuse_type) VALUES (90001, 'P-FAR', '1', 'no such fuse'),
        (90002, 'P-FAR', '1', 'no such fuse');
    INSERT INTO region.readings (fid, asset_id) VALUES (90001, 'NOBODY')"
far="SELECT count(*) FROM findings WHERE asset_id LIKE '%FAR%' OR asset_id = 'NOBODY'
    OR message LIKE '%FAR%' OR message LIKE '%NOBODY%' OR message LIKE '%no such%'
    OR (rule = 'duplicate-id' AND message LIKE '%AN1-01%')"
job whole.toml
loopwalk check whole.toml -o whole.gpkg; expect_status 0
[ "$(sql whole.gpkg "$far")" -ge 5 ] || fail "the far rows give only $(sql whole.gpkg "$far") findings"
job part.toml 'area = "Harbour"'
loopwalk check part.toml -o part.gpkg; expect_status 0
prints 'only a part of the records was read'
[ "$(sql part.gpkg "$far")" = 0 ] || fail "far rows were read: $(sql part.gpkg "$far") findings"
[ "$(sql part.gpkg "SELECT count(*) FROM columns WHERE column_id = 'AN1-01'")" = 1 ] || fail "AN1-01"
for layer in columns cables supplies ways readings; do
    [ "$(sql part.gpkg "SELECT count(*) FROM $layer WHERE fid > 90000")" = 0 ] || fail "far $layer"
done
# The same as on the file.
loopwalk check "$town" --area Harbour -o file.gpkg --quiet; expect_status 0
for layer in columns cables supplies joints mains ways terminations loads readings sections findings; do
    [ "$(sql part.gpkg "SELECT count(*) FROM $layer")" = "$(sql file.gpkg "SELECT count(*) FROM $layer")" ] ||
        fail "$layer: the database and the file differ"
done
# The database does the choosing: what it is asked for has the box in it, by its spatial index.
query "ALTER SYSTEM SET log_statement = 'all'"
query 'SELECT pg_reload_conf()' >/dev/null
sleep 0.5
loopwalk check part.toml -o part.gpkg --overwrite --quiet; expect_status 0
grep -E 'DECLARE .* FROM "cables"' "$server/log" >asked || fail "no cables were asked for"
[ "$(grep -c '&& ST_SetSRID' asked)" = "$(wc -l <asked)" ] || fail "without a box: $(cat asked)"
# Two parts side by side in one database.
runs=()
for area in Harbour Shore; do
    job $area.toml "area = \"$area\"" '[output]' "path = \"$connection\"" "schema = \"checked_$area\""
    "$LOOPWALK" check $area.toml --quiet &
    runs+=($!)
done
wait "${runs[0]}" && wait "${runs[1]}" || fail "runs side by side"
[ "$(query 'SELECT (SELECT count(*) FROM "checked_Harbour".columns) + (SELECT count(*)
    FROM "checked_Shore".columns)')" -ge 200 ] || fail "the two results"
