#!/usr/bin/env bash
# A sheet of every column, supply, way and joint of the made-up town.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
: "${LOOPWALK:?the program}" "${SAMPLE:?the folder of the town}"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
"$LOOPWALK" check "$SAMPLE/town.toml" -o "$work/town.gpkg" --quiet
PYTHONDONTWRITEBYTECODE=1 python3 "$here/check_sheets.py" "$LOOPWALK" "$SAMPLE/town.toml" \
    "$work/town.gpkg" "$here/../structure/cautions.txt"
