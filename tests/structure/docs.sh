#!/usr/bin/env bash
# The documents name every rule that can be found, every field that is read and every exit status;
# links between them lead somewhere.
. "$(dirname "$0")/common.sh"

known_in() { # DOCUMENT WHAT: each word of standard input stands in it
    local word
    while IFS= read -r word; do
        grep -qE "(^|[^a-z_-])$word([^a-z_-]|$)" "$1" 2>/dev/null || complain "$1: nothing on $2 $word"
    done
}

known_in docs/findings.md rule < <(sed -nE '/^enum class Rule/,/^\}/s/^    ([a-z_]+),$/\1/p' \
    include/loopwalk/base/rules.hpp | tr _ -)
known_in docs/data_model.md field < <(sed -nE '/field_list\(AssetLayer layer\)/,/^\}/p' \
    src/config/contract_fields.cpp | grep -oE '"[^"]+"' | grep -oE '[a-z][a-z0-9_]*' | sort -u)
known_in README.md "exit status" < <(sed -nE '/^enum class ExitCode/,/^\}/s/.* = ([0-9]+),$/\1/p' \
    include/loopwalk/base/error.hpp)

for document in README.md DEVELOPERS.md $(find docs -name '*.md'); do
    while IFS= read -r link; do
        [ -e "$(dirname "$document")/$link" ] || complain "$document: the link to $link leads nowhere"
    done < <(grep -oE '\]\([^)#:]+[)#]' "$document" | sed -E 's/^\]\(//; s/[)#]$//' || true)
done
verdict
