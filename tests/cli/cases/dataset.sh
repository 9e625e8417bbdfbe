# A dataset that cannot be used: status 3, naming dataset, layer and field.
. "$(dirname "$0")/../common.sh"

check() { loopwalk check "$1" -o out.gpkg; }
refused() { expect_status 3; is_plain_error; says "$@"; absent out.gpkg; no_partials .; }

check nowhere.gpkg; refused 'nowhere\.gpkg'

echo "a letter, not a dataset" >letter.txt
check letter.txt; refused 'letter\.txt'

: >empty.gpkg
check empty.gpkg; refused 'empty\.gpkg'

make_town columns_only.gpkg columns
check columns_only.gpkg; refused 'columns_only\.gpkg' 'cables'

make_town cables_only.gpkg cables supplies
check cables_only.gpkg; refused 'cables_only\.gpkg' 'columns' 'supplies' # what is missing, what there is

make_town town.gpkg
ogr2ogr -f GPKG no_field.gpkg town.gpkg
change no_field.gpkg "ALTER TABLE cables RENAME COLUMN cable_id TO asset_ref"
check no_field.gpkg; refused 'no_field\.gpkg' 'cables' 'cable_id'

head -c 20000 town.gpkg >cut_off.gpkg
check cut_off.gpkg; refused 'cut_off\.gpkg'

# Geometry of another kind is no fault of the dataset but of each feature; a dataset without
# supplies is traced from nowhere.
make_town no_supply.gpkg columns cables
check no_supply.gpkg; expect_status 0; exists out.gpkg
[ "$(sql out.gpkg "SELECT count(*) FROM columns WHERE lw_verdict = 'not traced'")" = 4 ] ||
    fail "not every column is not traced"

# A layer without features has no fields in some formats: it is empty, not wrong.
make_town town.gpkg
echo '{"type": "FeatureCollection", "name": "terminations", "features": []}' >terminations.geojson
printf '[data]\ndataset = "town.gpkg"\n[terminations]\ndataset = "terminations.geojson"\n' >job.toml
rm out.gpkg
check job.toml; expect_status 0
