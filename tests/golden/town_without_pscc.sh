#!/usr/bin/env bash
# The made-up town as most councils have it: no prospective current on record. What the conventional
# maximum cannot break is left open; nothing else changes.
. "$(dirname "$0")/common.sh"
: "${LOOPWALK:?the path of the program}"
cp "$SAMPLE/town.gpkg" "$work/town.gpkg"
sed 's/town_checked.gpkg/unused.gpkg/' "$SAMPLE/town.toml" >"$work/town.toml"
# The index of places asks for functions that sqlite3 lacks; no place changes.
for trigger in $(sqlite3 "$work/town.gpkg" \
    "SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'supplies'"); do
    sqlite3 "$work/town.gpkg" "DROP TRIGGER \"$trigger\""
done
sqlite3 "$work/town.gpkg" "UPDATE supplies SET pscc_ka = NULL, pscc3_ka = NULL"
"$LOOPWALK" check "$SAMPLE/town.toml" -o "$work/recorded.gpkg" --quiet || fail "the town as recorded"
"$LOOPWALK" check "$work/town.toml" -o "$work/emptied.gpkg" --quiet || fail "the town emptied"

ask() { sqlite3 "$work/emptied.gpkg" "ATTACH '$work/recorded.gpkg' AS recorded; $1"; }
told=$(ask "SELECT count(*) FROM findings WHERE rule = 'breaking-capacity'")
[ "$told" -le 2 ] || fail "$told findings of breaking capacity, 2 at most are true"
# Who met with the prospective current on record meets without, but for breaking capacity itself.
lost=$(ask "SELECT group_concat(m.column_id) FROM main.columns m
            JOIN recorded.columns r USING (column_id)
            WHERE r.lw_verdict = 'meets' AND m.lw_verdict <> 'meets'")
[ -z "$lost" ] || fail "no longer meet: $lost"
met=$(ask "SELECT count(*) FROM main.columns WHERE lw_verdict = 'meets' AND lw_basis = 'assumed'")
[ "$met" -gt 300 ] || fail "$met columns meet on an assumed source, expected those of the pillars"
# What is left open names the record, and the survey ranks it.
open=$(ask "SELECT count(*) FROM findings WHERE rule = 'breaking-capacity'
            AND message NOT LIKE '%pscc_ka%'")
[ "$open" -eq 0 ] || fail "$open findings of breaking capacity do not name pscc_ka"
ranked=$(ask "SELECT count(*) FROM survey WHERE attribute = 'pscc_ka' AND verdicts_settled > 0")
[ "$ranked" -gt 0 ] || fail "the survey does not rank pscc_ka"
