#!/usr/bin/env bash
# Results in a database: a schema for each run, whole or not at all, side by side, one writer at a time.
. "$(dirname "$0")/postgis_server.sh"
start_server
load records
native_result

# back SCHEMA: columns and findings of a result as a file for compare.py.
back() {
    rm -f back.sqlite
    convert -f SQLite back.sqlite "$pg active_schema=$1" columns -nlt NONE
    convert -f SQLite -update back.sqlite "$pg active_schema=$1" findings -nlt NONE
}
tables() { query "SELECT count(*) FROM pg_tables WHERE schemaname = '$1'"; }
schemas() { query "SELECT string_agg(nspname, ' ' ORDER BY nspname) FROM pg_namespace
    WHERE nspname NOT LIKE 'pg_%' AND nspname <> 'information_schema'"; }

# From the database into the database, the job naming both; two results side by side.
job() { # NAME SCHEMA [LINE...]
    local file=$1 schema=$2
    shift 2
    { printf '%s\n' '[data]' "dataset = \"$connection active_schema=records\"" "$@" \
        '[output]' "path = \"$connection\"" "schema = '$schema'"; } >"$file"
}
job north.toml "north"
job south.toml 'South "Ward"' '[columns]' "where = \"road LIKE 'Anchor%'\""
for name in north south; do
    bare "$LOOPWALK" check $name.toml --quiet 2>.err || fail "$name: $(cat .err)"
    [ ! -s .err ] || fail "$name says: $(cat .err)"
done
[ "$(schemas)" = 'South "Ward" north public records' ] || fail "schemas: $(schemas)"
back north
python3 "$formats/compare.py" native.gpkg back.sqlite || fail "the result in the database differs"
for layer in $(ogrinfo -q native.gpkg | sed -E 's/^[0-9]+: ([a-z_]+).*/\1/'); do
    expected=$(sql native.gpkg "SELECT count(*) FROM $layer")
    [ "$(query "SELECT count(*) FROM north.$layer")" = "$expected" ] || fail "rows of north.$layer"
done
# Geometry, its coordinate system, keys and indexes have come along.
[ "$(query "SELECT count(*) FROM north.columns c JOIN records.columns r USING (fid)
    WHERE c.geom = r.geom AND ST_SRID(c.geom) = 27700 AND c.column_id IS NOT DISTINCT FROM r.column_id")" \
    = 360 ] || fail "columns are not as they were" # one has no geometry
[ "$(query "SELECT count(*) FROM pg_indexes WHERE schemaname = 'north' AND tablename = 'sections'
    AND indexdef LIKE '%gist%'")" = 1 ] || fail "no spatial index"
[ "$(query 'SELECT count(*) FROM "South ""Ward""".columns')" = 8 ] || fail "the other schema"
if query 'SELECT value FROM north.run' | grep -qF "$secret"; then fail "the password was written"; fi

# It exists: only with leave. A failure leaves everything as it was.
loopwalk check north.toml; expect_status 4; says 'north.* exists' 'overwrite'
before=$(query "SELECT oid FROM pg_namespace WHERE nspname = 'north'")
loopwalk check north.toml --overwrite --quiet; expect_status 0
[ "$(query "SELECT oid FROM pg_namespace WHERE nspname = 'north'")" != "$before" ] ||
    fail "not replaced"
[ "$(tables north)" = "$(ogrinfo -q native.gpkg | wc -l)" ] || fail "tables of north: $(tables north)"
# Somebody's table in it, somebody's schema, the records themselves: never.
query 'CREATE TABLE north.notes (t text)'
loopwalk check north.toml --overwrite; expect_status 4; says 'notes'
query 'DROP TABLE north.notes; CREATE SCHEMA mine; CREATE TABLE mine.columns (t text)'
job mine.toml mine
loopwalk check mine.toml --overwrite; expect_status 4; says 'not an earlier result'
job records.toml records
loopwalk check records.toml --overwrite; expect_status 4; says 'is read in this run'
# Nor may a job that does not read them.
sed "s/active_schema=records/active_schema=public/; s/^dataset.*/dataset = \"${town//\//\\/}\"/" \
    records.toml >others.toml
loopwalk check others.toml --overwrite; expect_status 4; says 'not an earlier result'
[ "$(query 'SELECT count(*) FROM records.columns')" = 361 ] || fail "the records were changed"
# A result read as records is not overwritten by its own assessment.
printf '%s\n' '[data]' "dataset = \"$connection active_schema=north\"" '[output]' \
    "path = \"$connection\"" 'schema = "north"' >own.toml
loopwalk check own.toml --overwrite; expect_status 4; says 'is read in this run'
[ "$(query 'SELECT count(*) FROM north.columns')" = 361 ] || fail "the input was replaced"

# Two runs for one schema: the second waits for nobody, it says so.
coproc holder { psql -qAtX -d lighting 2>&1; }
holder_process=$holder_PID # bash forgets it when the process ends
echo "SELECT pg_advisory_lock(hashtext('loopwalk'), hashtext('north'));SELECT 'held';" >&"${holder[1]}"
while read -r line <&"${holder[0]}"; do [ "$line" != held ] || break; done
loopwalk check north.toml --overwrite; expect_status 4; says 'another run'
echo '\q' >&"${holder[1]}"
wait "$holder_process" || true

# A schema that is in the way and no result of a run: it is somebody's, and stays.
query 'CREATE SCHEMA north_partial; CREATE TABLE north_partial.columns (t text)'
loopwalk check north.toml --overwrite; expect_status 4; says 'north_partial.* is in the way'
[ "$(tables north_partial)" = 1 ] || fail "somebody's schema was removed"
query 'DROP SCHEMA north_partial CASCADE'
# What a run that was killed left behind is cleared by the next one; one that is asked to end leaves at
# most what the next one clears. An event trigger makes it wait in the midst of its writing.
query "CREATE FUNCTION wait_there() RETURNS event_trigger LANGUAGE plpgsql AS \$\$ BEGIN
    IF EXISTS (SELECT FROM pg_tables WHERE schemaname = 'north_partial' AND tablename = 'supplies')
    THEN PERFORM pg_sleep(2); END IF; END \$\$;
    CREATE EVENT TRIGGER wait_there ON ddl_command_end WHEN TAG IN ('CREATE TABLE')
    EXECUTE FUNCTION wait_there()"
before=$(query "SELECT oid FROM pg_namespace WHERE nspname = 'north'")
for signal in KILL TERM; do
    command_line="loopwalk check north.toml --overwrite, SIG$signal"
    "$program" check north.toml --overwrite --quiet >.out 2>.err </dev/null &
    process=$!
    for ((i = 0; i < 200; i++)); do
        # The one of the run before may still be there: the remark names the process.
        [ "$(query "SELECT count(*) FROM pg_namespace n, pg_tables WHERE nspname = 'north_partial' AND
            schemaname = nspname AND obj_description(n.oid) LIKE '%-$process)'")" -lt 2 ] || break
        sleep 0.05
    done
    kill -s $signal $process || fail "done before it could be stopped"
    status=0
    wait $process || status=$?
    [ $signal = KILL ] || { expect_status 130; says 'nothing was written'; }
    [ $signal = TERM ] || [ "$(tables north_partial)" -ge 1 ] || fail "nothing is left to clear"
    [ "$(query "SELECT oid FROM pg_namespace WHERE nspname = 'north'")" = "$before" ] || fail "replaced"
    # The server ends what it does for a client that has gone after the statement.
    for ((i = 0; i < 100; i++)); do
        [ "$(query "SELECT count(*) FROM pg_locks WHERE locktype = 'advisory'")" != 0 ] || break
        sleep 0.1
    done
done
query 'DROP EVENT TRIGGER wait_there'
loopwalk check north.toml --overwrite --quiet; expect_status 0
[ "$(schemas)" = 'South "Ward" mine north public records' ] || fail "schemas: $(schemas)"
[ -z "$(query "SELECT obj_description('north'::regnamespace)")" ] || fail "a remark is left"

# Each value is read back: here the server changes some on their way.
query "CREATE FUNCTION change_one() RETURNS trigger LANGUAGE plpgsql AS \$\$ BEGIN
    IF NEW.fid = 7 THEN NEW.geom = ST_Translate(NEW.geom, 0.001, 0); END IF; RETURN NEW; END \$\$;
    CREATE FUNCTION change_it() RETURNS event_trigger LANGUAGE plpgsql AS \$\$ BEGIN
    IF EXISTS (SELECT FROM pg_tables WHERE schemaname = 'north_partial' AND tablename = 'columns') AND
        NOT EXISTS (SELECT FROM pg_trigger WHERE tgname = 'change_one')
    THEN CREATE TRIGGER change_one BEFORE INSERT ON north_partial.columns FOR EACH ROW
    EXECUTE FUNCTION change_one(); END IF; END \$\$;
    CREATE EVENT TRIGGER change_it ON ddl_command_end WHEN TAG IN ('CREATE TABLE')
    EXECUTE FUNCTION change_it()"
before=$(query "SELECT oid FROM pg_namespace WHERE nspname = 'north'")
loopwalk check north.toml --overwrite; expect_status 4
says 'columns.* holds values or geometries that are not those that were written'
[ "$(query "SELECT oid FROM pg_namespace WHERE nspname = 'north'")" = "$before" ] || fail "replaced"
[ "$(tables north_partial)" = 0 ] || fail "a partial schema is left"
query 'DROP EVENT TRIGGER change_it'

# Values of all kinds arrive, whatever time the server keeps; names that are too long are told.
query "ALTER DATABASE lighting SET timezone = 'Asia/Kolkata'"
make_town kinds.gpkg
long=$(printf 'n%.0s' $(seq 62))
change kinds.gpkg "ALTER TABLE columns ADD COLUMN seen DATETIME"
change kinds.gpkg "ALTER TABLE columns ADD COLUMN built DATE"
change kinds.gpkg "ALTER TABLE columns ADD COLUMN third DOUBLE"
change kinds.gpkg "ALTER TABLE columns ADD COLUMN photo BLOB"
change kinds.gpkg "ALTER TABLE columns ADD COLUMN ${long}éa TEXT"
change kinds.gpkg "UPDATE columns SET seen = '2026-03-29T01:30:00.250Z', built = '1970-01-01', third = 1.0 / 3,
    photo = x'00FF', ${long}éa = 'long'"
printf '%s\n' '[data]' 'dataset = "kinds.gpkg"' '[output]' "path = '$connection'" "schema = 'kinds'" >kinds.toml
loopwalk check kinds.toml --quiet; expect_status 0
says "longer than the 63 bytes.*: columns.${long}éa"
[ "$(query "SELECT DISTINCT seen AT TIME ZONE 'UTC' || ' ' || built || ' ' || photo || ' ' || $long
    FROM kinds.columns")" = '2026-03-29 01:30:00.25 1970-01-01 \x00ff long' ] ||
    fail "values: $(query "SELECT DISTINCT seen AT TIME ZONE 'UTC', built, photo FROM kinds.columns")"
change kinds.gpkg "ALTER TABLE columns ADD COLUMN ${long}éb TEXT"
loopwalk check kinds.toml --overwrite; expect_status 4; says 'keeps 63 bytes.*are the same' "${long}éb"
query 'ALTER DATABASE lighting RESET timezone; DROP SCHEMA kinds CASCADE'

# A user that may not make schemas: status 4, nothing left.
query "CREATE USER reader PASSWORD 'only.reads'; GRANT USAGE ON SCHEMA records TO reader;
    GRANT SELECT ON ALL TABLES IN SCHEMA records TO reader"
reader=${connection/user=lamp/user=reader}
loopwalk check north.toml -o "${reader/$secret/only.reads}" --overwrite
expect_status 4; is_plain_error
! grep -qF 'only.reads' .err || fail "the password is shown"
loopwalk check "$town" -o "${connection/$secret/wr0ng}"; expect_status 4
! grep -qF 'wr0ng' .err || fail "the password is shown"
# Without a key the schema is named after the job; the result names the place without the password.
loopwalk check "$town" -o "$connection" --overwrite; expect_status 0
[ "$(tables town_checked)" -ge 18 ] || fail "town_checked: $(tables town_checked)"
prints 'Result: PG:.*password=\*\*\*'
export TMPDIR=$work/tmp && mkdir tmp
loopwalk check "$town" -o "$connection" --overwrite --quiet; expect_status 0; no_partials tmp
