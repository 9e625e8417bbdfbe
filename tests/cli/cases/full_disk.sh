# The disk fills up: status 4, no output, no remains, and the old output stays.
. "$(dirname "$0")/../common.sh"
[ "$(id -u)" -eq 0 ] || skip "needs root for a small file system"
mkdir small
mount -t tmpfs -o size=1m tmpfs small 2>/dev/null || skip "root, but no mount allowed"
trap 'cd /; umount "$work/small"; cleanup' EXIT
"${BENCH_GENERATE:?}" 5000 county.gpkg >/dev/null
before=$(digest county.gpkg)

loopwalk check county.gpkg -o small/out.gpkg; expect_status 4; is_plain_error
says 'out\.gpkg|small' 'full|space'
absent small/out.gpkg
no_partials small

make_town town.gpkg
loopwalk check town.gpkg -o small/out.gpkg --quiet; expect_status 0
older=$(digest small/out.gpkg)
loopwalk check county.gpkg -o small/out.gpkg --overwrite; expect_status 4
[ "$(digest small/out.gpkg)" = "$older" ] || fail "the old output is gone"
no_partials small
[ "$(digest county.gpkg)" = "$before" ] || fail "the input was changed"
