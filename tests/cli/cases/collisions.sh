# All paths of a run are one set: nothing that is written may be, or spoil, what is read or what else
# is written; and only an earlier result is ever replaced.
. "$(dirname "$0")/../common.sh"
make_town town.gpkg
printf '%s\n' '[data]' 'dataset = "town.gpkg"' '[catalogue]' 'cables = "my.csv"' >job.toml
cp "$data/../../../src/catalogue/data/cables.csv" my.csv
sha256sum town.gpkg job.toml my.csv >before
refused() {
    expect_status 4
    is_plain_error
    says "$@"
    sha256sum --quiet -c before || fail "an input was changed"
    no_partials .
}

# The summary and the layers at one place: by spelling, case, link; whether it exists or not.
for json in out.gpkg ./out.gpkg "$work/out.gpkg" OUT.gpkg out.gpkg-wal out.gpkg-journal; do
    loopwalk check job.toml -o out.gpkg --json "$json" --overwrite; refused 'this run also writes'
    absent out.gpkg
done
ln -s later.gpkg ahead.json # points to nothing yet
loopwalk check job.toml -o later.gpkg --json ahead.json --overwrite; refused 'this run also writes'
loopwalk check job.toml -o set.shp --json set.shp/run.json --overwrite; refused 'this run also writes'

# Job, catalogue and records are never written, nor is what would be read with them.
for json in job.toml my.csv town.gpkg TOWN.gpkg-wal town.gpkg-journal my.csvt; do
    loopwalk check job.toml -o out.gpkg --json "$json" --overwrite; refused 'input'
    absent out.gpkg
done
ln -s job.toml other.json
loopwalk check job.toml -o out.gpkg --json other.json --overwrite; refused 'input'
ln job.toml twin.gpkg
loopwalk check job.toml -o twin.gpkg --overwrite; refused 'input'
rm twin.gpkg

# Devices, folders and what is no result.
loopwalk check job.toml -o out.gpkg --json /dev/null --overwrite; refused 'device'
[ -c /dev/null ] || fail "a device was replaced"
mkfifo pipe.json
loopwalk check job.toml -o out.gpkg --json pipe.json --overwrite; refused 'pipe'
echo '{"mine": 1}' >mine.json
loopwalk check job.toml -o out.gpkg --json mine.json --overwrite; refused 'not an earlier summary'
sqlite3 mine.gpkg 'CREATE TABLE letters (t)'
loopwalk check job.toml -o mine.gpkg --overwrite; refused 'earlier result'
mkdir roads.shp && cp "$data/columns.geojson" roads.shp/ && touch roads.shp/roads.dbf
loopwalk check job.toml -o roads.shp --overwrite; refused 'roads.shp'
absent out.gpkg

# A journal that waits beside the target belongs to another file.
touch out.gpkg-wal
loopwalk check job.toml -o out.gpkg; refused 'out.gpkg-wal'
rm out.gpkg-wal

# Earlier results are replaced.
loopwalk check job.toml -o out.gpkg --json out.json --quiet; expect_status 0
loopwalk check job.toml -o out.gpkg --json out.json --quiet --overwrite; expect_status 0

# Another program has it open, with a lock or without.
sleep 30 <out.gpkg &
reader=$!
loopwalk check job.toml -o out.gpkg --overwrite; refused 'another program has it open'
kill $reader
wait $reader 2>/dev/null || true
loopwalk check job.toml -o out.gpkg --overwrite --quiet; expect_status 0

# compare and draft.
loopwalk compare out.gpkg out.gpkg -o changes.gpkg --json changes.gpkg; refused 'this run also writes'
loopwalk compare out.gpkg out.gpkg -o changes.gpkg --quiet; expect_status 0
loopwalk compare out.gpkg out.gpkg -o changes.gpkg --quiet --overwrite; expect_status 0
loopwalk draft town.gpkg -o job.toml --overwrite; refused 'not an earlier draft'
