# Sourced by the scripts beside it, after tests/cli/common.sh and with FAILING_CALL, the library: calls of
# the system fail one by one.
: "${FAILING_CALL:?the library}"
sample=${1:-12}
most=${FAULT_MOST:-1000} # of calls where every one is asked for: a run allocates memory 200,000 times
ASAN_OPTIONS="" problems=0
make_town town.gpkg
before=$(digest town.gpkg)

# rows_of PATH: all that a result holds, as text, without what differs from run to run.
rows_of() {
    case $1 in
    *.gpkg) sqlite3 -readonly "$1" 'PRAGMA application_id' 'PRAGMA user_version' .dump ;;
    schema:*) database_rows "${1#schema:}" ;;
    *) # by content: a comma less behind the last value changes nothing
        (cd "$1" && for file in *.shp *.dbf *.geojson *.csv *.fgb; do
            [ ! -e "$file" ] || ogrinfo -ro -al -q "$file" 2>/dev/null || true
        done) ;;
    esac
}

# A result by its name: a file, a folder, or a schema of the database ("schema:NAME").
forget() {
    case $1 in
    schema:*) database_forget "${1#schema:}" ;;
    none) ;;
    *) rm -rf "$1" ;;
    esac
}
is_there() {
    case $1 in
    schema:*) database_has "${1#schema:}" ;;
    *) [ -e "$1" ] ;;
    esac
}

# one CALL AT SCENARIO: a run whose ATth CALL fails; $outcome.
one() {
    local call=$1 at=$2 after=$3 output=$4
    shift 4
    forget "$output"
    rm -f .out .err
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
        if is_there "$output" && ! grep -qE 'is written and complete|written and complete:|may be complete' .err; then
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
    forget "$output"
    "$LOOPWALK" "$@" >.out 2>.err </dev/null || { cat .err >&2; echo "FAILED: $name" >&2; exit 1; }
    expected=$work/expected
    if [ "$output" = none ]; then cp .out "$expected"; else rows_of "$output" >"$expected"; fi
    for call in $calls; do
        one "$call" 0 one "$output" "$@"
        total=$(cat count)
        local -A seen=()
        local runs=0 step=1
        local wanted=$sample
        [ "$sample" != all ] || wanted=$most
        [ "$sample" = all ] && [ "$call" != malloc ] || step=$(((total + wanted - 1) / wanted))
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


begin_table() {
    echo '| run | call | calls | runs | outcomes |'
    echo '|---|---|---|---|---|'
}
end_table() {
    rm -rf .*.partial-* 2>/dev/null || true
    [ $problems -eq 0 ] || { echo "FAILED: $problems runs went wrong" >&2; exit 1; }
}
