#!/usr/bin/env bash
# The made-up town in every format gives what it gives as a GeoPackage.
. "$(dirname "$0")/common.sh"

# Shapefile: names of ten letters, so a job tells which they are.
convert -f "ESRI Shapefile" shp "$town" -lco ENCODING=UTF-8
cat >short_names.toml <<'JOB'
[columns]
fields = { power_factor = "power_fact", fuse_breaking_ka = "fuse_break", electrode_ohm = "electrode_" }
[supplies.fields]
electrode_ohm = "electrode_"
transformer_kva = "transforme"
transformer_z_pct = "transfor_1"
transformer_r_pct = "transfor_2"
[terminations]
fields = { asset_layer = "asset_laye" }
[loads]
fields = { power_factor = "power_fact" }
[readings]
fields = { asset_layer = "asset_laye", conductor_c = "conductor_" }
JOB
{ printf '%s\n' '[data]' 'dataset = "shp"'; cat short_names.toml; } >shp.toml
same_town shp.toml
# The same as an archive, under its own name and in GDAL's spelling.
(cd shp && python3 -m zipfile -c ../shp.zip ./*)
for name in shp.zip /vsizip/shp.zip; do
    { printf '%s\n' '[data]' "dataset = \"$name\""; cat short_names.toml; } >zip.toml
    same_town zip.toml
done

# GeoJSON: a file for each layer, in a folder, in an archive, or each named in the job.
each_layer GeoJSON geojson geojson
same_town geojson
(cd geojson && python3 -m zipfile -c ../geojson.zip ./*)
same_town geojson.zip
for layer in $placed $tables; do
    printf '%s\n' "[$layer]" "dataset = \"geojson/$layer.geojson\""
done >files.toml
same_town files.toml
# One damaged file is told, also of a layer that need not exist.
head -c 500 geojson/supplies.geojson >cut && mv cut geojson/supplies.geojson
loopwalk check geojson -o damaged.gpkg; expect_status 3; says 'supplies\.geojson'; is_plain_error

# FlatGeobuf holds no table without geometry, and no feature without one: BE1-05 of the town is lost.
mkdir fgb
for layer in $placed; do
    convert -f FlatGeobuf "fgb/$layer.fgb" "$town" "$layer" -lco SPATIAL_INDEX=NO
done
each_layer CSV csv csv -lco GEOMETRY=AS_WKT
{
    printf '%s\n' '[data]' 'dataset = "fgb"'
    for layer in $tables; do
        printf '%s\n' "[$layer]" "dataset = \"csv/$layer.csv\""
    done
} >fgb.toml
same_town fgb.toml --without BE1-05
# GDAL passes over a file of a folder that it cannot read; the program does not.
: >fgb/joints.fgb
loopwalk check fgb -o damaged.gpkg; expect_status 3; says 'joints\.fgb' 'it is empty'; is_plain_error

# MapInfo TAB: a number that is null stands there as 0, so no 0 tells anything. The same as the town
# where a recorded 0 (some ways have 0 mA: no RCD) counts for nothing either.
convert -f "MapInfo File" tab "$town"
printf '%s\n' '[data]' "dataset = \"$town\"" '[ways]' 'values = { rcd_ma = { "0" = "" } }' >zero.toml
mv native.gpkg town.gpkg
loopwalk check zero.toml -o native.gpkg --quiet; expect_status 0
same_town tab --tolerance 1e-6
mv town.gpkg native.gpkg
[ "$(sql other.gpkg "SELECT count(*) FROM run WHERE key = 'assumption' AND
    value LIKE '%zeros in ze_r_ohm count as not recorded%'")" = 1 ] || fail "zeros are not told"

convert -f OpenFileGDB town.gdb "$town"
same_town town.gdb

# CSV with geometry as WKT: no coordinate system, so metres of a plane, which are not quite those of
# the ellipsoid where a cable is cut.
same_town csv --tolerance 1e-6
# CSV with coordinate columns, which the driver has to be told; text alone in every field.
each_layer CSV csv xy -lco GEOMETRY=AS_XY
{
    printf '%s\n' '[data]' 'dataset = "csv"'
    for layer in columns supplies joints; do
        printf '%s\n' "[$layer]" "dataset = \"xy/$layer.csv\"" 'crs = "EPSG:27700"' \
            'open_options = { X_POSSIBLE_NAMES = "X", Y_POSSIBLE_NAMES = "Y" }'
    done
    printf '%s\n' '[cables]' 'crs = "EPSG:27700"' '[mains]' 'crs = "EPSG:27700"'
} >xy.toml
same_town xy.toml
sed 's/X_POSSIBLE_NAMES/X_COLUMN/' xy.toml >wrong.toml
loopwalk check wrong.toml -o wrong.gpkg; expect_status 2; says 'X_COLUMN' 'open_options'

# Several files of different formats at once.
cat >mixed.toml <<'JOB'
[data]
dataset = "csv"
[columns]
dataset = "town.gdb"
[cables]
dataset = "files/cables.geojson"
[supplies]
dataset = "tab"
JOB
mkdir files && convert -f GeoJSON files/cables.geojson "$town" cables
same_town mixed.toml --tolerance 1e-6
