#!/usr/bin/env bash
# What the program may say. No text of it calls a real thing safe, dead, isolated, compliant or
# certified; the fixed cautions of cautions.txt are the only exceptions. No committed file names
# the path of one machine.
. "$(dirname "$0")/common.sh"
cautions=$(dirname "$(realpath "$0")")/cautions.txt

# String literals as "FILE:LINE:literal", without includes and comments.
literals() {
    code "$@" | grep -vE '^[^:]+:[0-9]+:[[:space:]]*#[[:space:]]*include' |
        awk '{
            match($0, /^[^:]+:[0-9]+:/)
            place = substr($0, 1, RLENGTH)
            text = substr($0, RLENGTH + 1)
            while (match(text, /"(\\.|[^"\\])*"/)) {
                print place substr(text, RSTART, RLENGTH)
                text = substr(text, RSTART + RLENGTH)
            }
        }'
}

mapfile -t files < <(cpp_files src include)
complain_each "word that must not be said" < <(literals "${files[@]}" |
    grep -viFf "$cautions" |
    grep -iE ':.*(^|[^a-z])(safe|safely|dead|isolated|compliant|certified)([^a-z]|$)' || true)

tracked() {
    git ls-files --cached --others --exclude-standard 2>/dev/null ||
        find . -type f -not -path './build*' -not -path './.git/*'
}
complain_each "path of one machine" < <(tracked | tr '\n' '\0' |
    xargs -0 -r grep -nIE '(^|[^a-zA-Z0-9._$}/-])/(work|root|farm|home|tmp/bash_jobs)/' -- 2>/dev/null |
    grep -v '^tests/structure/words.sh:' | grep -v '^tests/structure/refuses.sh:' | cut -c1-160 || true)
verdict
