# The same records give the same output, in whichever order they lie in the file.
. "$(dirname "$0")/../common.sh"
make_town town.gpkg

# All tables but the bookkeeping of the file format; rows of `run` that name files aside if asked.
content() { # FILE [computed]
    local table tables
    tables=$(sql "$1" "SELECT table_name FROM gpkg_contents ORDER BY table_name")
    for table in $tables; do
        case "${2:-}:$table" in
            computed:columns | computed:cables | computed:supplies | computed:ways | computed:run) ;;
            *) echo "== $table"; sqlite3 -quote "$1" "SELECT * FROM \"$table\"" ;;
        esac
    done
}

for n in 1 2; do
    loopwalk check town.gpkg -o "run$n.gpkg"; expect_status 0
    content "run$n.gpkg" >"run$n.txt"
done
[ -s run1.txt ] || fail "no content"
cmp -s run1.txt run2.txt || fail "two runs differ: $(diff run1.txt run2.txt | head -n 5)"

# Features in the reverse order, lines drawn the other way.
mkdir turned
ogr2ogr -f GPKG turned/town.gpkg town.gpkg -nln columns -q -dialect OGRSQL \
    -sql 'SELECT * FROM columns ORDER BY column_id DESC'
ogr2ogr -f GPKG -update turned/town.gpkg town.gpkg -nln cables -q -dialect SQLITE \
    -sql 'SELECT cable_id, cable_type, circuit, length_m, owner, status, ST_Reverse(geom) AS geom
          FROM cables ORDER BY cable_id DESC'
for layer in supplies ways; do
    ogr2ogr -f GPKG -update turned/town.gpkg town.gpkg "$layer" -nln "$layer" -q
done
loopwalk check turned/town.gpkg -o turned.gpkg; expect_status 0
content run1.gpkg computed >straight.txt
content turned.gpkg computed >turned.txt
cmp -s straight.txt turned.txt ||
    fail "order or direction changes the result: $(diff straight.txt turned.txt | head -n 5)"
