# Sourced by the scripts beside it: a PostgreSQL server with PostGIS of the test's own, in the test's
# folder, reachable over loopback and a socket of that folder alone; it ends with the test.
. "$(dirname "${BASH_SOURCE[0]}")/common.sh"

bin=$(ls -d /usr/lib/postgresql/*/bin 2>/dev/null | sort -V | tail -n 1)
[ -x "$bin/initdb" ] || skip "no PostgreSQL server is installed (package postgresql)"
ls "$bin"/../../../../share/postgresql/*/extension/postgis.control >/dev/null 2>&1 ||
    skip "PostGIS is not installed (packages postgresql-15-postgis-3, postgis)"
ogrinfo --formats | grep -q PostgreSQL || skip "GDAL has no PostgreSQL driver"

# The server refuses to run as root.
as_server=()
if [ "$(id -u)" -eq 0 ]; then
    id postgres >/dev/null 2>&1 || skip "root, and no user postgres to run the server as"
    as_server=(runuser -u postgres --)
fi

server=$work/server
secret=tr0ub4dor-$$
stop_server() {
    [ ! -f "$server/data/postmaster.pid" ] ||
        "${as_server[@]}" "$bin/pg_ctl" -D "$server/data" -m immediate -w stop >/dev/null 2>&1 || true
}
trap 'stop_server; cleanup' EXIT

start_server() {
    mkdir "$server"
    chmod 711 "$work"
    printf '%s\n' "$secret" >"$server/secret"
    [ ${#as_server[@]} -eq 0 ] || chown -R postgres "$server"
    (
        cd "$server"
        "${as_server[@]}" "$bin/initdb" -D data -U lamp -A scram-sha-256 --pwfile=secret -N >"$work/.initdb" 2>&1
    ) || { cat "$work/.initdb" >&2; fail "initdb"; }
    local try
    for try in 1 2 3 4 5; do
        port=$(python3 -c 'import socket; s = socket.socket(); s.bind(("127.0.0.1", 0))
print(s.getsockname()[1])')
        if (cd "$server" && "${as_server[@]}" "$bin/pg_ctl" -D data -l log -w -o "-p $port -F \
            -c listen_addresses=127.0.0.1 -c unix_socket_directories=$server" start) >"$work/.start" 2>&1
        then
            break
        fi
        [ "$try" -lt 5 ] || { cat "$work/.start" "$server/log" >&2; fail "the server does not start"; }
    done
    export PGPASSWORD=$secret PGHOST=127.0.0.1 PGPORT=$port PGUSER=lamp
    psql -q -d postgres -c 'CREATE DATABASE lighting' || fail "no database"
    query 'SET client_min_messages = warning; CREATE EXTENSION postgis'
    # The program gets all it needs from the connection string.
    pg="PG:host=127.0.0.1 port=$port user=lamp dbname=lighting"
    connection="$pg password=$secret"
}

# query STATEMENT: rows without decoration.
query() { psql -qAtX -v ON_ERROR_STOP=1 -d lighting -c "$1" || fail "query: $1"; }

# without_environment COMMAND...: the program must not live on the variables of psql.
bare() { env -u PGPASSWORD -u PGHOST -u PGPORT -u PGUSER "$@"; }

# load SCHEMA [OPTION...]: the layers of the town as tables of a schema.
load() {
    local schema=$1
    shift
    query "SET client_min_messages = warning; CREATE SCHEMA IF NOT EXISTS \"$schema\""
    convert -f PostgreSQL "$pg active_schema=$schema" "$town" -lco GEOMETRY_NAME=geom "$@"
}
