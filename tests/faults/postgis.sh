#!/usr/bin/env bash
# The same for a result in a database, of a server of the test's own: also what is sent and received.
#   postgis.sh [SAMPLE]: as run.sh
here=$(cd "$(dirname "$0")" && pwd)
. "$here/../formats/postgis_server.sh"
LOOPWALK=$program # without a shell around it, whose calls would count
. "$here/common.sh"
start_server
export TMPDIR=$work/tmp && mkdir tmp # of the staging

database_rows() {
    local table
    for table in $(query "SELECT tablename FROM pg_tables WHERE schemaname = '$1' ORDER BY 1"); do
        echo "$table"
        query "SELECT * FROM \"$1\".\"$table\" ORDER BY 1"
    done
}
database_forget() {
    query "SET client_min_messages = warning; DROP SCHEMA IF EXISTS \"$1\" CASCADE"
}
database_has() { [ "$(query "SELECT count(*) FROM pg_namespace WHERE nspname = '$1'")" = 1 ]; }

printf '%s\n' '[data]' 'dataset = "town.gpkg"' '[output]' "path = \"$connection\"" \
    'schema = "street"' >job.toml
begin_table
scenario "check, PostGIS" schema:street "open write mkdir send recv malloc" check job.toml --quiet
# What is left of runs whose connection broke goes with the next one.
loopwalk check job.toml --quiet --overwrite; expect_status 0
! database_has street_partial || fail "a partial schema is left"
end_table
