#!/usr/bin/env bash
# The agreed entries at the top, and files that a reader can hold in mind.
. "$(dirname "$0")/common.sh"
longest=400

for entry in *; do
    case "$entry" in
        CMakeLists.txt | README.md | DEVELOPERS.md | src | include | sample_gis | tests | docs) ;;
        build | build-*) ;; # not committed
        *) complain "top level: $entry is not on the agreed list" ;;
    esac
done
for needed in CMakeLists.txt README.md DEVELOPERS.md docs/CHANGELOG.md; do
    [ -f "$needed" ] || complain "top level: $needed is missing"
done

for file in $(cpp_files src include tests); do
    lines=$(wc -l <"$file")
    [ "$lines" -le $longest ] || complain "$file: $lines lines, more than $longest"
done

for file in $(cpp_files include); do
    grep -qx '#pragma once' "$file" || complain "$file: no #pragma once"
done
complain_each "unfinished work in a comment" < <(cpp_files src include tests | tr '\n' '\0' |
    xargs -0 -r grep -nE '\b(TODO|FIXME|XXX)\b' || true)
verdict
