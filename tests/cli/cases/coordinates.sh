#!/usr/bin/env bash
# Coordinates that are no numbers, or out of all bounds, are findings; every record is in the result.
. "$(dirname "$0")/../common.sh"

feature() { printf '{"type":"Feature","properties":{"column_id":"%s"},"geometry":{"type":"Point","coordinates":[%s]}}' "$1" "$2"; }
{
    printf '%s' '{"type":"FeatureCollection","name":"columns","crs":{"type":"name","properties":'
    printf '%s\n' '{"name":"urn:ogc:def:crs:EPSG::27700"}},"features":['
    feature C1 400000,300000; echo ,
    feature C2 1e308,300000; echo ,
    feature C3 1e999,300000; echo ,
    feature C4 400010,-1e30; echo ,
    feature C5 400030,300000; echo ']}'
} >columns.geojson
cat >cables.csv <<'CSV'
cable_id,WKT
K1,"LINESTRING (400000 300000,400030 300000)"
K2,"LINESTRING (400000 300000,1e308 300000)"
K3,"LINESTRING (400000 300000,400010 300000,400020 1e999)"
K4,"MULTILINESTRING ((400000 300000,400010 300000),(400010 300000,-1e999 0))"
CSV
cat >job.toml <<'JOB'
[columns]
dataset = "columns.geojson"
[cables]
dataset = "cables.csv"
crs = "EPSG:27700"
JOB
loopwalk check job.toml -o out.gpkg; expect_status 0
same() { [ "$2" = "$3" ] || fail "$1: $2, not $3"; }
same columns "$(sql out.gpkg "SELECT group_concat(column_id) FROM columns")" C1,C2,C3,C4,C5
same cables "$(sql out.gpkg "SELECT group_concat(cable_id) FROM cables")" K1,K2,K3,K4
same findings "$(sql out.gpkg "SELECT group_concat(asset_id) FROM
    (SELECT asset_id FROM findings WHERE rule = 'bad-geometry' ORDER BY asset_id)")" C2,C3,C4,K2,K3,K4
same bounds "$(sql out.gpkg "SELECT min_x, max_x, min_y, max_y FROM gpkg_contents
    WHERE table_name = 'columns'")" '400000.0|400030.0|300000.0|300000.0'
same file "$(sql out.gpkg "PRAGMA integrity_check")" ok
# A folder format, made from the same.
loopwalk check job.toml -o out.geojson; expect_status 0
same 'columns of the folder' "$(grep -c '"column_id"' out.geojson/columns.geojson)" 5
