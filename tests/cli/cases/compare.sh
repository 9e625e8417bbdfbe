# compare: what came, went, is fed or judged anew or has moved, as SQL over the two results finds it.
. "$(dirname "$0")/../common.sh"

ask() { python3 -c "import json, sys; print(eval(sys.argv[2], {'s': json.load(open(sys.argv[1]))}))" "$@"; }
same() { [ "$2" = "$3" ] || fail "$1: $2, not $3"; }
checked() { # RECORDS RESULT
    loopwalk check "$1" -o "$2" --overwrite --quiet
    expect_status 0
}

make_town old.gpkg
change old.gpkg "UPDATE columns SET circuit = 'elsewhere' WHERE column_id = (SELECT max(column_id) FROM columns)"
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

# Findings by what they are about, as SQL tells them apart; margins of columns judged as before.
about="rule, asset_layer, asset_id, coalesce(supply_id, '') s, coalesce(way, '') w"
findings() { # KIND SQL
    local by_sql
    by_sql=$(sqlite3 "$work/new_checked.gpkg" "ATTACH '$work/old_checked.gpkg' AS old; $2")
    same "findings $1" "$(ask changes.json "s['findings']['$1']")" "$by_sql"
    [ "$by_sql" -gt 0 ] || fail "no finding is $1: the case shows nothing"
}
counts() { echo "(SELECT $about, count(*) n FROM $1 GROUP BY 1, 2, 3, 4, 5)"; }
findings before "SELECT count(*) FROM old.findings"
findings after "SELECT count(*) FROM findings"
findings new "SELECT sum(max(0, a.n - coalesce(b.n, 0))) FROM $(counts findings) a
    LEFT JOIN $(counts old.findings) b USING (rule, asset_layer, asset_id, s, w)"
findings gone "SELECT sum(max(0, a.n - coalesce(b.n, 0))) FROM $(counts old.findings) a
    LEFT JOIN $(counts findings) b USING (rule, asset_layer, asset_id, s, w)"
least="CASE WHEN lw_in_margin IS NULL THEN lw_out_margin WHEN lw_out_margin IS NULL THEN lw_in_margin
    ELSE min(lw_in_margin, lw_out_margin) END"
make_town small.gpkg
change small.gpkg "UPDATE ways SET fuse_a = 10"
checked small.gpkg small_checked.gpkg
loopwalk compare old_checked.gpkg small_checked.gpkg --json small.json --fail-on worse; expect_status 0
by_sql=$(sqlite3 small_checked.gpkg "ATTACH 'old_checked.gpkg' AS old; SELECT count(*) FROM (SELECT lw_id, lw_verdict, $least m FROM columns) a
    JOIN (SELECT lw_id, lw_verdict, $least m FROM old.columns) b USING (lw_id, lw_verdict)
    WHERE abs(a.m - b.m) > 0.05 * max(a.m, b.m)")
[ "$by_sql" -gt 0 ] || fail "no margin is another with a smaller fuse"
same "margins that changed" "$(ask small.json "s['layers']['columns']['margin changed']")" "$by_sql"
loopwalk compare small_checked.gpkg old_checked.gpkg --quiet --fail-on worse; expect_status 1
loopwalk compare small_checked.gpkg old_checked.gpkg --margin-pct 100 --json alike.json --overwrite; expect_status 0
same "margins with 100 % allowed" "$(ask alike.json "s['layers']['columns']['margin changed']")" 0
[ "$(sqlite3 changes.gpkg "SELECT count(*) FROM changes WHERE kind = 'new finding' AND worse = 1
    AND after LIKE 'note%'")" = 0 ] || fail "a new note makes nothing worse"

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
