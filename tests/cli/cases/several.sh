# A layer whose records lie in several datasets or layers: read as one, every row named by its own.
. "$(dirname "$0")/../common.sh"
make_town whole.gpkg

# The street's cables in two layers of one file, with other names and in another system, and its
# columns in two files. What is judged cannot depend on how the records are cut up.
ogr2ogr -f GPKG cables.gpkg whole.gpkg -nln low cables -where "cable_id < 'K3'"
ogr2ogr -f GPKG -update cables.gpkg whole.gpkg -nln high -sql \
    "SELECT cable_id AS ref, cable_type AS kind, circuit, length_m, geom FROM cables WHERE cable_id >= 'K3'"
mkdir -p north south
ogr2ogr -f GPKG north/lamps.gpkg whole.gpkg columns -where "fid % 2 = 0"
ogr2ogr -f GPKG south/lamps.gpkg whole.gpkg columns -where "fid % 2 = 1"
ids() { sql "$1" "SELECT count(*) FROM $2"; }
[ "$(ids cables.gpkg low)" -gt 0 ] && [ "$(ids cables.gpkg high)" -gt 0 ] || fail "cut badly"
cat >cut.toml <<'EOF'
[data]
dataset = "whole.gpkg"
[columns]
dataset = ["north/lamps.gpkg", "south/lamps.gpkg"]
layer = ["columns", "columns"]
[[cables]]
dataset = "cables.gpkg"
layer = "low"
[[cables]]
dataset = "cables.gpkg"
layer = "high"
fields = { cable_id = "ref", cable_type = "kind" }
EOF
loopwalk check whole.gpkg -o whole_out.gpkg; expect_status 0
loopwalk check cut.toml -o cut_out.gpkg; expect_status 0; says_nothing
for layer in columns cables supplies; do
    for result in whole cut; do
        sql ${result}_out.gpkg "SELECT lw_id, lw_verdict, lw_why FROM $layer ORDER BY lw_id" >$result.txt
    done
    [ -s whole.txt ] && cmp -s whole.txt cut.txt || fail "cut up, other verdicts of $layer"
done

# Each row tells where it comes from, under the number that it has there.
sql cut_out.gpkg "SELECT lw_source_layer || '|' || lw_source_fid || '|' || lw_id FROM cables ORDER BY 1" >told.txt
{ sql cables.gpkg "SELECT 'low|' || fid || '|' || cable_id FROM low"
  sql cables.gpkg "SELECT 'high|' || fid || '|' || ref FROM high"; } | sort >true.txt
sort told.txt | cmp -s - true.txt || fail "other sources of cables: $(head -n 3 told.txt)"
[ "$(sql cut_out.gpkg "SELECT group_concat(d) FROM (SELECT DISTINCT lw_source_dataset d FROM columns ORDER BY 1)")" = \
    "north/lamps.gpkg,south/lamps.gpkg" ] || fail "the datasets are not told apart"
[ "$(sql cut_out.gpkg "SELECT count(DISTINCT fid) = count(*) FROM columns")" = 1 ] || fail "one number twice"
# Fields are united: what one lacks is null.
[ "$(sql cut_out.gpkg "SELECT count(*) FROM cables WHERE (ref IS NULL) = (cable_id IS NULL)")" = 0 ] ||
    fail "fields of the two layers are mixed up"
# A result from one source has no such fields.
[ -z "$(sql whole_out.gpkg "SELECT name FROM pragma_table_info('cables') WHERE name LIKE 'lw_source%'")" ] ||
    fail "source fields where there is one source"

# Each in its own system, with its own filter and within one box; a field of two types is a text.
ogr2ogr -f GPKG degrees.gpkg -t_srs EPSG:4326 south/lamps.gpkg -sql \
    "SELECT *, 'old' AS era, 'a' || fid AS tall FROM columns"
ogr2ogr -f GPKG metres.gpkg north/lamps.gpkg -sql "SELECT *, 'new' AS era, 6.5 AS tall FROM columns"
cat >mixed.toml <<EOF
[data]
dataset = "whole.gpkg"
bbox = [0, 0, 700000, 1300000]
[[columns]]
dataset = "metres.gpkg"
layer = "$(ogrinfo -q metres.gpkg | sed 's/^1: //; s/ (.*//')"
where = "era = 'new'"
[[columns]]
dataset = "degrees.gpkg"
layer = "$(ogrinfo -q degrees.gpkg | sed 's/^1: //; s/ (.*//')"
where = "column_id <> 'none'"
EOF
loopwalk check mixed.toml -o mixed.gpkg; expect_status 0
for result in whole_out mixed; do
    sql $result.gpkg "SELECT lw_id, lw_verdict FROM columns ORDER BY lw_id" >$result.txt
    ogr2ogr -f CSV /vsistdout/ $result.gpkg -sql "SELECT lw_id, geom FROM columns ORDER BY lw_id" \
        -lco GEOMETRY=AS_XY -lco SEPARATOR=SEMICOLON |
        awk -F';' 'NR > 1 { printf "%s %.2f %.2f\n", $3, $1, $2 }' >$result.xy
done
cmp -s whole_out.txt mixed.txt || fail "in two systems, other verdicts"
[ "$(wc -l <mixed.xy)" -gt 1 ] && cmp -s whole_out.xy mixed.xy || fail "in two systems, other places"
[ "$(sql mixed.gpkg "SELECT DISTINCT typeof(tall) FROM columns")" = text ] || fail "a clash of types"

# An id in both is a duplicate, and the finding names the one that gave way.
ogr2ogr -f GPKG -append south/lamps.gpkg whole.gpkg columns -where "fid = 2"
loopwalk check cut.toml -o twice.gpkg; expect_status 0
[ "$(sql twice.gpkg "SELECT count(*) FROM findings WHERE rule = 'duplicate-id' AND asset_layer = 'columns'")" -gt 0 ] ||
    fail "no duplicate"
[ "$(sql twice.gpkg "SELECT count(*) FROM findings WHERE asset_layer = 'columns' AND lw_source_dataset IS NULL AND asset_id IN (SELECT lw_id FROM columns)")" = 0 ] ||
    fail "a finding does not tell its dataset"

# draft writes the list where two layers are plainly of one role: by their fields, or by their names.
loopwalk check whole.gpkg -o whole_out.gpkg --overwrite; expect_status 0
sql whole_out.gpkg "SELECT lw_id, lw_verdict FROM columns ORDER BY lw_id" >whole.txt
parts() { # NAME NAME: the records with the cables in two layers of these names
    ogr2ogr -f GPKG parts.gpkg whole.gpkg columns supplies ways
    ogr2ogr -f GPKG -update parts.gpkg whole.gpkg -nln "$1" cables -where "cable_id < 'K3'"
    ogr2ogr -f GPKG -update parts.gpkg whole.gpkg -nln "$2" cables -where "cable_id >= 'K3'"
}
for names in "lv_cables mv_cables" "lighting_cables_north lighting_cables_south"; do
    parts $names
    loopwalk draft parts.gpkg -o parts.toml --overwrite; expect_status 0
    [ "$(grep -c '^\[\[cables\]\]$' parts.toml)" = 2 ] || fail "$names: no list"
    loopwalk check parts.toml -o parts_out.gpkg --overwrite; expect_status 0
    sql parts_out.gpkg "SELECT lw_id, lw_verdict FROM columns ORDER BY lw_id" | cmp -s - whole.txt ||
        fail "$names: other verdicts"
    rm parts.gpkg
done
# Not where one is out of service by its name, nor a copy with the same ids.
parts cables cables_abandoned
loopwalk draft parts.gpkg; expect_status 0; prints '^\[cables\]$' 'not taken: layer "cables_abandoned"'
rm parts.gpkg
ogr2ogr -f GPKG parts.gpkg whole.gpkg columns supplies ways cables
ogr2ogr -f GPKG -update parts.gpkg whole.gpkg -nln cables_2 cables
loopwalk draft parts.gpkg; expect_status 0; prints '^\[cables\]$' 'not taken: layer "cables_2"'

# A list that cannot be meant.
bad() { printf '[data]\ndataset = "whole.gpkg"\n%b' "$1" >bad.toml; shift
    loopwalk check bad.toml -o no.gpkg; is_plain_error; says "$@"; absent no.gpkg; }
bad '[cables]\nlayer = ["cables", "cables"]\n' 'named twice'; expect_status 2
bad '[cables]\nlayer = ["cables", ""]\n' 'no such layer'; expect_status 2
bad '[cables]\nlayer = []\n' 'list is empty'; expect_status 2
bad '[cables]\nlayer = ["a", "b"]\ndataset = ["a.gpkg"]\n' 'side by side'; expect_status 2
bad '[cables]\nlayer = ["cables", "wires"]\n' "no layer 'wires'"; expect_status 3
bad '[[cables]]\nlayer = "cables"\nmissing = { status = "removed" }\n[[cables]]\nlayer = "supplies"\nmissing = { status = "removed" }\n' \
    'missing'; expect_status 2
