#!/usr/bin/env bash
# Builds the program and checks the made-up town of this folder with it.
set -euo pipefail
root=$(cd "$(dirname "$0")/.." && pwd)
cd "$root"

.ci/setup.sh
export PROJ_NETWORK=OFF CCACHE_NOHASHDIR=1
mkdir -p build/sample
log=build/sample/build.log
echo "Building (log: $log) ..." >&2
if ! { cmake -C .ci/release.cmake -S . -B build/release -G Ninja -DLOOPWALK_TESTS=OFF &&
    cmake --build build/release --target loopwalk; } >"$log" 2>&1; then
    tail -n 40 "$log" >&2
    exit 1
fi

output=build/sample/town_checked.gpkg
build/release/loopwalk check sample_gis/town.toml -o "$output" --overwrite
echo
echo "Annotated layers: $output"
echo "Open it in a desktop GIS, or list its layers with: ogrinfo $output"
