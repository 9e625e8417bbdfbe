# An output that must not or cannot be written: status 4, nothing changed.
. "$(dirname "$0")/../common.sh"
make_town town.gpkg
before=$(digest town.gpkg)
refused() {
    expect_status 4
    is_plain_error
    says "$@"
    [ "$(digest town.gpkg)" = "$before" ] || fail "the input was changed"
    no_partials .
}

loopwalk check town.gpkg -o out.gpkg; expect_status 0; exists out.gpkg
echo "precious" >kept.gpkg
loopwalk check town.gpkg -o kept.gpkg; refused 'kept\.gpkg' '--overwrite'
[ "$(cat kept.gpkg)" = precious ] || fail "an existing output was touched"
loopwalk check town.gpkg -o kept.gpkg --overwrite; refused 'not an earlier result'
[ "$(cat kept.gpkg)" = precious ] || fail "something that is no result was replaced"
rm kept.gpkg
loopwalk check town.gpkg -o kept.gpkg; expect_status 0
loopwalk check town.gpkg -o kept.gpkg --overwrite; expect_status 0
[ "$(sql kept.gpkg 'SELECT count(*) FROM columns')" = 4 ] || fail "not replaced"

# The input itself, under whichever name.
ln -s town.gpkg link.gpkg
ln town.gpkg hard.gpkg
for name in town.gpkg ./town.gpkg link.gpkg hard.gpkg; do
    loopwalk check town.gpkg -o "$name" --overwrite; refused 'town\.gpkg' 'input' 'another name'
done

loopwalk check town.gpkg -o nowhere/out.gpkg; refused 'nowhere'
mkdir folder.gpkg
loopwalk check town.gpkg -o folder.gpkg --overwrite; refused 'folder\.gpkg'
[ -d folder.gpkg ] || fail "a folder was removed"

# A place where nobody can make files, not even root.
loopwalk check town.gpkg -o /proc/out.gpkg; refused '/proc'

# Without -o: beside nothing, in the current folder.
mkdir elsewhere
cd elsewhere
loopwalk check ../town.gpkg; expect_status 0; exists town_checked.gpkg
[ "$(sql town_checked.gpkg 'SELECT count(*) FROM cables')" = 4 ] || fail "cables are missing"
