# A command line that is not understood: status 2, nothing done, what to do instead.
. "$(dirname "$0")/../common.sh"

loopwalk; expect_status 2; is_plain_error; says '--help|usage'
loopwalk chekc town.gpkg; expect_status 2; is_plain_error; says 'chekc' '--help|check'
loopwalk check; expect_status 2; is_plain_error; says 'JOB' '--help'
loopwalk check town.gpkg --overwite; expect_status 2; is_plain_error; says 'overwite' '--help'
loopwalk check one.gpkg two.gpkg; expect_status 2; is_plain_error; says 'two\.gpkg'
loopwalk check town.gpkg --fail-on everything; expect_status 2; is_plain_error
says 'fail-on' 'danger' 'undecided'
loopwalk check town.gpkg --fail-on; expect_status 2; is_plain_error; says 'fail-on'
loopwalk check town.gpkg -o; expect_status 2; is_plain_error
