# The summary for machines: counts agree with the layers, it goes where it is asked to, whole or not.
. "$(dirname "$0")/../common.sh"

ask() { python3 -c "import json, sys; print(eval(sys.argv[2], {'s': json.load(open(sys.argv[1]))}))" "$@"; }
same() { [ "$2" = "$3" ] || fail "$1: $2, not $3"; }

make_town town.gpkg
change town.gpkg "UPDATE columns SET poles = 'neutral fused' WHERE column_id = 'C2'"

loopwalk check town.gpkg -o out.gpkg --json summary.json; expect_status 0
prints "Columns in service"
columns=$(sqlite3 out.gpkg "SELECT count(*) FROM columns")
same "columns" "$(ask summary.json "s['columns']['in_service']")" "$columns"
same "verdicts" "$(ask summary.json "sum(s['columns']['by_verdict'].values())")" "$columns"
same "feeds" "$(ask summary.json "sum(s['columns']['fed_from'].values())")" "$columns"
same "findings" "$(ask summary.json "sum(r['count'] for r in s['findings']['by_rule'])")" \
    "$(sqlite3 out.gpkg "SELECT count(*) FROM findings")"
same "danger first" "$(ask summary.json "s['look_first'][0]['rule']")" fuse-in-neutral
same "output" "$(ask summary.json "s['output']")" out.gpkg
same "cautions" "$(ask summary.json "'lamp off in daylight' in ' '.join(s['cautions'])")" True

# A dash: standard output, in place of the text; also when quiet.
for quiet in "" --quiet; do
    loopwalk check town.gpkg -o out.gpkg --overwrite --json - $quiet; expect_status 0
    cmp -s "$work/.out" summary.json || fail "standard output differs from the file"
done

# A file that is there stays, unless --overwrite; the layers are not written either.
rm out.gpkg
echo mine >summary.json
loopwalk check town.gpkg -o out.gpkg --json summary.json; expect_status 4
says "summary.json.*exists"
is_plain_error
same "the file" "$(cat summary.json)" mine
[ ! -e out.gpkg ] || fail "out.gpkg was written"
loopwalk check town.gpkg -o out.gpkg --json town.gpkg --overwrite; expect_status 4
says "town.gpkg.*input"
loopwalk check town.gpkg -o out.gpkg --json nowhere/summary.json; expect_status 4
says "folder \"nowhere\" does not exist"
loopwalk check town.gpkg -o out.gpkg --json summary.json --overwrite; expect_status 4
says "summary.json.*not an earlier summary"
same "the file" "$(cat summary.json)" mine
rm summary.json
loopwalk check town.gpkg -o out.gpkg --json summary.json; expect_status 0
loopwalk check town.gpkg -o out.gpkg --json summary.json --overwrite; expect_status 0
same "columns again" "$(ask summary.json "s['columns']['in_service']")" "$columns"
