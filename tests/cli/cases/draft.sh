# A job file from the look of the records: streams, paths, files that are there already, wrong use.
. "$(dirname "$0")/../common.sh"
mkdir -p records jobs
make_town records/town.gpkg
before=$(digest records/town.gpkg)

# To standard output, with paths from the current folder; nothing is written.
loopwalk draft records/town.gpkg; expect_status 0; says_nothing
prints '^\[columns\]$' '^column_id = "column_id"' '^\[cables\]$' '^dataset = "records/town.gpkg"$' \
    'someone competent'
[ "$(find . -name '*.toml' | wc -l)" -eq 0 ] || fail "a file was written"
cp .out first.txt
loopwalk draft records/town.gpkg --quiet; expect_status 0; cmp -s .out first.txt ||
    fail "the same records give another draft"

# To a file, with paths from its folder; check takes it as it is and says what it says of the records.
loopwalk draft records/town.gpkg -o jobs/town.toml; expect_status 0; says_nothing
prints '^columns .*sure' 'jobs/town.toml'
grep -qx 'dataset = "../records/town.gpkg"' jobs/town.toml || fail "the path is not from the job's folder"
loopwalk check jobs/town.toml -o drafted.gpkg; expect_status 0
loopwalk check records/town.gpkg -o plain.gpkg; expect_status 0
for layer in columns cables supplies; do
    for result in drafted plain; do
        sql $result.gpkg "SELECT lw_id, lw_verdict FROM $layer ORDER BY lw_id" >$result.txt
    done
    [ -s plain.txt ] && cmp -s drafted.txt plain.txt || fail "other verdicts of $layer"
done
no_partials jobs
[ "$(digest records/town.gpkg)" = "$before" ] || fail "the records were changed"

# Several datasets: each layer names its own.
ogr2ogr -f GeoJSON records/lamps.geojson records/town.gpkg columns -lco RFC7946=NO
ogr2ogr -f GPKG records/wires.gpkg records/town.gpkg cables
loopwalk draft records/lamps.geojson records/wires.gpkg -o jobs/two.toml; expect_status 0
grep -qx 'dataset = "../records/lamps.geojson"' jobs/two.toml || fail "no dataset of the columns"
grep -qx 'dataset = "../records/wires.gpkg"' jobs/two.toml || fail "no dataset of the cables"
loopwalk check jobs/two.toml -o two.gpkg; expect_status 0

# Records without cables: the job says so, and check believes it.
loopwalk draft records/lamps.geojson -o jobs/lamps.toml; expect_status 0
loopwalk check jobs/lamps.toml -o lamps.gpkg; expect_status 0; prints 'not traced'
# That there are no cables is one thing to know, not one for each lamp.
told=$(sql lamps.gpkg "SELECT count(*), sum(count) FROM findings WHERE rule = 'not-traced'")
lamps=$(sql lamps.gpkg "SELECT count(*) FROM columns")
[ "$lamps" -gt 1 ] && [ "$told" = "1|$lamps" ] || fail "not-traced of $lamps lamps: $told"
loopwalk check records/lamps.geojson -o no.gpkg; expect_status 3; is_plain_error
printf '[data]\ndataset = "../records/town.gpkg"\n[cables]\nlayer = ""\nfields = { status = "" }\n' \
    >jobs/both.toml
loopwalk check jobs/both.toml -o no.gpkg; expect_status 2; is_plain_error; says 'cables' 'leave out'
printf '[data]\ndataset = "../records/town.gpkg"\n[columns]\nlayer = ""\n' >jobs/none.toml
loopwalk check jobs/none.toml -o no.gpkg; expect_status 2; is_plain_error; says 'without columns'
absent no.gpkg

# What is there stays, unless it may be replaced.
kept=$(digest jobs/town.toml)
loopwalk draft records/town.gpkg -o jobs/town.toml; expect_status 4; is_plain_error
says 'jobs/town.toml' '--overwrite'
[ "$(digest jobs/town.toml)" = "$kept" ] || fail "the file was changed"
loopwalk draft records/town.gpkg -o jobs/town.toml --overwrite; expect_status 0
loopwalk draft records/town.gpkg -o nowhere/town.toml; expect_status 4; is_plain_error
says 'nowhere/town.toml'

# Wrong use.
loopwalk draft; expect_status 2; is_plain_error; says 'DATASET'
loopwalk draft records/town.gpkg -o town.txt; expect_status 2; is_plain_error; says 'toml'
loopwalk draft records/missing.gpkg; expect_status 3; is_plain_error; says 'missing.gpkg'
loopwalk draft records/missing.gpkg -o new.toml; expect_status 3; absent new.toml
loopwalk draft --help; expect_status 0; says_nothing; prints 'DATASET' '--output' '--overwrite'
loopwalk draft --version; expect_status 0; prints 'loopwalk [0-9]'

# A name in Latin-1 cannot stand in a job file, which is UTF-8: said, not written wrong.
latin=$(printf 'stra\337e.gpkg')
make_town town_for_latin.gpkg
mv town_for_latin.gpkg "$latin"
loopwalk draft "$latin" -o latin.toml; expect_status 0
grep -q '^# LOOK: the name of this dataset is not UTF-8' latin.toml || fail "nothing is said: $(head -n 14 latin.toml)"
grep -q '^# dataset = "stra?e.gpkg"$' latin.toml || fail "the name: $(grep dataset latin.toml)"
loopwalk check "$latin" -o latin.gpkg; expect_status 0
[ "$(sqlite3 latin.gpkg "SELECT hex(key) FROM run WHERE key LIKE 'input %'")" = \
    "$(printf 'input stra\\xDFe.gpkg' | od -An -tx1 -v | tr -d ' \n' | tr a-f A-F)" ] ||
    fail "the input's name in run: $(sqlite3 latin.gpkg "SELECT key FROM run WHERE key LIKE 'input %'")"
