#!/usr/bin/env bash
# Records in a zip archive: read as they are, checked as plain files are, and the archive is one of the
# files whose digest tells whether the records changed.
. "$(dirname "$0")/common.sh"
each_layer "ESRI Shapefile" shp shp
each_layer CSV csv csv -lco GEOMETRY=AS_WKT
each_layer GeoJSON geojson json

# zipped NAME FOLDER [METHOD]: the files of a folder as NAME.zip.
zipped() {
    python3 - "$1.zip" "$2" "${3:-ZIP_DEFLATED}" <<'PY'
import os, sys, zipfile
name, folder, method = sys.argv[1:]
with zipfile.ZipFile(name, "w", getattr(zipfile, method)) as archive:
    for file in sorted(os.listdir(folder)):
        archive.write(os.path.join(folder, file), file)
PY
}
# refused ARCHIVE WORD...: nothing is written, and the message says why.
refused() {
    local dataset=$1
    shift
    rm -f refused.gpkg
    loopwalk check "$dataset" -o refused.gpkg; expect_status 3; is_plain_error; says "$@"; absent refused.gpkg
}
job() { printf '%s\n' '[data]' "dataset = \"$1\"" >"$1.toml"; }

zipped shp shp
loopwalk check shp.zip -o plain.gpkg --quiet; expect_status 0
# By any spelling the archive itself is told with its digest.
for given in shp.zip /vsizip/shp.zip "/vsizip/{$work/shp.zip}"; do
    loopwalk check "$given" -o out.gpkg --overwrite --quiet; expect_status 0
    [ "$(sql out.gpkg "SELECT value LIKE '%$(sha256sum <shp.zip | cut -d' ' -f1)' FROM run WHERE key = 'input shp.zip'")" = 1 ] ||
        fail "$given: no digest of the archive: $(sql out.gpkg "SELECT * FROM run WHERE key LIKE 'input%'")"
    loopwalk check "$given" -o shp.zip --overwrite; [ "$status" -ne 0 ] || fail "the archive was replaced"
done
mkdir town && cp "$town" town/ && zipped town town
loopwalk check town.zip -o out.gpkg --overwrite --quiet; expect_status 0
native_result
python3 "$formats/compare.py" native.gpkg out.gpkg || fail "the town differs"

# What is damaged within it.
damaged() { # NAME FOLDER COMMAND...
    rm -rf broken broken.zip; cp -r "$2" broken
    (cd broken && "${@:3}")
    zipped broken broken
}
damaged tail shp truncate -s -40 columns.dbf; refused broken.zip 'columns.dbf' 'cut off'
damaged head shp truncate -s 0 columns.shx; refused broken.zip 'columns.shx' 'empty'
damaged block csv python3 -c "
text = bytearray(open('cables.csv', 'rb').read()); text[2000:2100] = bytes(100); open('cables.csv', 'wb').write(text)"
refused broken.zip 'cables.csv' 'is 0'
damaged row csv truncate -s -30 cables.csv; refused broken.zip 'cables.csv' 'last row|quoted cell'
damaged end json truncate -s -30 columns.geojson; refused broken.zip 'columns'
# What is damaged of it: a byte in the midst of a packed file, a cut end.
python3 - <<'PY'
import zipfile
whole = bytearray(open("shp.zip", "rb").read())
entry = zipfile.ZipFile("shp.zip").getinfo("columns.dbf")
at = entry.header_offset + 30 + len(entry.filename) + entry.compress_size // 2
whole[at] ^= 0x55
open("flipped.zip", "wb").write(whole)
open("cut.zip", "wb").write(whole[:len(whole) * 2 // 3])
PY
refused flipped.zip 'columns'
refused cut.zip 'cut.zip'
