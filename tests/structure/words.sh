#!/usr/bin/env bash
# What the program may say. No text of it calls a real thing safe, dead, isolated, compliant or
# certified; the fixed cautions of cautions.txt are the only exceptions. No committed file names
# the path of one machine.
. "$(dirname "$0")/common.sh"
cautions=$(dirname "$(realpath "$0")")/cautions.txt

# String literals of a file as "FILE:LINE:literal", without includes and comments.
literals() {
    code "$1" | grep -vE ':[0-9]+:[[:space:]]*#[[:space:]]*include' |
        sed -nE 's/^([^:]+:[0-9]+:)(.*)$/\1\t\2/p' |
        while IFS=$'\t' read -r place text; do
            grep -oE '"(\\.|[^"\\])*"' <<<"$text" | sed "s|^|$place|" || true
        done
}

for file in $(cpp_files src include); do
    grep -qiE 'safe|dead|isolated|compliant|certified' "$file" || continue
    complain_each "word that must not be said" < <(literals "$file" |
        grep -viFf "$cautions" |
        grep -iE '(^|[^a-z])(safe|safely|dead|isolated|compliant|certified)([^a-z]|$)' || true)
done

tracked() {
    git ls-files --cached --others --exclude-standard 2>/dev/null ||
        find . -type f -not -path './build*' -not -path './.git/*'
}
complain_each "path of one machine" < <(tracked | tr '\n' '\0' |
    xargs -0 -r grep -nIE '(^|[^a-zA-Z0-9._$}/-])/(work|root|farm|home|tmp/bash_jobs)/' -- 2>/dev/null |
    grep -v '^tests/structure/words.sh:' | grep -v '^tests/structure/refuses.sh:' | cut -c1-160 || true)
verdict
