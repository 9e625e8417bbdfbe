# A job or a data file of a stranger opens nothing but records, and its words do no harm.
. "$(dirname "$0")/../common.sh"
make_town town.gpkg
before=$(digest town.gpkg)
job() { printf '%s\n' '[data]' "$@" >job.toml; loopwalk check job.toml -o out.gpkg; }
refused() { is_plain_error; says "$@"; absent out.gpkg; [ "$(digest town.gpkg)" = "$before" ] || fail "changed"; }

# Virtual sources and addresses only where the job says so.
cat >town.vrt <<'V'
<OGRVRTDataSource><OGRVRTLayer name="columns"><SrcDataSource relativeToVRT="1">town.gpkg</SrcDataSource>
<SrcLayer>columns</SrcLayer></OGRVRTLayer><OGRVRTLayer name="cables">
<SrcDataSource relativeToVRT="1">town.gpkg</SrcDataSource><SrcLayer>cables</SrcLayer></OGRVRTLayer></OGRVRTDataSource>
V
job 'dataset = "town.vrt"'; expect_status 3; refused 'virtual source' 'SOURCES'
job 'dataset = "town.vrt"' 'open_options = { SOURCES = "virtual" }'; expect_status 0
rm out.gpkg
inline=$(tr '\n' ' ' <town.vrt)
job "dataset = '$inline'"; expect_status 2; refused 'virtual source'
# A listener tells whether anybody called.
python3 - >port <<'P' &
import socket
server = socket.socket(); server.bind(("127.0.0.1", 0)); server.listen()
print(server.getsockname()[1], flush=True)
while True:
    server.accept()[0].close()
    open("called", "w").close()
P
listener=$!
trap 'kill $listener 2>/dev/null; cleanup' EXIT
while [ ! -s port ]; do sleep 0.1; done
host=127.0.0.1:$(cat port)
for address in "http://$host/x.geojson" "/vsicurl/http://$host/x.gpkg" "/vsizip//vsicurl/http://$host/x.zip" \
    /vsis3/bucket/x.gpkg "WFS:http://$host/wfs"; do
    job "dataset = \"$address\""; expect_status 2; refused 'address of the network'
done
absent called
job "dataset = \"/vsicurl/http://$host/x.gpkg\"" 'open_options = { SOURCES = "network" }'; expect_status 3
exists called # so the listener does tell

# Options that do more than tell how to read, filters that are more than a condition.
for option in PRELUDE_STATEMENTS OGR_SCHEMA XSD LAUNDER; do
    job 'dataset = "town.gpkg"' "open_options = { $option = \"DELETE FROM columns\" }"
    expect_status 2; refused "$option" 'open_options'
done
for where in "1=1; DELETE FROM columns" "x = 'a\\\\'; DELETE FROM columns --'"; do
    printf '%s\n' '[data]' 'dataset = "town.gpkg"' '[columns]' "where = \"$where\"" >job.toml
    loopwalk check job.toml -o out.gpkg; expect_status 2; refused 'semicolon'
done
printf '%s\n' '[data]' 'dataset = "town.gpkg"' '[columns]' "where = \"road <> 'a;b'\"" >job.toml
loopwalk check job.toml -o out.gpkg; expect_status 0

# A job that is a device, or has no end of parts in a name.
head -c 100000 /dev/zero | tr '\0' a | sed 's/a/a./g; s/^/[/; s/$/a]/' >deep.toml
loopwalk check deep.toml -o no.gpkg; expect_status 2; says 'parts'
mkfifo pipe.toml
loopwalk check pipe.toml -o no.gpkg; expect_status 2; says 'pipe'

# Escape sequences and marks of direction in a name: written out on a terminal and in a message, as they
# are in a file, in JSON and in a pipe.
name="A$(printf '\033')[2J$(printf '\342\200\256')B" # clear the screen, write to the left
change town.gpkg "UPDATE columns SET column_id = 'A' || char(27) || '[2J' || char(8238) || 'B' WHERE column_id = 'C1'"
[ "$(sql town.gpkg "SELECT hex(column_id) FROM columns WHERE fid = 1")" = 411B5B324AE280AE42 ] ||
    fail "the name was not changed: $(sql town.gpkg "SELECT hex(column_id) FROM columns WHERE fid = 1")"
shown='A\x1B[2J\u{202E}B'
# on_terminal ARGUMENT...: what the program writes there, in .tty.
on_terminal() {
    command_line="loopwalk $* (on a terminal)"
    status=0
    python3 - "$LOOPWALK" "$@" >.tty 2>.err <<'P' || status=$?
import os, pty, sys
sys.exit(os.waitstatus_to_exitcode(pty.spawn(sys.argv[1:], lambda terminal: os.read(terminal, 4096))))
P
}
harmless() { # FILE
    ! LC_ALL=C grep -q "$(printf '\033')" "$1" || fail "an escape sequence in $1"
    ! LC_ALL=C grep -q "$(printf '\342\200\256')" "$1" || fail "a mark of direction in $1"
    grep -qF -- "$shown" "$1" || fail "$1 does not show $shown: $(head -n 5 "$1")"
}
on_terminal explain town.gpkg "$name"; expect_status 0; harmless .tty
loopwalk explain town.gpkg "$name"; expect_status 0
grep -qF -- "$name" .out || fail "the name is not as it is in a pipe"
loopwalk explain town.gpkg "$name-none"; expect_status 2; is_plain_error; harmless .err
on_terminal check town.gpkg -o named.gpkg --json named.json; expect_status 0
! LC_ALL=C grep -q "$(printf '\342\200\256')" .tty || fail "a mark of direction on the terminal"
[ "$(sql named.gpkg "SELECT hex(column_id) FROM columns WHERE fid = 1")" = 411B5B324AE280AE42 ] || fail "changed in the result"
