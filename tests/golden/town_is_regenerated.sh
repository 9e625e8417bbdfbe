#!/usr/bin/env bash
# The generator still writes the town that is committed: same layers, fields, rows and answer key.
. "$(dirname "$0")/common.sh"
: "${MAKE_TOWN:?the path of make_town}"

"$MAKE_TOWN" "$work" >/dev/null
dump "$SAMPLE/town.gpkg" >"$work/committed.txt"
dump "$work/town.gpkg" >"$work/generated.txt"
[ "$(wc -l <"$work/committed.txt")" -gt 700 ] || fail "hardly anything in $SAMPLE/town.gpkg"
diff -u "$work/committed.txt" "$work/generated.txt" | head -n 40 ||
    fail "town.gpkg is not what make_town writes: run make_town sample_gis and look at the changes"
diff -u "$SAMPLE/key.csv" "$work/key.csv" ||
    fail "key.csv is not what make_town writes: run make_town sample_gis and look at the changes"
