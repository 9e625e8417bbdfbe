# compare: what came, went, is fed or judged anew or has moved, as SQL over the two results finds it.
. "$(dirname "$0")/../common.sh"

ask() { python3 -c "import json, sys; print(eval(sys.argv[2], {'s': json.load(open(sys.argv[1]))}))" "$@"; }
same() { [ "$2" = "$3" ] || fail "$1: $2, not $3"; }
checked() { # RECORDS RESULT
    loopwalk check "$1" -o "$2" --overwrite --quiet
    expect_status 0
}

make_town old.gpkg
checked old.gpkg old_checked.gpkg

# A result beside itself.
loopwalk compare old_checked.gpkg old_checked.gpkg --fail-on any; expect_status 0
prints "nothing differs" "lamp off in daylight"
says_nothing

# A larger fuse, a column less, one moved, one more.
make_town new.gpkg
change new.gpkg "UPDATE ways SET fuse_a = 400"
last=$(sqlite3 new.gpkg "SELECT max(column_id) FROM columns")
first=$(sqlite3 new.gpkg "SELECT min(column_id) FROM columns")
ogr2ogr -f GPKG -q moved.gpkg new.gpkg
ogrinfo -q moved.gpkg -dialect SQLite -sql "DELETE FROM columns WHERE column_id = '$last'" >/dev/null
ogrinfo -q moved.gpkg -dialect SQLite \
    -sql "UPDATE columns SET geom = ST_Translate(geom, 0.3, 0.4, 0) WHERE column_id = '$first'" >/dev/null
ogrinfo -q moved.gpkg -dialect SQLite \
    -sql "INSERT INTO columns (column_id, geom) SELECT 'NEW', ST_Translate(geom, 900, 0, 0) FROM columns
          WHERE column_id = '$first'" >/dev/null
checked moved.gpkg new_checked.gpkg

loopwalk compare old_checked.gpkg new_checked.gpkg -o changes.gpkg --json changes.json; expect_status 0
prints "columns $last: lost" "columns $first: moved by 0.5 m" "columns NEW: added"

changed() { # KIND SQL
    local by_sql
    by_sql=$(sqlite3 "$work/new_checked.gpkg" "ATTACH '$work/old_checked.gpkg' AS old; $2")
    same "$1 in the JSON" "$(ask changes.json "s['layers']['columns']['$1']")" "$by_sql"
    same "$1 in the layer" "$(sqlite3 changes.gpkg \
        "SELECT count(*) FROM changes WHERE kind = '$1' AND asset_layer = 'columns'")" "$by_sql"
}
changed lost "SELECT count(*) FROM old.columns WHERE lw_id NOT IN (SELECT lw_id FROM columns)"
changed added "SELECT count(*) FROM columns WHERE lw_id NOT IN (SELECT lw_id FROM old.columns)"
changed "verdict changed" "SELECT count(*) FROM columns c JOIN old.columns o USING (lw_id)
    WHERE c.lw_verdict <> o.lw_verdict"
changed re-fed "SELECT count(*) FROM columns c JOIN old.columns o USING (lw_id)
    WHERE coalesce(c.lw_supply_id || '/' || c.lw_way, c.lw_feed) <>
          coalesce(o.lw_supply_id || '/' || o.lw_way, o.lw_feed)"
changed moved "SELECT 1"
[ "$(ask changes.json "s['layers']['columns']['verdict changed']")" -gt 0 ] || fail "no verdict changed"

# What is worse, and nothing that is better, ends with 1.
loopwalk compare old_checked.gpkg new_checked.gpkg --quiet --fail-on worse; expect_status 1
prints_nothing
loopwalk compare old_checked.gpkg new_checked.gpkg --moved-m 0.6; expect_status 0
! grep -q "moved by" "$work/.out" || fail "0.5 m counts although 0.6 m do not"

# Wrong use.
loopwalk compare old.gpkg new_checked.gpkg; expect_status 3
says "old.gpkg.*columns.*lw_id" "check"
is_plain_error
loopwalk compare old_checked.gpkg; expect_status 2
loopwalk compare old_checked.gpkg missing.gpkg; expect_status 3
loopwalk compare old_checked.gpkg new_checked.gpkg -o new_checked.gpkg --overwrite; expect_status 4
loopwalk compare old_checked.gpkg new_checked.gpkg -o changes.gpkg; expect_status 4
says "changes.gpkg.*exists"
loopwalk compare old_checked.gpkg new_checked.gpkg --fail-on fail; expect_status 2

# A password in the name of a dataset is nobody's business.
cp old_checked.gpkg "old password=secret.gpkg"
loopwalk compare "old password=secret.gpkg" new_checked.gpkg --json open.json; expect_status 0
! grep -q secret "$work/.out" open.json || fail "the password is shown"
