#!/usr/bin/env bash
# A module includes public headers only of itself and of the modules that its link list in
# CMakeLists.txt reaches; private headers lie in its own folder, and those of a group within it in the
# folder of the group or of one named before it ("open/part.hpp").
. "$(dirname "$0")/common.sh"

# "module dependency dependency ..." for each
# loopwalk_module(module [GROUPS ...] [USES ...] [LIBRARIES ...]), and the groups of each module.
declare -A uses groups
while read -r module dependencies; do
    uses[$module]=$dependencies
done < <(sed -nE 's/^loopwalk_module\(([a-z]+)( GROUPS [a-z ]+[a-z])?( USES ([a-z ]+[a-z]))?( LIBRARIES .*)?\)$/\1 \4/p' \
    CMakeLists.txt)
while read -r module list; do
    groups[$module]=$list
done < <(sed -nE 's/^loopwalk_module\(([a-z]+) GROUPS ([a-z ]+[a-z]) USES .*$/\1 \2/p' CMakeLists.txt)
[ ${#uses[@]} -gt 0 ] || complain "CMakeLists.txt: no loopwalk_module line found"

# reachable MODULE: itself and everything below it.
reachable() {
    local seen=" $1 " todo=$1 next dependency
    while [ -n "$todo" ]; do
        next=""
        for dependency in $(for module in $todo; do echo "${uses[$module]:-}"; done); do
            case "$seen" in *" $dependency "*) continue ;; esac
            seen+="$dependency "
            next+=" $dependency"
        done
        todo=$next
    done
    echo "$seen"
}

includes_of() { sed -nE 's,^[[:space:]]*#[[:space:]]*include[[:space:]]*"([^"]+)".*,\1,p' "$1"; }

# in_group FILE MODULE HEADER: the header is of a group that the file may know.
in_group() {
    local own group
    own=${1#"src/$2/"}
    own=${own%%/*} # the name of the file itself where it is of no group: it may know all
    for group in ${groups[$2]:-}; do
        [ "$group/$(basename "$3")" != "$3" ] || [ ! -f "src/$2/$3" ] || return 0
        [ "$group" != "$own" ] || return 1
    done
    return 1
}

check_file() { # FILE MODULE ALLOWED
    local header
    while IFS= read -r header; do
        if [[ $header =~ ^loopwalk/([a-z]+)/ ]]; then
            [[ $3 == *" ${BASH_REMATCH[1]} "* ]] ||
                complain "$1: includes $header, but $2 does not depend on ${BASH_REMATCH[1]}"
        elif [ "${1%%/*}" = include ]; then
            complain "$1: public headers include only public headers, not $header"
        elif [[ $header == */* ]]; then
            in_group "$1" "$2" "$header" ||
                complain "$1: $header is of no group of $2 that this file may know"
        elif [[ $header == *..* ]] || [ ! -f "$(dirname "$1")/$header" ]; then
            complain "$1: $header is neither public nor in the module's own folder"
        fi
    done < <(includes_of "$1")
}

for folder in src/*/ include/loopwalk/*/; do
    [ -d "$folder" ] || continue
    module=$(basename "$folder")
    if [ -z "${uses[$module]+known}" ]; then
        complain "$folder: CMakeLists.txt has no loopwalk_module($module ...)"
        continue
    fi
    allowed=$(reachable "$module")
    for file in $(cpp_files "$folder"); do
        check_file "${file//\/\//\/}" "$module" "$allowed"
    done
done
verdict
