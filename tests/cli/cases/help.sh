# Help and version wherever they are asked for, on standard output, with status 0.
. "$(dirname "$0")/../common.sh"

loopwalk --help; expect_status 0; says_nothing
prints 'check' '--version'
loopwalk check --help; expect_status 0; says_nothing
prints 'JOB' '--overwrite' '--quiet' '--fail-on' 'danger'
# The exit statuses stand in the help.
prints '\b70\b' '\b130\b'

for arguments in "--version" "check --version"; do
    # shellcheck disable=SC2086
    loopwalk $arguments; expect_status 0; says_nothing
    prints 'loopwalk [0-9]+\.[0-9]+\.[0-9]+' 'GDAL 3\.' 'GEOS 3\.' 'PROJ 9\.'
done
