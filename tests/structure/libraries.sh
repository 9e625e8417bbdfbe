#!/usr/bin/env bash
# Each outside library is known to one module alone, and only the program's front prints.
. "$(dirname "$0")/common.sh"
mapfile -t files < <(cpp_files src include)
all_code=$(code "${files[@]}")

# only_in ALLOWED RULE PATTERN: lines whose code matches PATTERN from its start on lie in files
# whose path matches ALLOWED.
only_in() {
    complain_each "$2" < <(grep -E "^[^:]+:[0-9]+:[[:space:]]*($3)" <<<"$all_code" |
        grep -vE "^($1)" || true)
}

include='#[[:space:]]*include[[:space:]]*[<"]'
front='src/(app/|main\.cpp:)'

only_in 'src/gis/' "only src/gis knows GDAL, GEOS, PROJ, SQLite and OpenSSL" \
    "$include(gdal|ogr|cpl|geos|proj|geodesic|sqlite3|openssl)[^\"/>]*[/.>]"
# The graph type that both share has a header of its own, for .cpp files alone.
only_in 'src/(base|network|trace)/[^/:]+\.cpp:|include/loopwalk/network/csr\.hpp:|src/compare/shift\.cpp:' \
    "only .cpp files of src/base, src/network and src/trace, and src/compare/shift.cpp, know Boost" \
    "${include}(boost/|loopwalk/network/csr)"
only_in 'src/config/' "only src/config knows toml++" "${include}toml"
only_in 'src/(output|sheet|compare)/' "only src/output, src/sheet and src/compare know the JSON library" "${include}nlohmann/"
only_in 'src/suspects/' "only src/suspects knows Eigen" "${include}(unsupported/)?Eigen/"
only_in 'src/app/' "only src/app knows CLI11" "${include}CLI/"
only_in "$front" "only src/app and src/main.cpp print" "${include}(iostream|print)>"
only_in "$front" "only src/app and src/main.cpp print" '(.*[^a-zA-Z_])?std::(cout|cerr|clog)'
only_in "$front" "only src/app and src/main.cpp print" \
    '(.*[^a-zA-Z_])?(f?printf|f?puts|putchar|perror)[[:space:]]*\('
only_in 'nowhere' "no using namespace" 'using namespace'
verdict
