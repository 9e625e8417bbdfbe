# Nothing of the input is lost: every feature once, its FID, geometry and attributes as stored.
. "$(dirname "$0")/../common.sh"
make_town town.gpkg
change town.gpkg "UPDATE columns SET fid = fid * 1000 + 7 WHERE column_id = 'C3'"
change town.gpkg "ALTER TABLE columns ADD COLUMN lw_old TEXT"
change town.gpkg "ALTER TABLE columns ADD COLUMN note TEXT"
change town.gpkg "UPDATE columns SET lw_old = 'stale', note = 'O''Neil & co, ünï'"
loopwalk check town.gpkg -o out.gpkg; expect_status 0

for layer in columns cables supplies; do
    names=$(sql town.gpkg "SELECT group_concat('\"' || name || '\"') FROM pragma_table_info('$layer')
        WHERE name NOT LIKE 'lw!_%' ESCAPE '!'")
    for file in town out; do
        sqlite3 -quote "$file.gpkg" "SELECT $names FROM $layer ORDER BY fid" >"$file.txt"
    done
    cmp -s town.txt out.txt || fail "$layer changed: $(diff town.txt out.txt | head -n 5)"
    [ -n "$(sql out.gpkg "SELECT 1 FROM pragma_table_info('$layer') WHERE name = 'lw_verdict'")" ] ||
        fail "$layer has no lw_verdict"
done
[ -z "$(sql out.gpkg "SELECT 1 FROM pragma_table_info('columns') WHERE name = 'lw_old'")" ] ||
    fail "an incoming lw_ field was kept"
[ "$(sql out.gpkg "SELECT count(*) FROM ways")" = 1 ] || fail "ways are missing"
[ "$(sql out.gpkg "PRAGMA integrity_check")" = ok ] || fail "integrity_check"
[ -z "$(sql out.gpkg "PRAGMA foreign_key_check")" ] || fail "foreign_key_check"
