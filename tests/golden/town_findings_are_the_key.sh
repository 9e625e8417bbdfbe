#!/usr/bin/env bash
# The findings in the made-up town are those of the answer key: none is missing, none is extra.
. "$(dirname "$0")/common.sh"
: "${LOOPWALK:?the path of the program}"

"$LOOPWALK" check "$SAMPLE/town.toml" -o "$work/checked.gpkg" --quiet >/dev/null ||
    fail "loopwalk check ended with status $?"
sqlite3 -csv "$work/checked.gpkg" \
    "SELECT rule, severity, asset_layer, asset_id FROM findings" | tr -d '\r"' | keys >"$work/found"
tail -n +2 "$SAMPLE/key.csv" | keys >"$work/expected"
[ -s "$work/expected" ] || fail "the answer key is empty"

comm -23 "$work/expected" "$work/found" | sed 's/^/missing: /' >"$work/differences"
comm -13 "$work/expected" "$work/found" | sed 's/^/extra:   /' >>"$work/differences"
if [ -s "$work/differences" ]; then
    cat "$work/differences" >&2
    fail "$(wc -l <"$work/differences") findings differ from the answer key"
fi
