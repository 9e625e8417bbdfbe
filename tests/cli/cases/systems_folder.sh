#!/usr/bin/env bash
# PROJ's database of coordinate systems is missing or another's: said as that, and nothing is joined
# by a rough guess.
. "$(dirname "$0")/../common.sh"

make_town town.gpkg
ogr2ogr -q -f GPKG degrees.gpkg town.gpkg columns -t_srs EPSG:4326 || fail "ogr2ogr"
cat >mixed.toml <<'JOB'
[data]
dataset = "town.gpkg"
[columns]
dataset = "degrees.gpkg"
JOB
cat >named.toml <<'JOB'
[data]
dataset = "town.gpkg"
[cables]
crs = "EPSG:27700"
JOB
loopwalk check mixed.toml -o right.gpkg; expect_status 0

mkdir empty && : >empty/proj.db
for variable in PROJ_DATA PROJ_LIB; do
    for job in mixed named; do
        unset PROJ_DATA PROJ_LIB
        export $variable="$work/empty"
        loopwalk check $job.toml -o $job.gpkg; expect_status 3; is_plain_error
        says "folder that $variable names" 'empty' 'proj\.db'
        absent $job.gpkg
    done
done
