#!/usr/bin/env bash
# Pages of every asset of the made-up town, worked again by hand rules in Python.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
: "${PAGES:?the program that writes pages}" "${LOOPWALK:?the program}" "${SAMPLE:?the town's folder}"
: "${CATALOGUE:?the catalogue's folder}"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
"$LOOPWALK" check "$SAMPLE/town.toml" -o "$work/town.gpkg" --quiet
"$PAGES" "$SAMPLE/town.toml" "$work/pages"
PYTHONDONTWRITEBYTECODE=1 python3 "$here/check_pages.py" "$work/pages" "$work/town.gpkg" "$CATALOGUE" \
    "envelope=10" "parallel=10" "drop=100" "load current=100" "volts=100"
