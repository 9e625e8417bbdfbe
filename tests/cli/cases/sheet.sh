# Sheets: what the town's streets must say at the door (tests/../sample_gis/streets*.cpp), paper,
# streams, JSON, names, rounds; nothing written.
. "$(dirname "$0")/../common.sh"
sample=$data/../../../sample_gis/town.gpkg
cp "$sample" town.gpkg
before=$(digest town.gpkg)
flat() { tr '\n' ' ' <.out | tr -s ' ' >.flat; }
page_says() { for text; do grep -qF -- "$text" .flat || fail "the page lacks '$text'"; done; }

# Eight columns in a row on one way: the fuse in a column leaves both of its cables live, the way none.
loopwalk sheet town.gpkg AN1-04; expect_status 0; says_nothing; flat
page_says "S U P P L Y : T H E C O U N C I L ' S" 'Fed from: P-AN/1; phase: L1.' \
    'Fuse expected here: BS 88-2 6 A. Fuse before it, by the records: BS 88-2 16 A at P-AN/1.' \
    "This column's fuse drawn: STAYS LIVE C-AN1-04 (to AN1-03), C-AN1-05 (to AN1-05)." \
    'Way P-AN/1 opened: no other feed in the records, prove it, C-AN1-04 (to AN1-03), C-AN1-05' \
    'live by day while the lamp is off' 'Way P-AN/1 opened: 8 columns, AN1-01' 'This is not a permit'

# Three phases; beyond a section pillar, with the fuse before that; a distributor's service.
loopwalk sheet town.gpkg GA1-02; expect_status 0; flat
page_says "THREE PHASES, 400 V between them; this column's phase: L2."
loopwalk sheet town.gpkg ISA-01; expect_status 0; flat
page_says 'Fed from: P-IS/1, by way of section pillar SP-IS/A' 'BS 88-2 10 A at SP-IS/A, BS 88-2 25 A at P-IS/1' \
    'Way SP-IS/A opened: 3 columns, ISA-01, ISA-02, ISA-03.'
loopwalk sheet town.gpkg BU-01; expect_status 0; flat
page_says "S U P P L Y : T H E D I S T R I B U T O R ' S" "(THE DISTRIBUTOR'S)"

# Two supplies joined: opening one way, or one supply, changes nothing here.
loopwalk sheet town.gpkg TI-01; expect_status 0; flat
page_says 'P-TI-E/1, P-TI-W/1, ALL of which keep it live; phase' \
    'Any one of its ways opened: STAYS LIVE C-TI-01 (to P-TI-W), C-TI-X (to TI-02).' \
    'Any one of its supplies off: STAYS LIVE C-TI-01'
! grep -q 'section pillar' .flat || fail "a pillar is called a section pillar"

# A ring, an open point, a cable out of use, TT, no source, a joint.
loopwalk sheet town.gpkg TH1-03; expect_status 0; flat
page_says 'C-TH1-03 to P-TH: brings in' 'C-TH1-04 to TH1-04: brings in' 'A closed loop or several ways' \
    'Way P-TH/1 opened: not known, loops or several ways feed it'
loopwalk sheet town.gpkg MO1-06; expect_status 0; flat
page_says 'C-MO1-X to MO1-03: open here; live from P-MO/1'
loopwalk sheet town.gpkg OA1-03; expect_status 0; flat
page_says 'C-OA-OLD to OA2-03: recorded disconnected; if joined, live from P-OA/2' \
    'Way P-OA/1 opened: not known, treat as live, C-OA-OLD (to OA2-03)'
loopwalk sheet town.gpkg TE1-01; expect_status 0; flat
page_says 'Earthing: TT' 'no fuse opens on it, only an RCD can'
loopwalk sheet town.gpkg SA2-03 OA-R1; expect_status 0; flat
page_says 'Fed from: not traced: no source was found in the records, treat as live.' \
    'RECORDED AS REMOVED OR DISCONNECTED. It may be live all the same.' \
    'No cable is drawn or recorded here. There is one if anything works: treat as live.'
[ "$(tr -cd '\f' <.out | wc -c)" = 1 ] || fail "two pages are not parted by one form feed"
loopwalk sheet town.gpkg joints:J-FE1-1 P-AN/1 P-AN; expect_status 0; flat
page_says 'T R E A T A S' 'C-FE1-R2 to J-FE1-2: carries on' 'Way P-AN/1 of Pillar P-AN' "Its own way of each opened"

# A whole way in the order of the cable; a round holds each column of its area once.
loopwalk sheet town.gpkg --way P-AN/1; expect_status 0
[ "$(sed 's/^\f//' .out | sed -n 's/^Column \([^,]*\),.*/\1/p' | tr '\n' ' ')" = \
    'AN1-01 AN1-02 AN1-03 AN1-04 AN1-05 AN1-06 AN1-07 AN1-08 ' ] || fail "the way is not in order"
loopwalk sheet town.gpkg --round Harbour --json -; expect_status 0
python3 - .out town.gpkg <<'PY' || fail "the round does not hold each column of its area once"
import json, sqlite3, sys
sheets = json.load(open(sys.argv[1]))["sheets"]
rows = sqlite3.connect(sys.argv[2]).execute("select column_id from columns where area = 'Harbour'")
ids = [sheet["asset_id"] for sheet in sheets]
wanted = {row[0] for row in rows}
sys.exit(0 if wanted and wanted <= set(ids) and len(ids) == len(set(ids)) else 1)
PY

loopwalk sheet town.gpkg AN1-04 --json s.json --quiet; expect_status 0; prints_nothing
loopwalk sheet town.gpkg AN1-04 --json s.json --quiet; expect_status 4
loopwalk sheet town.gpkg; expect_status 2
loopwalk sheet town.gpkg AN1-4; expect_status 2
loopwalk sheet town.gpkg C-AN1-04; expect_status 2
loopwalk sheet town.gpkg --round Nowhere; expect_status 2
[ "$before" = "$(digest town.gpkg)" ] || fail "the records changed"
