#!/usr/bin/env bash
# Every layer that the program writes for the made-up town, against the reviewed text of it.
#   town_layers.sh [--update]      --update writes new goldens: read their diff before committing
. "$(dirname "$0")/common.sh"
: "${LOOPWALK:?the path of the program}"
golden=$(cd "$(dirname "$0")" && pwd)/town

# The fields of a layer as an SQL list: reals to nine digits, so that the last bits of a compiler
# have no say. Of the records' own layers only what the program adds.
fields() {
    sqlite3 "$1" "
        SELECT group_concat(CASE type WHEN 'REAL' THEN
                                'iif(\"' || name || '\" IS NULL, '''', printf(''%.9g'', \"' || name || '\"))'
                                      ELSE '\"' || name || '\"' END, ', ')
        FROM pragma_table_info('$2')
        WHERE name NOT IN ('fid', 'geom') AND ('$3' = 'computed' OR name LIKE 'lw\_%' ESCAPE '\')"
}
names() {
    sqlite3 "$1" "SELECT group_concat(name, '|') FROM pragma_table_info('$2')
        WHERE name NOT IN ('fid', 'geom') AND ('$3' = 'computed' OR name LIKE 'lw\_%' ESCAPE '\')"
}
layer_text() {
    names "$1" "$2" "$3"
    sqlite3 "$1" "SELECT $(fields "$1" "$2" "$3") FROM \"$2\"" |
        grep -vE '^(library|input [^|]*)\|' | sort
}
# Lines of a layer as text, to a tenth of a millimetre.
line_text() {
    ogr2ogr -f CSV /vsistdout/ "$1" -sql "SELECT $3 AS id, geom FROM $2" -lco GEOMETRY=AS_WKT \
        --config OGR_WKT_PRECISION 11 2>/dev/null | tail -n +2 | sort
}

"$LOOPWALK" check "$SAMPLE/town.toml" -o "$work/checked.gpkg" --quiet ||
    fail "loopwalk check ended with status $?"
mkdir -p "$work/town"
for layer in columns cables supplies ways joints mains terminations loads readings; do
    layer_text "$work/checked.gpkg" $layer own >"$work/town/$layer.txt"
done
for layer in sections circuits fuse_cover cable_ends findings gaps moves survey suspects completeness run; do
    layer_text "$work/checked.gpkg" $layer computed >"$work/town/$layer.txt"
done
line_text "$work/checked.gpkg" sections section_id >"$work/town/section_lines.txt"
line_text "$work/checked.gpkg" moves asset_id >"$work/town/move_lines.txt"
line_text "$work/checked.gpkg" gaps from_id >"$work/town/gap_lines.txt"

if [ "${1:-}" = --update ]; then
    rm -rf "$golden"
    cp -r "$work/town" "$golden"
    echo "wrote $golden: read the diff"
    exit 0
fi
diff -ru "$golden" "$work/town" >"$work/diff" || {
    head -n 60 "$work/diff" >&2
    fail "layers differ from the goldens; if that is meant, run this with --update and read the diff"
}

[ "$(sqlite3 "$work/checked.gpkg" 'PRAGMA integrity_check')" = ok ] || fail "integrity_check"
[ -z "$(sqlite3 "$work/checked.gpkg" 'PRAGMA foreign_key_check')" ] || fail "foreign_key_check"
while read -r table column; do
    rows=$(sqlite3 "$work/checked.gpkg" "SELECT count(*) FROM \"$table\" WHERE \"$column\" NOT NULL")
    indexed=$(sqlite3 "$work/checked.gpkg" "SELECT count(*) FROM \"rtree_${table}_$column\"")
    [ "$rows" = "$indexed" ] || fail "$table: $rows geometries, $indexed in its spatial index"
    [ "$(sqlite3 "$work/checked.gpkg" "SELECT rtreecheck('rtree_${table}_$column')")" = ok ] ||
        fail "the spatial index of $table is damaged"
done < <(sqlite3 -separator ' ' "$work/checked.gpkg" \
    "SELECT table_name, column_name FROM gpkg_extensions WHERE extension_name = 'gpkg_rtree_index'")
