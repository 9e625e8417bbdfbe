#!/usr/bin/env bash
# No byte of the records changes, and no file is left beside them, whatever state they are in.
. "$(dirname "$0")/../common.sh"

# state FOLDER: names and digests of all in it.
state() { (cd "$1" && find . -type f -printf '%f\n' | sort | xargs sha256sum); }

# A program that was killed leaves its last commits in a log beside the file.
make_town live.gpkg
mkdir left
python3 - <<'PY'
import os, shutil, sqlite3
town = sqlite3.connect("live.gpkg", isolation_level=None)
town.execute("PRAGMA journal_mode = wal")
town.execute("CREATE TABLE note (n)")  # no trigger of the format is in its way
town.execute("INSERT INTO note VALUES (1)")
assert os.path.getsize("live.gpkg-wal") > 0
for end in ("", "-wal"):
    shutil.copy("live.gpkg" + end, "left/town.gpkg" + end)
PY
cat >job.toml <<'JOB'
[data]
dataset = "left/town.gpkg"
JOB
before=$(state left)
[ "$(wc -l <<<"$before")" = 2 ] || fail "no log was left: $before"
for given in left/town.gpkg job.toml; do
    loopwalk check "$given" -o out.gpkg --overwrite; expect_status 0
    [ "$(state left)" = "$before" ] || fail "check $given changed its input: $(state left)"
done
loopwalk explain left/town.gpkg C4; expect_status 0
[ "$(state left)" = "$before" ] || fail "explain changed its input: $(state left)"
loopwalk draft left/town.gpkg -o drafted.toml; expect_status 0
[ "$(state left)" = "$before" ] || fail "draft changed its input: $(state left)"
# Also where it ends in an error after the file was opened.
printf '%s\n' '[data]' 'dataset = "left/town.gpkg"' '[mains]' 'layer = "none"' >wrong.toml
loopwalk check wrong.toml -o wrong.gpkg; expect_status 3
[ "$(state left)" = "$before" ] || fail "a failed check changed its input: $(state left)"
# Results are input of compare.
python3 - <<'PY'
import shutil, sqlite3
result = sqlite3.connect("out.gpkg", isolation_level=None)
result.execute("PRAGMA journal_mode = wal")
result.execute("CREATE TABLE note (n)")
for end in ("", "-wal"):
    shutil.copy("out.gpkg" + end, "left/town.gpkg" + end)
PY
before=$(state left)
loopwalk compare left/town.gpkg left/town.gpkg; expect_status 0
[ "$(state left)" = "$before" ] || fail "compare changed its input: $(state left)"
