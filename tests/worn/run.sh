#!/usr/bin/env bash
# The sample town, worn, against its key: every worn thing found, nothing else, no contradiction.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
: "${LOOPWALK:?the program}" "${SAMPLE:?folder of the sample town}"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export PYTHONDONTWRITEBYTECODE=1
mkdir "$work/worn"
for layer in columns cables supplies ways joints mains terminations loads readings; do
    ogr2ogr -f GeoJSON "$work/worn/$layer.geojson" "$SAMPLE/town.gpkg" "$layer"
    printf '[%s]\ndataset = "%s.geojson"\n' "$layer" "$layer" >>"$work/worn/job.toml"
done
python3 "$here/wear.py" "$work/worn"
"$LOOPWALK" check "$SAMPLE/town.toml" -o "$work/clean.gpkg" --quiet
"$LOOPWALK" check "$work/worn/job.toml" -o "$work/worn.gpkg" --quiet
python3 "$here/compare.py" "$work/clean.gpkg" "$work/worn.gpkg" "$SAMPLE/key.csv" "$work/worn/key.csv"
