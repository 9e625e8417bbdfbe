# Dark columns: the first line is the first thing to do; streams, JSON, names, nothing written.
. "$(dirname "$0")/../common.sh"
sample=$data/../../../sample_gis/town.gpkg
cp "$sample" town.gpkg
before=$(digest town.gpkg)

# Eight columns in a row on way 1 of P-AN; five out beyond one that is lit leave one stretch.
loopwalk dark town.gpkg AN1-04 AN1-05 AN1-06 AN1-07 AN1-08 --lit AN1-03; expect_status 0; says_nothing
head -1 .out | grep -q '^1\. Go to AN1-04 (Anchor Street): is there voltage where cable C-AN1-04 comes$' ||
    fail "the first line is $(head -1 .out)"
prints '^1  cable C-AN1-04, AN1-03 to AN1-04' 'terminals in AN1-04' 'puts out no other' \
    'This is not a permit and not a' 'not looked at, not as lit'
! grep -q '^2  ' .out || fail "another explanation is listed"
! grep -q 'Is .* lit?' .out || fail "a further lamp is asked for"
longest=$(awk '{ if (length > n) n = length } END { print n }' .out)
[ "$longest" -le 80 ] || fail "a line is $longest characters wide"

# Two out with one between them unknown: halved, and the way's fuse among the explanations.
loopwalk dark town.gpkg AN1-04 AN1-06; expect_status 0
prints '^   Is AN1-02 lit\? Of the 4 explanations below that leaves 2 if it is out, 2' \
    'way 1 of pillar P-AN: fuse BS 88-2 16 A'

# One lamp; a phase of a three-phase way; a section pillar; a ring; two losses; nothing recorded.
loopwalk dark town.gpkg AN1-05; expect_status 0
prints "^1  AN1-05's own lamp, driver or cut-out fuse"
loopwalk dark town.gpkg GA1-02 GA1-05 --lit GA1-03 GA1-01; expect_status 0
prints '^1\. Phase L2 alone\. Go to pillar P-GA: look at way 1' '400 V'
loopwalk dark town.gpkg ISA-01 ISA-02 --lit ISB-01; expect_status 0
prints 'way A of section pillar SP-IS'
loopwalk dark town.gpkg TH1-02 TH1-03 --lit TH1-01; expect_status 0
prints '^2\. ' 'No one loss explains it; these two together do' 'Fed from two sides'
loopwalk dark town.gpkg AN1-02 AN1-04 AN1-06 --lit AN1-03 AN1-05 AN1-07; expect_status 0
prints '^Nothing that the records show explains all of this' '^The nearest: '
loopwalk dark town.gpkg LO-02; expect_status 0
prints 'treat as live'

# Group switching.
change town.gpkg "UPDATE ways SET control = 'group switched' WHERE supply_id = 'P-AN'"
loopwalk dark town.gpkg AN1-01 AN1-05 AN1-08 --switching; expect_status 0
head -1 .out | grep -q '^1\. Look at the switching of way 1 of pillar P-AN: photocell, time switch' ||
    fail "the first line is $(head -1 .out)"
prints 'becomes live when it switches'
cp "$sample" town.gpkg
loopwalk dark town.gpkg AN1-01 AN1-03 --lit AN1-02 --switching; expect_status 0
prints 'It follows the switching, but by the records'

# The distributor's: nothing to be done but to tell him.
loopwalk dark town.gpkg XE-01 XE1-02; expect_status 0
head -1 .out | grep -q '^1\. Tell the distributor: main M-XE' || fail "it does not send to the distributor"

# For machines.
loopwalk dark town.gpkg AN1-05 AN1-06 --lit AN1-04 --json -; expect_status 0; says_nothing
python3 - <<'PY' || fail "the JSON is not as documented"
import json
j = json.load(open(".out"))
assert j["out"] == ["AN1-05", "AN1-06"] and j["lit"] == ["AN1-04"] and j["complete_singles"] == 1
first = j["singles"][0]
assert first["complete"] and first["also_out"] == ["AN1-07", "AN1-08"], first
kinds = {(a[0]["kind"], a[0]["asset_id"]) for a in first["alternatives"]}
assert kinds == {("section", "C-AN1-05"), ("terminals", "AN1-05")}, kinds
assert j["next_column"] is None and j["pairs"] == [] and len(j["cautions"]) == 7
PY
loopwalk dark town.gpkg AN1-05 --json dark.json; expect_status 0
[ -s dark.json ] || fail "no JSON file"
loopwalk dark town.gpkg AN1-05 --json dark.json; expect_status 4; is_plain_error
loopwalk dark town.gpkg AN1-05 --json dark.json --overwrite --quiet; expect_status 0
[ ! -s .out ] || fail "quiet, and it speaks"
loopwalk dark town.gpkg AN1-05 --json town.gpkg --overwrite; expect_status 4; is_plain_error

# Names that lead nowhere, and what cannot be.
loopwalk dark town.gpkg AN1-99; expect_status 2; is_plain_error
says "no column 'AN1-99'" 'nearest id is'
loopwalk dark town.gpkg columns:AN1-05; expect_status 0
loopwalk dark town.gpkg supplies:P-AN; expect_status 2; is_plain_error; says 'is no column'
loopwalk dark town.gpkg AN1-05 --lit AN1-05; expect_status 2; is_plain_error
says 'cannot be both out and lit'
loopwalk dark town.gpkg; expect_status 2; is_plain_error
loopwalk dark --help; expect_status 0; says_nothing
prints 'Example' '--lit' '--switching' '--json'
[ "$(digest town.gpkg)" = "$before" ] || fail "the records were changed"
no_partials .
