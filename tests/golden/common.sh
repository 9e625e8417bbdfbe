# Sourced by the tests: a fresh folder in $work that disappears with the test.
set -euo pipefail
export LC_ALL=C
: "${SAMPLE:?the folder of the made-up town}"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

fail() {
    echo "FAILED: $*" >&2
    exit 1
}

# dump FILE: layers, fields and rows of a GeoPackage as sorted text; no time of change.
dump() {
    local layers layer
    layers=$(sqlite3 "$1" "SELECT table_name FROM gpkg_contents ORDER BY table_name")
    for layer in $layers; do
        sqlite3 "$1" "SELECT '$layer', data_type, srs_id FROM gpkg_contents
                      WHERE table_name = '$layer';
                      SELECT '$layer', name, type FROM pragma_table_info('$layer')"
        sqlite3 "$1" ".mode quote" "SELECT '$layer', * FROM \"$layer\"" | sort
    done
}

# keys: rule,severity,asset_layer,asset_id of CSV lines on standard input, sorted, repeats kept.
keys() { cut -d, -f1-4 | sort; }
