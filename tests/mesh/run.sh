#!/usr/bin/env bash
# run.sh completions|half_records|grid|crowds [SEEDS]: writes a network, checks it, compares. LW_TEST_SEED replays a network.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
: "${LOOPWALK:?the program}" "${CATALOGUE:?folder of the catalogue}"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export PYTHONDONTWRITEBYTECODE=1
for seed in ${LW_TEST_SEED:-$(seq "${2:-5}")}; do
    rm -f "$work"/*
    python3 "$here/$1.py" write "$seed" "$work"
    for layer in "$work"/*.geojson; do
        update=(-f GPKG)
        [ ! -e "$work/records.gpkg" ] || update+=(-update -append)
        ogr2ogr "${update[@]}" "$work/records.gpkg" "$layer"
    done
    "$LOOPWALK" check "$work/job.toml" -o "$work/checked.gpkg" --overwrite --quiet >/dev/null
    python3 "$here/$1.py" compare "$seed" "$work" "$CATALOGUE"
done
