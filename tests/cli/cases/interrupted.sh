# A run that is stopped: the input stays as it was, no half output, the next run tidies up.
. "$(dirname "$0")/../common.sh"
"${BENCH_GENERATE:?}" 40000 county.gpkg >/dev/null
before=$(digest county.gpkg)
unchanged() { [ "$(digest county.gpkg)" = "$before" ] || fail "the input was changed"; }
partial() { find . -maxdepth 1 -name '.out.partial-*.gpkg' -print -quit; }

# stopped_by SIGNAL: a run that gets the signal once its partial file is there.
stopped_by() {
    command_line="loopwalk check county.gpkg -o out.gpkg, stopped by SIG$1"
    # A background process of a script ignores SIGINT unless told otherwise.
    env --default-signal=INT "$LOOPWALK" check county.gpkg -o out.gpkg >.out 2>.err </dev/null &
    local process=$!
    while kill -0 $process 2>/dev/null && [ -z "$(partial)" ]; do sleep 0.01; done
    kill -s "$1" $process 2>/dev/null || fail "done before it could be stopped"
    status=0
    wait $process 2>/dev/null || status=$?
}

for signal in INT TERM; do
    stopped_by $signal
    expect_status 130
    absent out.gpkg
    no_partials .
    unchanged
done

stopped_by KILL
expect_status 137
absent out.gpkg
unchanged
[ -n "$(partial)" ] || fail "no partial file to tidy up"

# A partial file of a process that lives (this one) is its own business.
mine=".out.partial-$$.gpkg"
echo "at work" >"$mine"
loopwalk check county.gpkg -o out.gpkg; expect_status 0; exists out.gpkg
exists "$mine"
rm "$mine"
no_partials .
unchanged
