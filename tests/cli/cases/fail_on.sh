# --fail-on turns the worst of what was found into status 1; the output is written all the same.
# Each level includes those before it.
. "$(dirname "$0")/../common.sh"

# run LEVEL...: the status for each level, in one line.
statuses() {
    local level line=""
    for level in danger fail warning undecided; do
        loopwalk check town.gpkg -o out.gpkg --overwrite --fail-on "$level"
        [ "$status" -le 1 ] || fail "neither 0 nor 1"
        exists out.gpkg
        line+=" $level=$status"
        rm out.gpkg
    done
    echo "$line"
}
expect() { # WHAT STATUSES
    local got
    got=$(statuses)
    [ "$got" = " $2" ] || fail "$1:$got, not $2"
}

make_town town.gpkg
loopwalk check town.gpkg -o out.gpkg; expect_status 0; rm out.gpkg
expect "a complete record that meets everything" "danger=0 fail=0 warning=0 undecided=0"

# A fuse in the neutral is a danger, whatever the figures say.
make_town town.gpkg
change town.gpkg "UPDATE columns SET poles = 'neutral fused' WHERE column_id = 'C2'"
expect "a fuse in the neutral" "danger=1 fail=1 warning=1 undecided=1"

# A stub of live cable that ends at nothing is a danger.
make_town town.gpkg
ogr2ogr -f GPKG -append town.gpkg "$data/stub.geojson" -nln cables -q
expect "a live end" "danger=1 fail=1 warning=1 undecided=1"

# Without the size of a cable and the kind of fuse nothing can be judged.
make_town town.gpkg
change town.gpkg "UPDATE ways SET fuse_a = NULL, fuse_type = NULL"
expect "an unknown way fuse" "danger=0 fail=0 warning=1 undecided=1"
