# Points whose coordinates stand in fields: CSV and spreadsheets, by x and y of the job, found by draft.
. "$(dirname "$0")/../common.sh"
make_town town.gpkg
loopwalk check town.gpkg -o plain.gpkg; expect_status 0
verdicts() { sql "$1" "SELECT lw_id, lw_verdict, lw_why FROM $2 ORDER BY lw_id"; }
verdicts plain.gpkg columns >plain.txt
[ -s plain.txt ] || fail "no verdicts"

# The columns as a council would export them: easting and northing in fields of their own.
ogr2ogr -f CSV lamps.csv town.gpkg columns -lco GEOMETRY=AS_XY -lco GEOMETRY_NAME=none
sed -i '1s/^X,Y/Easting,Northing/' lamps.csv
head -n 1 lamps.csv | grep -q '^Easting,Northing,' || fail "the test's own table: $(head -n 1 lamps.csv)"
{ head -n 1 lamps.csv | sed 's/Easting,Northing/Long_WGS,Lat_WGS/'; tail -n +2 lamps.csv |
    while IFS=, read -r x y rest; do
        echo "$x $y" | gdaltransform -s_srs EPSG:27700 -t_srs EPSG:4326 -output_xy |
            awk -v rest="$rest" '{ printf "%.9f,%.9f,%s\n", $1, $2, rest }'
    done; } >degrees.csv
# Decimal commas, semicolons.
awk -F, 'BEGIN { OFS = ";" } NR == 1 { $1 = "Rechtswert"; $2 = "Hochwert" } NR > 1 {
    $1 = sprintf("%.2f", $1); $2 = sprintf("%.2f", $2); sub(/\./, ",", $1); sub(/\./, ",", $2) } { $1 = $1; print }' \
    lamps.csv >komma.csv
ogr2ogr -f ODS lamps.ods lamps.csv -oo AUTODETECT_TYPE=YES 2>/dev/null || skip "no ODS"
ogr2ogr -f XLSX lamps.xlsx lamps.csv -oo AUTODETECT_TYPE=YES 2>/dev/null || skip "no XLSX"

job() { # FILE LAYER X Y FURTHER
    printf '[data]\ndataset = "town.gpkg"\n[columns]\ndataset = "%s"\nlayer = "%s"\nx = "%s"\ny = "%s"\n%b' "$@" >job.toml
}
for file in lamps.csv lamps.ods lamps.xlsx; do
    job $file lamps Easting Northing 'crs = "EPSG:27700"\n'
    loopwalk check job.toml -o out.gpkg --overwrite; expect_status 0
    verdicts out.gpkg columns | cmp -s - plain.txt || fail "$file: other verdicts"
    [ "$(sql out.gpkg "SELECT count(*) FROM gpkg_geometry_columns WHERE table_name = 'columns' AND geometry_type_name = 'POINT' AND srs_id = 27700")" = 1 ] ||
        fail "$file: the result has no points"
done
job komma.csv komma Rechtswert Hochwert 'decimal = ","\n'
loopwalk check job.toml -o out.gpkg --overwrite; expect_status 0
verdicts out.gpkg columns | cut -d'|' -f1,2 | cmp -s - <(cut -d'|' -f1,2 plain.txt) || fail "decimal commas: other verdicts"
job degrees.csv degrees Long_WGS Lat_WGS 'crs = "EPSG:4326"\n'
loopwalk check job.toml -o out.gpkg --overwrite; expect_status 0
verdicts out.gpkg columns | cut -d'|' -f1,2 | cmp -s - <(cut -d'|' -f1,2 plain.txt) || fail "degrees: other verdicts"
# Without the system they are metres near 0,0: refused.
job degrees.csv degrees Long_WGS Lat_WGS ''
loopwalk check job.toml -o no.gpkg; expect_status 3; is_plain_error; says 'look like degrees'

# A row without a place, or with one that nobody can read, is kept and told.
cp lamps.csv torn.csv
sed -n '2p' lamps.csv | sed 's/^[^,]*,/,/; s/,C[0-9]*,/,NOWHERE,/' >>torn.csv
sed -n '2p' lamps.csv | sed 's/^[^,]*,/by the church,/; s/,C[0-9]*,/,CHURCH,/' >>torn.csv
job torn.csv torn Easting Northing 'crs = "EPSG:27700"\n'
loopwalk check job.toml -o torn.gpkg; expect_status 0
[ "$(sql torn.gpkg "SELECT count(*) FROM columns WHERE geom IS NULL AND lw_id IN ('NOWHERE', 'CHURCH')")" = 2 ] ||
    fail "rows without a place are not kept"
[ "$(sql torn.gpkg "SELECT count(*) FROM findings WHERE rule = 'bad-geometry' AND asset_id = 'NOWHERE' AND message LIKE '%not recorded%'")" = 1 ] ||
    fail "no finding for an empty coordinate"
[ "$(sql torn.gpkg "SELECT count(*) FROM findings WHERE rule = 'bad-geometry' AND asset_id = 'CHURCH' AND message LIKE '%by the church%'")" = 1 ] ||
    fail "no finding for what is no coordinate"

# Within a box, by the numbers; beside a source with geometry of its own.
middle=$(tail -n +2 lamps.csv | sort -t, -n | awk -F, '{ x[NR] = $1 } END { print x[int(NR / 2)] + 0.5 }')
inside=$(tail -n +2 lamps.csv | awk -F, -v m="$middle" '$1 <= m' | wc -l)
job lamps.csv lamps Easting Northing "crs = \"EPSG:27700\"\n"
sed -i "s|^dataset = \"town.gpkg\"|&\nbbox = [0, 0, $middle, 1300000]|" job.toml
loopwalk check job.toml -o box.gpkg; expect_status 0
[ "$(sql box.gpkg "SELECT count(*) FROM columns")" = "$inside" ] || fail "the box takes other rows than $inside"

# What cannot be meant.
job lamps.csv lamps Easting Nothing ''; loopwalk check job.toml -o no.gpkg; expect_status 3; says "no field 'Nothing'"
printf '[data]\ndataset = "town.gpkg"\n[columns]\nx = "Easting"\n' >job.toml
loopwalk check job.toml -o no.gpkg; expect_status 2; says 'needs both'
printf '[data]\ndataset = "town.gpkg"\n[columns]\nx = "column_id"\ny = "column_id"\n' >job.toml
loopwalk check job.toml -o no.gpkg; expect_status 3; says 'geometry of its own'
absent no.gpkg

# draft finds them; longitudes and latitudes need nothing more, an easting's system is asked for.
ogr2ogr -f GPKG wires.gpkg town.gpkg cables
ogr2ogr -f GPKG wires.gpkg -update town.gpkg supplies
ogr2ogr -f GPKG wires.gpkg -update town.gpkg ways
for file in degrees.csv lamps.ods komma.csv; do
    loopwalk draft $file wires.gpkg -o drafted.toml --overwrite; expect_status 0
    loopwalk check drafted.toml -o out.gpkg --overwrite; expect_status 0
    verdicts out.gpkg columns | cut -d'|' -f1,2 | cmp -s - <(cut -d'|' -f1,2 plain.txt) || fail "$file as drafted: other verdicts"
done
loopwalk draft degrees.csv wires.gpkg; prints '^x = "Long_WGS"' '^y = "Lat_WGS"' '^crs = "EPSG:4326"'
loopwalk draft komma.csv wires.gpkg; prints '^x = "Rechtswert"' '^# crs = '
loopwalk draft lamps.xlsx wires.gpkg; prints '^x = "Easting"' '^y = "Northing"' 'EPSG:27700'

# Joined ids with a separator of one's own, or none.
printf '[data]\ndataset = "town.gpkg"\n[columns]\nfields = { column_id = ["road", "column_id"] }\njoined_by = "/"\n' >job.toml
loopwalk check job.toml -o joined.gpkg; expect_status 0
[ "$(sql joined.gpkg "SELECT count(*) FROM columns WHERE lw_id = ifnull(nullif(road, '') || '/', '') || column_id")" = \
    "$(sql joined.gpkg "SELECT count(*) FROM columns")" ] || fail "ids: $(sql joined.gpkg "SELECT lw_id FROM columns LIMIT 1")"
sed -i 's|joined_by = "/"|joined_by = ""|' job.toml
loopwalk check job.toml -o joined.gpkg --overwrite; expect_status 0
[ "$(sql joined.gpkg "SELECT count(*) FROM columns WHERE lw_id = ifnull(road, '') || column_id")" = \
    "$(sql joined.gpkg "SELECT count(*) FROM columns")" ] || fail "ids without a separator"
