# A run that is stopped: the input stays as it was, no half output, the next run tidies up.
. "$(dirname "$0")/../common.sh"
"${BENCH_GENERATE:?}" 40000 county.gpkg >/dev/null
before=$(digest county.gpkg)
unchanged() { [ "$(digest county.gpkg)" = "$before" ] || fail "the input was changed"; }
partial() { find . -maxdepth 1 -name '.out.gpkg.partial-*' -print -quit; }

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

# What is partial of a process that lives (this one) is its own business.
mine=".out.gpkg.partial-$(uname -n | tr -cd '[:alnum:]')-$(cut -d' ' -f22 /proc/$$/stat)-$$"
mkdir "$mine"
loopwalk check county.gpkg -o out.gpkg; expect_status 0; exists out.gpkg
exists "$mine"
rmdir "$mine"
no_partials .
unchanged

# A wait that nobody ends: a pipe without a reader that takes on, a server that does not answer.
# stopped_within_a_second SIGNAL ARGUMENT...
stopped_within_a_second() {
    local signal=$1 begun
    shift
    command_line="loopwalk $*, stopped by SIG$signal in a wait"
    env --default-signal=INT "$LOOPWALK" "$@" >pipe 2>.err </dev/null &
    local process=$!
    exec 9<pipe
    sleep 1.5
    begun=$(date +%s%N)
    kill -s "$signal" $process || fail "ended by itself"
    status=0
    wait $process 2>/dev/null || status=$?
    exec 9<&-
    [ $(($(date +%s%N) - begun)) -lt 1500000000 ] || fail "not within a second"
    expect_status 130
}
mkfifo pipe
stopped_within_a_second TERM check county.gpkg -o told.gpkg --json - # its summary does not fit
python3 - >port <<'P' &
import socket, time
server = socket.socket(); server.bind(("127.0.0.1", 0)); server.listen()
print(server.getsockname()[1], flush=True); time.sleep(60)
P
silent=$!
while [ ! -s port ]; do sleep 0.1; done
if ogrinfo --formats | grep -q PostgreSQL; then
    stopped_within_a_second INT check "PG:host=127.0.0.1 port=$(cat port) dbname=x" -o other.gpkg
    says 'nothing was written'
    absent other.gpkg
fi
kill $silent
no_partials .
unchanged

# At any moment: never half a result, nothing left behind unless killed outright. INTERRUPTIONS says how many; a thousand on request.
"${BENCH_GENERATE:?}" 300 small.gpkg >/dev/null
small=$(digest small.gpkg)
begun=$(date +%s%N)
loopwalk check small.gpkg -o whole.gpkg --quiet; expect_status 0
milliseconds=$((($(date +%s%N) - begun) / 1000000 + 20))
rows=$(sql whole.gpkg 'SELECT count(*) FROM columns')
for ((i = 0; i < ${INTERRUPTIONS:-30}; i++)); do
    rm -f part.gpkg
    set -- TERM KILL INT
    shift $((i % 3))
    command_line="loopwalk check small.gpkg -o part.gpkg, SIG$1"
    env --default-signal=INT "$LOOPWALK" check small.gpkg -o part.gpkg --quiet >.out 2>.err </dev/null &
    process=$!
    sleep "$(printf '0.%03d' $((RANDOM % milliseconds)))"
    kill -s "$1" $process 2>/dev/null || true
    status=0
    wait $process 2>/dev/null || status=$?
    # 143: so early that the program has not begun.
    case $status in 0 | 130 | 137 | 143) ;; *) fail "round $i" ;; esac
    if [ -e part.gpkg ]; then
        [ "$(sql part.gpkg 'PRAGMA integrity_check')" = ok ] &&
            [ "$(sql part.gpkg 'SELECT count(*) FROM columns')" = "$rows" ] || fail "half a result"
    fi
    [ $status -ne 0 ] || exists part.gpkg
    # What a killed run left the next one removes (above); a run stopped before that would leave it,
    # and could not be told from one that leaves something of its own.
    if [ "$1" = KILL ]; then rm -rf ./.part.gpkg.partial-*; else no_partials .; fi
    [ "$(digest small.gpkg)" = "$small" ] || fail "the input was changed"
done
loopwalk check small.gpkg -o part.gpkg --quiet --overwrite; expect_status 0
no_partials .
