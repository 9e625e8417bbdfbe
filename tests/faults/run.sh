#!/usr/bin/env bash
# Calls of the system fail one by one: the records stay as they were, a result is whole or not there,
# and a run that says it is done has written what a run without faults writes.
#   run.sh [SAMPLE]: how many of the calls of each kind fail (default 12; "all" for every one)
# Prints a table: call, scenario, calls counted, runs, what became of them.
. "$(dirname "$0")/../cli/common.sh"
: "${FAILING_CALL:?the library}"
sample=${1:-12}
ASAN_OPTIONS="" problems=0
make_town town.gpkg
before=$(digest town.gpkg)

# rows_of PATH: all that a result holds, as text, without what differs from run to run.
rows_of() {
    case $1 in
    *.gpkg) sqlite3 -readonly "$1" .dump ;;
    *) # by content: a comma less behind the last value changes nothing
        (cd "$1" && for file in *.shp *.dbf *.geojson *.csv *.fgb; do
            [ ! -e "$file" ] || ogrinfo -ro -al -q "$file" 2>/dev/null || true
        done) ;;
    esac
}

# one CALL AT SCENARIO: a run whose ATth CALL fails; $outcome.
one() {
    local call=$1 at=$2 after=$3 output=$4
    shift 4
    rm -rf "$output" .out .err
    status=0
    { timeout 60 env FAIL_CALL="$call" FAIL_AT="$at" FAIL_AFTER="$after" FAIL_COUNT="$work/count" \
        LD_PRELOAD="$FAILING_CALL" "$LOOPWALK" "$@" >.out 2>.err </dev/null || status=$?; } 2>/dev/null
    outcome="status $status"
    local wrong=""
    case $status in
    0)
        if [ "$output" != none ] && ! cmp -s <(rows_of "$output") "$expected"; then
            wrong="done, but the result differs"
        elif [ "$output" = none ] && ! cmp -s .out "$expected"; then
            wrong="done, but the answer differs"
        fi ;;
    2 | 3 | 4 | 70)
        [ -s .err ] || wrong="no message"
        # After the rename only the folder's sync can fail; the message says so.
        if [ -e "$output" ] && ! grep -qE 'is written and complete|written and complete:' .err; then
            wrong="a result without a word"
        fi ;;
    124) wrong="no end" ;;
    127 | 134) # the libraries could not be loaded or set up: before main()
        outcome="not begun"
        case $call in open | read | malloc) ;; *) wrong="ended by a signal" ;; esac
        [ "$call" != malloc ] || [ "$at" -le 3000 ] || outcome="ended by a library" ;;
    139) # a library that does not look whether it was given memory
        outcome="ended by a library"
        [ "$call" = malloc ] || wrong="ended by a signal" ;;
    *) wrong="ended by a signal" ;;
    esac
    [ "$(digest town.gpkg)" = "$before" ] || wrong="the records were changed"
    if [ -n "$wrong" ]; then
        outcome="WRONG: $wrong"
        problems=$((problems + 1))
        echo "$call $at ($after) of $*: $wrong, status $status: $(head -n 1 .err)" >&2
    fi
}

# scenario NAME OUTPUT CALLS ARGUMENT...: OUTPUT is "none" where the answer goes to standard output.
scenario() {
    local name=$1 output=$2 calls=$3 call at total after
    shift 3
    rm -rf "$output"
    "$LOOPWALK" "$@" >.out 2>.err </dev/null || { cat .err >&2; echo "FAILED: $name" >&2; exit 1; }
    expected=$work/expected
    if [ "$output" = none ]; then cp .out "$expected"; else rows_of "$output" >"$expected"; fi
    for call in $calls; do
        one "$call" 0 one "$output" "$@"
        total=$(cat count)
        local -A seen=()
        local runs=0 step=1
        [ "$sample" = all ] || step=$(((total + sample - 1) / sample))
        [ "$step" -gt 0 ] || step=1
        for ((at = 1; at <= total; at += step)); do
            for after in one all; do
                one "$call" "$at" "$after" "$output" "$@"
                seen[$outcome]=$((${seen[$outcome]:-0} + 1))
                runs=$((runs + 1))
            done
        done
        local told=""
        for outcome in "${!seen[@]}"; do told+="${told:+, }$outcome: ${seen[$outcome]}"; done
        printf '| %s | %s | %s | %s | %s |\n' "$name" "$call" "$total" "$runs" "${told:-none}"
        unset seen
    done
}

echo '| run | call | calls | runs | outcomes |'
echo '|---|---|---|---|---|'
files="open write fsync rename renameat2 mkdir unlink ftruncate"
scenario "check, GeoPackage" out.gpkg "$files read malloc" check town.gpkg -o out.gpkg --quiet
for format in ${FAULT_FORMATS:-geojson shp csv fgb}; do
    scenario "check, .$format" "out.$format" "open write fwrite fsync rename mkdir malloc" \
        check town.gpkg -o "out.$format" --quiet
done
scenario "explain" none "open read fread malloc" explain town.gpkg C1
scenario "draft" none "open read malloc" draft town.gpkg
rm -rf .*.partial-* 2>/dev/null || true
[ $problems -eq 0 ] || { echo "FAILED: $problems runs went wrong" >&2; exit 1; }
