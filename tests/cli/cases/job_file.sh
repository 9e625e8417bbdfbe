# A job file that is not understood: status 2, file, line and key, and what would be right.
. "$(dirname "$0")/../common.sh"
make_town town.gpkg

job() { printf '%s\n' "$@" >job.toml; loopwalk check job.toml -o out.gpkg; }
refused() { expect_status 2; is_plain_error; says 'job\.toml' "$@"; absent out.gpkg; }

job '[data]' 'dataset = "town.gpkg"' '[rules]' 'vdrop_pc = 3.0'; refused 'vdrop_pc' 'vdrop_pct'
job '[data]' 'dataset = "town.gpkg"' '[network]' 'snap = 1.0'; refused 'snap' 'snap_m'
job '[data]' 'dataset = "town.gpkg"' '[rulez]' 'vdrop_pct = 3.0'; refused 'rulez' 'rules'
job '[data]' 'dataset = "town.gpkg"' '[network]' 'snap_m = "half a metre"'; refused 'snap_m' 'number'
job '[data]' 'dataset = 7'; refused 'dataset' 'text|string'
job '[data]' 'dataset = "town.gpkg"' '[rules]' 'cmin = -1.0'; refused 'cmin'
job '[data]' 'dataset = "town.gpkg"' '[network]' 'snap_m = 6.0' 'reach_m = 5.0'
refused 'snap_m' 'reach_m'
job '[data]' 'dataset = "town.gpkg"' '[rules]' 'assumed_source = "perhaps"'
refused 'assumed_source' 'undecided' 'meets'
job '[data' 'dataset = "town.gpkg"'; refused '\b[12]\b' # the line
job '[network]' 'snap_m = 0.5'; refused 'dataset'
job '[data]' 'dataset = "town.gpkg"' '[network]' 'crs = "EPSG:0"'
expect_status 2; is_plain_error; says 'EPSG:0'; absent out.gpkg
job '[data]' 'dataset = "town.gpkg"' '[catalogue]' 'cables = "nowhere.csv"'
expect_status 2; is_plain_error; says 'nowhere\.csv'; absent out.gpkg
job '[data]' 'dataset = "town.gpkg"' '[cables]' 'where = "no such syntax ((("'
expect_status 2; is_plain_error; says 'no such syntax'; absent out.gpkg

loopwalk check missing.toml -o out.gpkg; expect_status 2; is_plain_error; says 'missing\.toml'

job '[data]' 'dataset = "town.gpkg"' '[network]' 'snap_m = 0.5'; expect_status 0; exists out.gpkg
