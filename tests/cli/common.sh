# Sourced by the cases. LOOPWALK is the program. A case works in a fresh folder ($work, also the
# current folder), which disappears with it.
set -euo pipefail
: "${LOOPWALK:?the path of the program}"
data=$(cd "$(dirname "${BASH_SOURCE[0]}")/data" && pwd)
work=$(mktemp -d)
cleanup() {
    cd /
    rm -rf "$work"
}
trap cleanup EXIT
cd "$work"

command_line="" status=0

# loopwalk ARGUMENT...: run the program; $status, $work/.out and $work/.err tell what came of it.
loopwalk() {
    command_line="loopwalk $*"
    status=0
    "$LOOPWALK" "$@" >"$work/.out" 2>"$work/.err" </dev/null || status=$?
}

fail() {
    {
        echo "FAILED: $*"
        echo "command: $command_line"
        echo "status: $status"
        echo "--- standard output"; head -n 30 "$work/.out" || true
        echo "--- standard error"; head -n 30 "$work/.err" || true
    } >&2
    exit 1
}

skip() {
    echo "SKIPPED: $*" >&2
    exit 77
}

expect_status() { [ "$status" -eq "$1" ] || fail "exit status $status, not $1"; }
# says PATTERN...: standard error holds each of them (extended, without case).
says() {
    local pattern
    for pattern in "$@"; do
        grep -qiE -- "$pattern" "$work/.err" || fail "standard error does not say: $pattern"
    done
}
# prints PATTERN...: likewise standard output.
prints() {
    local pattern
    for pattern in "$@"; do
        grep -qiE -- "$pattern" "$work/.out" || fail "standard output does not hold: $pattern"
    done
}
prints_nothing() { [ ! -s "$work/.out" ] || fail "something on standard output"; }
says_nothing() { [ ! -s "$work/.err" ] || fail "something on standard error"; }
# An error leaves standard output to the results and is written for people.
is_plain_error() {
    prints_nothing
    [ -s "$work/.err" ] || fail "nothing on standard error"
    ! grep -qE 'terminate called|std::|[0-9a-f]{12}' "$work/.err" || fail "not a message for people"
}
exists() { [ -e "$1" ] || fail "$1 is missing"; }
absent() { [ ! -e "$1" ] || fail "$1 should not be there"; }
# No partial output in a folder.
no_partials() {
    local found
    found=$(find "$1" -maxdepth 1 -name '.*partial*')
    [ -z "$found" ] || fail "left behind: $found"
}
digest() { sha256sum <"$1"; }

# make_town FILE [LAYER...]: the made-up street of data/ as a GeoPackage, all layers by default.
make_town() {
    local target=$1 layer source
    shift
    rm -f "$target"
    for layer in "${@:-columns cables supplies ways}"; do
        for layer in $layer; do
            source="$data/$layer.geojson"
            [ -f "$source" ] || source="$data/$layer.csv"
            ogr2ogr -f GPKG -update "$target" "$source" -nln "$layer" -a_srs EPSG:27700 \
                -oo AUTODETECT_TYPE=YES -q 2>/dev/null ||
                ogr2ogr -f GPKG "$target" "$source" -nln "$layer" -a_srs EPSG:27700 \
                    -oo AUTODETECT_TYPE=YES -q 2>/dev/null || fail "ogr2ogr $layer"
        done
    done
}
sql() { sqlite3 "$1" "$2"; }
# change FILE STATEMENT: alter records through GDAL, which knows the triggers of the format.
change() { ogrinfo -q "$1" -sql "$2" >/dev/null || fail "cannot alter $1: $2"; }
