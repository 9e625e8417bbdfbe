# JOB and -o count from the current folder, paths in a job file from the file's own.
. "$(dirname "$0")/../common.sh"
mkdir -p records jobs results
make_town records/town.gpkg
printf '%s\n' '[data]' 'dataset = "../records/town.gpkg"' '[output]' 'path = "../results/a.gpkg"' \
    >jobs/street.toml

loopwalk check jobs/street.toml; expect_status 0; exists results/a.gpkg
cd results
loopwalk check ../jobs/street.toml -o b.gpkg; expect_status 0; exists b.gpkg
cd ..
# Nothing in the output tells where the folders lie.
if grep -qaF "$work" results/a.gpkg; then
    fail "the output names the folder of the run"
fi
# A job without an output path writes <stem>_checked.gpkg.
printf '%s\n' '[data]' 'dataset = "../records/town.gpkg"' >jobs/plain.toml
loopwalk check jobs/plain.toml; expect_status 0; exists plain_checked.gpkg
