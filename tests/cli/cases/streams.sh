# Results on standard output, messages on standard error, progress only on a terminal.
. "$(dirname "$0")/../common.sh"
make_town town.gpkg

loopwalk check town.gpkg -o out.gpkg; expect_status 0
prints 'columns' 'out\.gpkg' 'treat as live|prove dead'
! grep -q $'[\r\033]' .out || fail "control characters on standard output"
! grep -q $'[\r\033]' .err || fail "progress or colour on standard error, which is no terminal"

loopwalk check town.gpkg -o quiet.gpkg --quiet; expect_status 0; says_nothing; prints_nothing
exists quiet.gpkg
loopwalk check nowhere.gpkg -o no.gpkg --quiet; expect_status 3; says 'nowhere' # never a silent failure
