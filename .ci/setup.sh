#!/usr/bin/env bash
# Installs what building (and with "test" also testing) needs on Debian 12, and only what is
# missing: with all there it does nothing and needs neither network nor root.
#   .ci/setup.sh          to build and run the program
#   .ci/setup.sh test     also to test it
set -euo pipefail

packages=(build-essential cmake ninja-build ccache pkg-config libgdal-dev gdal-bin libgeos-dev
    libproj-dev proj-bin libboost-dev libcli11-dev libtomlplusplus-dev nlohmann-json3-dev libssl-dev libsqlite3-dev
    libeigen3-dev)
if [ "${1:-}" = test ]; then
    packages+=(sqlite3 python3 libgtest-dev clang-14 clang-tidy-14 libclang-rt-14-dev llvm-14 time ngspice
        python3-scipy python3-networkx postgresql postgresql-postgis)
fi

if ! command -v dpkg-query >/dev/null; then
    echo "setup: not a Debian system, nothing installed." \
        "Install the equivalents of: ${packages[*]}" >&2
    exit 0
fi

missing=()
for package in "${packages[@]}"; do
    status=$(dpkg-query -W -f='${db:Status-Status}\n' "$package" 2>/dev/null || true)
    grep -qx installed <<<"$status" || missing+=("$package")
done
[ ${#missing[@]} -eq 0 ] && exit 0

as_root=()
if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null; then
        echo "setup: missing packages, and neither root nor sudo to install them." \
            "As root run: apt-get install ${missing[*]}" >&2
        exit 1
    fi
    as_root=(sudo)
fi

log=$(mktemp)
trap 'rm -f "$log"' EXIT
echo "setup: installing ${missing[*]}" >&2
apt=("${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -q -y)
# A stale package list is the usual reason for a failed download, so it is renewed first; if that
# fails the lists on disk may still do.
"${apt[@]}" update >"$log" 2>&1 </dev/null || true
if ! "${apt[@]}" install --no-install-recommends "${missing[@]}" >>"$log" 2>&1 </dev/null; then
    tail -n 20 "$log" >&2
    echo "setup: apt-get could not install the packages above; is a package mirror reachable?" \
        "Install them by hand and run this again: ${missing[*]}" >&2
    exit 1
fi
