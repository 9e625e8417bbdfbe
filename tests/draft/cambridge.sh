#!/usr/bin/env bash
# Open data of other people, which are not part of the project: street lights, street centre lines and
# drains as a portal publishes them. Draft and check, nothing edited. What each is, is known from the
# publisher's own words; LOOPWALK_SHARED names the folder (default: shared, beside the project).
set -euo pipefail
root=$(cd "$(dirname "$0")/../.." && pwd)
: "${LOOPWALK:?the program}"
records=${LOOPWALK_SHARED:-$root/../shared}/data/cambridge
if [ ! -f "$records/INFRA_StreetLights.geojson" ]; then
    echo "SKIPPED: the open data are not there: $records" >&2
    exit 77
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
job=$work/job.toml

fail() {
    echo "FAILED: $*" >&2
    cat "$job" >&2
    exit 1
}
states() { grep -qE "$1" "$job" || fail "the draft does not state: $1"; }

"$LOOPWALK" draft "$records"/*.geojson -o "$job" --quiet
states '^layer = "INFRA_StreetLights"'
states '^column_id = "PoleID" .*# (sure|likely)'
states '^road = "StreetName" .*# (sure|likely)'
states '^area = "Neighborhood" .*# (sure|likely)'
states '^owner = "Owner" .*# likely'
states '^"City" = "council" .*# likely'
# Streets and drains are no cables, and no table may name them.
grep -A1 '^\[cables\]' "$job" | grep -qx 'layer = ""' || fail "it takes something for cables"
! grep -E '^[^#].*(TRANS_Centerlines|INFRA_Drainage)' "$job" || fail "it uses streets or drains"
# Pictures of lanterns, years and numbers of lamps are no figures of the contract.
! grep -E '^(load_w|height_m|fuse_|status|kind|circuit|tail_)' "$job" || fail "it makes up a field"

"$LOOPWALK" check "$job" -o "$work/checked.gpkg" --quiet
columns=$(sqlite3 "$work/checked.gpkg" 'SELECT count(*) FROM columns')

[ "$columns" -eq 6117 ] || fail "$columns columns in the output, not 6117"
echo "columns of the open data: $columns, none traced, drafted and checked without editing"
