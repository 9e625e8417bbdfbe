# Sourced by the scripts beside it, after LOOPWALK is set: the made-up town in other formats. Adds to
# what tests/cli/common.sh gives.
formats=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
. "$formats/../cli/common.sh"
town=$(cd "$formats/../../sample_gis" && pwd)/town.gpkg
# No run of the town may hang: a server is at the other end of some.
program=$LOOPWALK
limited=$work/.limited
printf '%s\n' '#!/bin/sh' "exec timeout 100 '$program' \"\$@\"" >"$limited"
chmod +x "$limited"
LOOPWALK=$limited
placed="columns cables supplies joints mains"
tables="ways terminations loads readings"
export PROJ_NETWORK=OFF
for tool in ogr2ogr python3; do
    command -v $tool >/dev/null || skip "$tool is not installed"
done

# convert ARGUMENT...: ogr2ogr from or to whatever; its warnings about names go, an error stays.
convert() {
    local log=$work/.convert
    ogr2ogr -q "$@" >"$log" 2>&1 || { cat "$log" >&2; fail "ogr2ogr $*"; }
    ! grep -q ERROR "$log" || { cat "$log" >&2; fail "ogr2ogr $*"; }
}

# each_layer FORMAT ENDING FOLDER [OPTION...]: a file for each layer of the town.
each_layer() {
    local format=$1 ending=$2 folder=$3 layer
    shift 3
    mkdir -p "$folder"
    for layer in $placed $tables; do
        convert -f "$format" "$folder/$layer.$ending" "$town" "$layer" "$@"
    done
}

# The result for the town as it is, made once; the others are compared with it.
native_result() {
    loopwalk check "$town" -o "$work/native.gpkg" --quiet
    expect_status 0
}

# same_town JOB [OPTION...]: checks JOB; every column and finding is as in the native town, but for
# what the options of compare.py say.
same_town() {
    local job=$1
    shift
    [ -f "$work/native.gpkg" ] || native_result
    loopwalk check "$job" -o "$work/other.gpkg" --overwrite --quiet
    expect_status 0
    says_nothing
    python3 "$formats/compare.py" "$work/native.gpkg" "$work/other.gpkg" "$@" || fail "$job differs"
    echo "same: $job $*"
}
