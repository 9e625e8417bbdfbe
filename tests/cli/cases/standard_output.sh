# Standard output that cannot be written: status 4 and a message that tells what stands on the disk.
. "$(dirname "$0")/../common.sh"
make_town town.gpkg
[ -c /dev/full ] || skip "no /dev/full"

# full ARGUMENT...: with a full disk behind standard output; closed: with a reader that has gone.
full() { command_line="loopwalk $* >/dev/full" status=0; : >.out
    "$LOOPWALK" "$@" >/dev/full 2>.err </dev/null || status=$?; }
closed() { command_line="loopwalk $* | true" status=0; : >.out
    { sleep 0.2; "$LOOPWALK" "$@" 2>.err </dev/null || echo $? >.status; } | exec true
    status=$(cat .status 2>/dev/null || echo 0); rm -f .status; }

loopwalk check town.gpkg -o one.gpkg --quiet; expect_status 0
for way in full closed; do
    why='standard output.*(space|pipe)'
    for command in --help --version "check --help" "explain town.gpkg C1" "draft town.gpkg" \
        "compare one.gpkg one.gpkg" "compare one.gpkg one.gpkg --json -"; do
        $way $command; expect_status 4; says "$why" 'nothing was written'
    done
    # The layers are whole when the summary cannot be told: the message does not deny them.
    for json in "" "--json -"; do
        rm -f out.gpkg
        $way check town.gpkg -o out.gpkg $json; expect_status 4; says "$why" 'written and complete: out.gpkg'
        ! grep -q 'nothing was written' .err || fail "says that nothing was written"
        [ "$(sql out.gpkg 'SELECT count(*) FROM columns')" = 4 ] || fail "the result is not whole"
    done
    $way check town.gpkg -o out.gpkg --overwrite --quiet; expect_status 0
    $way draft town.gpkg -o new.toml --overwrite; expect_status 4; says "$why" 'written and complete: new.toml'
done
