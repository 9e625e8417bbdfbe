#!/usr/bin/env bash
# Records that are damaged or cut off stop the run with the file and the layer: what is left of them
# would be taken for the whole. The damage is done here, to the made-up town.
. "$(dirname "$0")/common.sh"

# damage HOW FILE: empty; cut (to the first half); hole (512 bytes of 0 in the middle).
damage() {
    local size
    size=$(stat -c %s "$2")
    case $1 in
    empty) : >"$2" ;;
    cut) truncate -s $((size / 2)) "$2" ;;
    hole) dd if=/dev/zero of="$2" bs=1 seek=$((size / 2)) count=512 conv=notrunc status=none ;;
    esac
}

# stops FOLDER HOW FILE PATTERN...: a copy of the folder with that damage.
stops() {
    local folder=$1 how=$2 file=$3
    shift 3
    rm -rf copy && cp -r "$folder" copy
    damage "$how" "copy/$file"
    loopwalk check copy -o damaged.gpkg --overwrite
    echo "$folder $how $file: $status"
    expect_status 3
    is_plain_error
    says "$@"
    absent damaged.gpkg
}

convert -f "ESRI Shapefile" shp "$town" -lco ENCODING=UTF-8
for layer in cables supplies; do
    for how in empty cut; do
        for ending in shp shx dbf; do
            stops shp $how $layer.$ending "$layer"
        done
        stops shp $how $layer.prj "$layer" 'coordinate system cannot be read' "\[$layer\] crs = "
    done
done
stops shp empty ways.dbf ways
stops shp hole terminations.dbf terminations
# The job may say what the damaged definition would have said.
printf '%s\n' '[data]' 'dataset = "copy"' '[supplies]' 'crs = "EPSG:27700"' >stated.toml
rm -rf copy && cp -r shp copy && damage empty copy/supplies.prj
loopwalk check stated.toml -o stated.gpkg; expect_status 0

convert -f "MapInfo File" tab "$town"
for ending in tab dat map id; do
    stops tab empty cables.$ending 'copy'
    stops tab cut cables.$ending 'copy'
done
stops tab hole cables.map cables

mkdir fgb gml
for layer in $placed; do
    convert -f FlatGeobuf "fgb/$layer.fgb" "$town" "$layer"
    convert -f GML "gml/$layer.gml" "$town" "$layer"
done
for how in empty cut; do
    stops fgb $how cables.fgb cables
done
for how in empty cut hole; do
    stops gml $how supplies.gml supplies
done

each_layer GeoJSON geojson geojson
each_layer GeoJSONSeq geojsonl lines
each_layer CSV csv csv -lco GEOMETRY=AS_WKT
for how in empty cut hole; do
    stops geojson $how supplies.geojson supplies
    stops csv $how supplies.csv supplies
done
stops csv hole ways.csv 'ways\.csv' 'byte [0-9]+ is 0'
stops lines hole ways.geojsonl ways
# A last row without an end of line is whole if all its cells are there.
rm -rf copy && cp -r csv copy && truncate -s -1 copy/ways.csv
loopwalk check copy -o whole.gpkg; expect_status 0

# Each page at which a table or an index of a GeoPackage begins, half of it overwritten. What the
# program does not need may be lost; then the result is the same.
native_result
for name in $(sql "$town" "SELECT name FROM sqlite_master WHERE rootpage > 0"); do
    page=$(sql "$town" "SELECT rootpage FROM sqlite_master WHERE name = '$name'")
    for kind in zeros lost; do
        python3 - "$town" "$page" "$kind" <<'PY'
import sys
file, page, kind = sys.argv[1], int(sys.argv[2]), sys.argv[3]
data = bytearray(open(file, "rb").read())
size = int.from_bytes(data[16:18], "big")
begin, end = (page - 1) * size, page * size
if kind == "zeros":
    data[begin + size // 2:end] = bytes(size // 2)
else:  # an empty page of the same kind: well formed, only the rows are gone
    data[begin + 1:begin + 8] = bytes([0, 0, 0, 0, size >> 8, size & 255, 0])
open("page.gpkg", "wb").write(data)
PY
        rm -f page_out.gpkg
        loopwalk check page.gpkg -o page_out.gpkg --quiet
        if [ "$status" -ne 3 ]; then
            expect_status 0
            python3 "$formats/compare.py" native.gpkg page_out.gpkg || fail "$name $kind: differs"
            case $name in
            columns | cables | supplies | ways | terminations | loads | readings | joints | mains)
                fail "$name $kind: was read" ;;
            esac
        fi
        echo "page of $name, $kind: $status"
        # A part of the records is found by the index.
        [[ $name == rtree_columns_geom_* ]] || continue
        loopwalk check page.gpkg --bbox 0,0,1000000,1000000 -o part.gpkg
        expect_status 3; says 'columns' 'index'
    done
done

# A row that tells a layer, or its kind, spoilt: the layer must not vanish.
for change in "table_name = 'wayz' WHERE table_name = 'ways'" \
    "data_type = 'attribuXes' WHERE table_name = 'ways'"; do
    cp "$town" told.gpkg
    sql told.gpkg "PRAGMA foreign_keys = off; UPDATE gpkg_contents SET $change"
    loopwalk check told.gpkg -o told_out.gpkg; expect_status 3; says 'contents' 'way'
done
# A coordinate system that is named but not told.
cp "$town" system.gpkg
sql system.gpkg "PRAGMA foreign_keys = off; DELETE FROM gpkg_spatial_ref_sys WHERE srs_id = 27700"
loopwalk check system.gpkg -o system_out.gpkg; expect_status 3; says 'coordinate system' 'crs = '

# A layer that states more features than it has: also no memory for them is asked for.
cp "$town" many.gpkg
sql many.gpkg "UPDATE gpkg_ogr_contents SET feature_count = 1000000000000000
    WHERE table_name = 'columns'"
loopwalk check many.gpkg -o many_out.gpkg; expect_status 3; says 'columns' '1000000000000000'

# A program was stopped while it wrote: only its journal says what the file held before.
python3 - "$town" <<'PY'
import shutil, sqlite3, sys
shutil.copy(sys.argv[1], "writing.gpkg")
file = sqlite3.connect("writing.gpkg", isolation_level=None)
file.execute("PRAGMA cache_size = 1")
file.execute("CREATE TABLE note (n)")
file.execute("BEGIN")
for row in range(3000):
    file.execute("INSERT INTO note VALUES (randomblob(500))")
for end in ("", "-journal"):
    shutil.copy("writing.gpkg" + end, "stopped.gpkg" + end)
PY
before=$(cat stopped.gpkg* | sha256sum)
loopwalk check stopped.gpkg -o stopped_out.gpkg; expect_status 3; says 'stopped\.gpkg-journal'
[ "$(cat stopped.gpkg* | sha256sum)" = "$before" ] || fail "the stopped file was changed"

# The same layer in two files of a folder.
rm -rf copy && cp -r geojson copy && cp copy/ways.geojson copy/old_ways.geojson
loopwalk check copy -o twice.gpkg; expect_status 3; says '"ways" is in two files' 'old_ways'

# Pipes and devices have no end.
mkdir pipes && mkfifo pipes/records.geojson
for given in pipes/records.geojson pipes /dev/zero; do
    loopwalk check "$given" -o pipe.gpkg; expect_status 3; says 'pipe or a device'
done
cp shp/cables.* pipes && rm pipes/records.geojson pipes/cables.dbf && mkfifo pipes/cables.dbf
loopwalk check pipes/cables.shp -o pipe.gpkg; expect_status 3; says 'cables\.dbf' 'pipe or a device'
