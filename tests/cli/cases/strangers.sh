# A job or a data file of a stranger opens nothing but records, and its words do no harm.
. "$(dirname "$0")/../common.sh"
make_town town.gpkg
before=$(digest town.gpkg)
job() { printf '%s\n' '[data]' "$@" >job.toml; loopwalk check job.toml -o out.gpkg; }
refused() { is_plain_error; says "$@"; absent out.gpkg; [ "$(digest town.gpkg)" = "$before" ] || fail "changed"; }

# Virtual sources and addresses only where the job says so.
cat >town.vrt <<'V'
<OGRVRTDataSource><OGRVRTLayer name="columns"><SrcDataSource relativeToVRT="1">town.gpkg</SrcDataSource>
<SrcLayer>columns</SrcLayer></OGRVRTLayer><OGRVRTLayer name="cables">
<SrcDataSource relativeToVRT="1">town.gpkg</SrcDataSource><SrcLayer>cables</SrcLayer></OGRVRTLayer></OGRVRTDataSource>
V
job 'dataset = "town.vrt"'; expect_status 3; refused 'virtual source' 'SOURCES'
job 'dataset = "town.vrt"' 'open_options = { SOURCES = "virtual" }'; expect_status 0
rm out.gpkg
inline=$(tr '\n' ' ' <town.vrt)
job "dataset = '$inline'"; expect_status 2; refused 'virtual source'
for address in http://127.0.0.1:1/x.geojson /vsicurl/http://127.0.0.1:1/x.gpkg \
    /vsizip//vsicurl/http://127.0.0.1:1/x.zip /vsis3/bucket/x.gpkg WFS:http://127.0.0.1:1/wfs; do
    job "dataset = \"$address\""; expect_status 2; refused 'address of the network'
done

# Options that do more than tell how to read, filters that are more than a condition.
for option in PRELUDE_STATEMENTS OGR_SCHEMA XSD LAUNDER; do
    job 'dataset = "town.gpkg"' "open_options = { $option = \"DELETE FROM columns\" }"
    expect_status 2; refused "$option" 'open_options'
done
for where in "1=1; DELETE FROM columns" "x = 'a\\\\'; DELETE FROM columns --'"; do
    printf '%s\n' '[data]' 'dataset = "town.gpkg"' '[columns]' "where = \"$where\"" >job.toml
    loopwalk check job.toml -o out.gpkg; expect_status 2; refused 'semicolon'
done
printf '%s\n' '[data]' 'dataset = "town.gpkg"' '[columns]' "where = \"road <> 'a;b'\"" >job.toml
loopwalk check job.toml -o out.gpkg; expect_status 0

# A job that is a device, or has no end of parts in a name.
head -c 100000 /dev/zero | tr '\0' a | sed 's/a/a./g; s/^/[/; s/$/a]/' >deep.toml
loopwalk check deep.toml -o no.gpkg; expect_status 2; says 'parts'
mkfifo pipe.toml
loopwalk check pipe.toml -o no.gpkg; expect_status 2; says 'pipe'

# Escape sequences and marks of direction in a name, on a terminal and in a message.
change town.gpkg "UPDATE columns SET column_id = 'A' || char(27) || '[2J' || char(8238) || 'B' WHERE column_id = 'C1'" 2>/dev/null ||
    sqlite3 town.gpkg "SELECT 1" >/dev/null
loopwalk explain town.gpkg $'no\033[2Jone'; is_plain_error
! grep -q $'\033' .err || fail "an escape sequence on standard error"
says 'x1B'
