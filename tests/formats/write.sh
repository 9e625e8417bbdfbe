#!/usr/bin/env bash
# The result in every format holds what the GeoPackage holds, or says what it does not; it appears
# whole or not at all, and takes the place of an earlier result only.
. "$(dirname "$0")/common.sh"
native_result
layers=$(ogrinfo -q "$work/native.gpkg" | sed -E 's/^[0-9]+: ([a-z_]+).*/\1/')
[ "$(wc -w <<<"$layers")" -ge 18 ] || fail "layers of the result: $layers"
count() { ogrinfo -q -ro "$1" -sql "SELECT count(*) AS n FROM $2" | sed -nE 's/^ *n .*= ([0-9]+)$/\1/p'; }

# path_of FOLDER LAYER: the file or folder that GDAL opens for it.
path_of() {
    local file
    for file in "$1/$2.geojson" "$1/$2.fgb" "$1/$2.csv" "$1/$2.tab"; do
        [ ! -s "$file" ] || { echo "$file"; return; }
    done
    echo "$1"
}

# round_trip ENDING [OPTION of compare.py...]: write, count every layer, compare columns and findings.
round_trip() {
    local ending=$1 out=result.$1 layer name there
    shift
    loopwalk check "$town" -o "$out" --quiet; expect_status 0; no_partials .
    rm -f back.sqlite
    for layer in $layers; do
        local expected found
        expected=$(count "$work/native.gpkg" "$layer")
        found=$(count "$(path_of "$out" "$layer")" "$layer")
        case $ending/$layer in
            fgb/columns) expected=$((expected - 1)) ;; # BE1-05 has no place
            fgb/findings) expected=$(sql native.gpkg \
                'SELECT count(*) FROM findings WHERE geom IS NOT NULL') ;;
        esac
        [ "$found" = "$expected" ] || fail "$ending, layer $layer: $found features, not $expected"
    done
    convert -f SQLite back.sqlite "$(path_of "$out" columns)" columns -nlt NONE
    convert -f SQLite -update back.sqlite "$(path_of "$out" findings)" findings -nlt NONE
    if [ -f "$out/field_names.csv" ]; then
        while IFS=, read -r layer name there; do
            case $layer in
                columns | findings) sqlite3 back.sqlite \
                    "ALTER TABLE $layer RENAME COLUMN \"$there\" TO \"$name\"" ;;
            esac
        done <"$out/field_names.csv"
    fi
    python3 "$formats/compare.py" native.gpkg back.sqlite "$@" || fail "$ending differs"
    # The same once more: only with leave, and then in place of the other.
    loopwalk check "$town" -o "$out" --quiet; expect_status 4; says 'it exists' 'overwrite'
    loopwalk check "$town" -o "$out" --quiet --overwrite; expect_status 0; no_partials .
    echo "same: $out"
}

round_trip shp
loopwalk check "$town" -o again.shp --quiet
says 'note: .*10 letters.*field_names\.csv' 'note: texts longer than 254 bytes.*columns\.lw_why' \
    'note: .*empty text'
round_trip geojson
says_nothing
round_trip gdb
says_nothing
round_trip csv
says 'note: .*no coordinate system'
round_trip tab
says 'note: .*numbers are written as texts'
round_trip fgb --without BE1-05 --placed-only
says 'note: .*as CSV' 'note: features without geometry are left out: 1 of columns, 3 of findings'

# A folder of other things is nobody's to replace, nor is a file or an input.
mkdir mine.shp && echo precious >mine.shp/notes.txt
loopwalk check "$town" -o mine.shp --overwrite; expect_status 4; says 'notes\.txt'
[ "$(cat mine.shp/notes.txt)" = precious ] || fail "somebody's file was touched"
echo precious >file.geojson
loopwalk check "$town" -o file.geojson --overwrite; expect_status 4; says 'a file stands there'
mkdir in.csv && cp result.csv/*.csv in.csv
loopwalk check in.csv -o in.csv --overwrite; expect_status 4; says 'the input .* lies in it'
loopwalk check in.csv -o out.gpkg --quiet; expect_status 0 # an earlier result is records again
loopwalk check "$town" -o nowhere/out.shp; expect_status 4; says 'nowhere'
loopwalk check "$town" -o out.dxf; expect_status 4; says '\.gpkg' '\.geojson'

# What a process left behind that no longer lives goes with the next run.
mkdir ".result.shp.partial-$(uname -n | tr -cd '[:alnum:]')-5-999999999"
loopwalk check "$town" -o result.shp --overwrite --quiet; expect_status 0; no_partials .
# A link to a result stays one.
mkdir -p real/there.geojson && ln -s real/there.geojson link.geojson
loopwalk check "$town" -o link.geojson --overwrite --quiet; expect_status 0
[ -L link.geojson ] && [ -d real/there.geojson ] || fail "the link was replaced"
