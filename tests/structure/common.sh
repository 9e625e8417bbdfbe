# Sourced by the checks: `complain` notes an offence, `verdict` ends the check.
set -euo pipefail
root=${1:?usage: $0 SOURCE_FOLDER}
cd "$root"
offences=0

complain() {
    echo "$*" >&2
    offences=$((offences + 1))
}

verdict() {
    [ "$offences" -eq 0 ] && exit 0
    echo "$offences offences" >&2
    exit 1
}

# complain_each RULE: one complaint for every line of standard input.
complain_each() {
    local line
    while IFS= read -r line; do
        [ -z "$line" ] || complain "$1: $line"
    done
}

# C++ files below the given folders.
cpp_files() { find "$@" -name '*.[ch]pp' 2>/dev/null | sort; }

# code FILE...: their lines as "FILE:LINE:text", comments cut off.
code() { [ $# -eq 0 ] || awk '{ sub(/(^|[^:])\/\/.*$/, ""); print FILENAME ":" FNR ":" $0 }' "$@"; }
