#!/usr/bin/env bash
# Speed and memory of `loopwalk check` on an invented county.
#   tests/bench/run.sh [--limit RATIO] [--ringed PERCENT] COLUMNS...
#   tests/bench/run.sh --full              100,000 and 1,000,000 columns
# For each size, in one run: `loopwalk check`, a plain ogr2ogr copy of its input and one of its
# output. Prints a line of JSON and a table with the seconds of each stage and the shares of reading,
# computing, writing and finishing (indexes, reading back, sync); status 1 if the ratio to the copy of
# the output is above RATIO (default 1.3). Times are the best of three runs (one from 500,000 columns on).
# --ringed also checks the same county with so many of its ways closed to rings, and prints that
# time beside the radial one (--full has 5 per cent at 100,000 columns).
# LOOPWALK and BENCH_GENERATE name other programs than those of build/release.
set -euo pipefail
root=$(cd "$(dirname "$0")/../.." && pwd)
: "${LOOPWALK:=$root/build/release/loopwalk}"
: "${BENCH_GENERATE:=$root/build/release/tests/bench/bench_generate}"
export PROJ_NETWORK=OFF LC_ALL=C
usage() {
    echo "usage: tests/bench/run.sh [--limit RATIO] [--ringed PERCENT] COLUMNS... | --full" >&2
    exit 2
}

limit=1.3
ringed=0
most_ringed=$((1 << 30))
sizes=()
while [ $# -gt 0 ]; do
    case "$1" in
        --limit) limit=${2:?}; shift ;;
        --ringed) ringed=${2:?}; shift ;;
        --full) sizes+=(100000 1000000) ringed=5 most_ringed=100000 ;;
        *[!0-9]* | "") usage ;;
        *) sizes+=("$1") ;;
    esac
    shift
done
[ ${#sizes[@]} -gt 0 ] || usage
for program in "$LOOPWALK" "$BENCH_GENERATE"; do
    [ -x "$program" ] || { echo "bench: $program is not built" >&2; exit 2; }
done
[ -x /usr/bin/time ] || { echo "SKIPPED: /usr/bin/time (package time) is missing" >&2; exit 77; }

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
calc() { awk "BEGIN { printf \"%.$1f\", $2 }"; }
less() { awk "BEGIN { exit !($1 < $2) }"; }

# measure NAME COMMAND...: keeps the best time and its peak memory in ${NAME}_s and ${NAME}_kb.
measure() {
    local name=$1 seconds kb
    local -n best_s="${name}_s" best_kb="${name}_kb"
    shift
    if ! /usr/bin/time -q -o "$work/time" -f '%e %M' "$@" >"$work/out" 2>"$work/err" </dev/null; then
        cat "$work/err" >&2
        echo "bench: failed: $*" >&2
        exit 1
    fi
    read -r seconds kb <"$work/time"
    if [ -z "$best_s" ] || less "$seconds" "$best_s"; then
        best_s=$seconds best_kb=$kb
        cp "$work/err" "$work/$name.err"
    fi
}

# Stages of the best run: name, tab, seconds.
timings() { sed -nE 's/^timing (.+) ([0-9.]+)$/\1\t\2/p' "$work/check.err"; }

# Shares of the time that the stages took together: name, tab, share.
shares() {
    timings | awk -F '\t' '
        { kind = $1 ~ /^reading/ ? "reading" : $1 ~ /^write/ ? "writing" \
               : $1 ~ /^finish/ ? "finishing" : "computing"
          of[kind] += $2; all += $2 }
        END { n = split("reading computing writing finishing", kinds, " ")
              for (i = 1; i <= n; ++i)
                  printf "%s\t%.2f\n", kinds[i], (all > 0 ? of[kinds[i]] / all : 0) }'
}
as_json() { awk -F '\t' '{ printf "%s\"%s\": %s", comma, $1, $2; comma = ", " }'; }

check() { measure "$1" "$LOOPWALK" check "$2" -o "$work/out.gpkg" --overwrite --timings; }
copy() {
    rm -f "$work/copy.gpkg"
    measure "$1" ogr2ogr -f GPKG "$work/copy.gpkg" "$2"
}

# What the program takes for itself, whatever it reads.
base_s="" base_kb=""
"$BENCH_GENERATE" 10 "$work/small.gpkg" >/dev/null
check base "$work/small.gpkg"

above=no
for size in "${sizes[@]}"; do
    repeats=3
    [ "$size" -lt 500000 ] || repeats=1
    "$BENCH_GENERATE" "$size" "$work/in.gpkg" >&2
    check_s="" check_kb="" in_s="" in_kb="" out_s="" out_kb=""
    for _ in $(seq $repeats); do
        copy in "$work/in.gpkg"
        check check "$work/in.gpkg"
        copy out "$work/out.gpkg"
    done
    to_out=$(calc 2 "$check_s / $out_s")
    to_in=$(calc 2 "$check_s / $in_s")
    per_column=$(calc 0 "($check_kb - $base_kb) * 1024 / $size")

    echo "{\"columns\": $size, \"check_s\": $check_s, \"check_peak_kb\": $check_kb," \
        "\"base_kb\": $base_kb, \"bytes_per_column\": $per_column, \"copy_input_s\": $in_s," \
        "\"copy_output_s\": $out_s, \"ratio_to_copy_of_output\": $to_out," \
        "\"ratio_to_copy_of_input\": $to_in, \"stages_s\": {$(timings | as_json)}," \
        "\"shares\": {$(shares | as_json)}}"
    {
        echo "$size columns"
        printf '  %-28s %9s s %9s MB\n' "loopwalk check" "$check_s" "$(calc 0 "$check_kb / 1024")" \
            "copy of its input" "$in_s" "$(calc 0 "$in_kb / 1024")" \
            "copy of its output" "$out_s" "$(calc 0 "$out_kb / 1024")"
        printf '  %-28s %9s   (%s)\n' "ratio to copy of output" "$to_out" "limit $limit" \
            "ratio to copy of input" "$to_in" "goal 1.5" "bytes for each column" "$per_column" "above base"
        timings | awk -F '\t' '{ printf "    %-26s %9s s\n", $1, $2 }'
        shares | awk -F '\t' '{ printf "  %-28s %9s of the stages\n", $1, $2 }'
    } >&2
    less "$limit" "$to_out" && above=yes
    if [ "$ringed" != 0 ] && [ "$size" -le "$most_ringed" ]; then
        "$BENCH_GENERATE" "$size" "$work/ringed.gpkg" "$ringed" >&2
        ringed_s="" ringed_kb=""
        for _ in $(seq $repeats); do check ringed "$work/ringed.gpkg"; done
        rm "$work/ringed.gpkg"
        ratio=$(calc 2 "$ringed_s / $check_s")
        echo "{\"columns\": $size, \"ringed_percent\": $ringed, \"check_s\": $ringed_s," \
            "\"check_peak_kb\": $ringed_kb, \"ratio_to_radial\": $ratio}"
        printf '  %-28s %9s s   (%s of the radial one)\n' "check, $ringed % ringed" "$ringed_s" \
            "$ratio" >&2
    fi
done
if [ "$above" = yes ]; then
    echo "bench: slower than $limit times a copy of the output" >&2
    exit 1
fi
