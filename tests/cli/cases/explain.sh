# The page of one asset: streams, formats, names that do not lead to one asset, nothing written.
. "$(dirname "$0")/../common.sh"
make_town town.gpkg
before=$(digest town.gpkg)
column=$(sql town.gpkg "SELECT column_id FROM columns ORDER BY column_id LIMIT 1")

loopwalk explain town.gpkg "$column"; expect_status 0; says_nothing
prints "^Column $column: the working$" '^Ohms along the path$' 'Zs = Ze \+ Zc = ' \
    'BS 7671:2018\+A2 reg 714.411.202' 'This is not a permit and not a certificate'
! grep -q '^|' .out || fail "text holds a table of Markdown"
longest=$(grep -vE '^  ' .out | awk '{ if (length > n) n = length } END { print n }')
[ "$longest" -le 100 ] || fail "a sentence is $longest characters wide"
cp .out text

loopwalk explain town.gpkg "columns:$column" --format text; expect_status 0
cmp -s .out text || fail "the layer before the id changes the page"

loopwalk explain town.gpkg "$column" --format markdown; expect_status 0; says_nothing
prints "^# Column $column: the working$" '^## Ohms along the path$' '^\|---' '^```text$'

# Every kind of asset that has a page.
cable=$(sql town.gpkg "SELECT cable_id FROM cables ORDER BY cable_id LIMIT 1")
supply=$(sql town.gpkg "SELECT supply_id FROM supplies ORDER BY supply_id LIMIT 1")
loopwalk explain town.gpkg "cables:$cable"; expect_status 0; prints "^Cable $cable: the working$"
loopwalk explain town.gpkg "supplies:$supply"; expect_status 0
prints "^Supply $supply: the working$" '^Its ways$'

# Nothing is written, neither beside the records nor into them.
[ "$(digest town.gpkg)" = "$before" ] || fail "the records were changed"
[ -z "$(find . -maxdepth 1 -name '*checked*')" ] || fail "explain wrote an output"
no_partials .

# Names that lead nowhere, or to several assets.
loopwalk explain town.gpkg "${column}X"; expect_status 2; is_plain_error
says "${column}X" "nearest are .*columns:$column"
loopwalk explain town.gpkg "cables:$column"; expect_status 2; is_plain_error
says "cables:$column" "nearest are cables:"
loopwalk explain town.gpkg "ways:1"; expect_status 2; is_plain_error
says "no column, cable, supply, joint or way" "nearest are ways:"
loopwalk explain town.gpkg "mains:1"; expect_status 2; is_plain_error
says "name a column, cable, supply, joint or way"
way=$(sqlite3 town.gpkg "SELECT supply_id || '/' || way FROM ways LIMIT 1")
loopwalk explain town.gpkg "$way"; expect_status 0
prints "Way $way" "Its columns, the nearest first" "Cautions"
change town.gpkg "UPDATE cables SET cable_id = '$column' WHERE cable_id = '$cable'"
loopwalk explain town.gpkg "$column"; expect_status 2; is_plain_error
says "several layers" "columns:$column" "cables:$column"
loopwalk explain town.gpkg "columns:$column"; expect_status 0

# The command line.
loopwalk explain town.gpkg; expect_status 2; is_plain_error; says 'ID'
loopwalk explain; expect_status 2; is_plain_error
loopwalk explain town.gpkg "$column" --format html; expect_status 2; is_plain_error
says 'format'
loopwalk explain missing.gpkg "$column"; expect_status 3; is_plain_error; says 'missing.gpkg'
loopwalk explain --help; expect_status 0; says_nothing; prints 'JOB' 'ID' '--format' '\b130\b'
loopwalk explain --version; expect_status 0; prints 'loopwalk [0-9]'
