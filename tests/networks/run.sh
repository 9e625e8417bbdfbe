#!/usr/bin/env bash
# run.sh simulators|laws|mains|traces|survey COUNT: random networks through the program, and through ngspice
# and scipy, against laws, through networkx, or with every value tried. LW_TEST_SEED replays a seed.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
: "${LOOPWALK:?the program}" "${CATALOGUE:?folder of the catalogue}"
export PYTHONDONTWRITEBYTECODE=1
command -v ngspice >/dev/null || { echo "SKIPPED: ngspice is missing" >&2; exit 77; }
for python in python3 /usr/bin/python3; do
    if "$python" -c 'import networkx, scipy.sparse' 2>/dev/null; then
        exec "$python" "$here/$1.py" "${LW_TEST_SEED:-1}" "$2" "$LOOPWALK" "$CATALOGUE"
    fi
done
echo "SKIPPED: no python3 that has scipy and networkx" >&2
exit 77
