#!/usr/bin/env bash
# Builds and tests.
#   tests/run.sh            GCC release with warnings as errors: every test; clang with address,
#                           leak and undefined-behaviour sanitizers: all but the slow ones
#   tests/run.sh --quick    the GCC build, tests labelled quick
# Ends with the summary of ctest; its exit status is that of ctest.
set -euo pipefail
root=$(cd "$(dirname "$0")/.." && pwd)
cd "$root"

quick=no
case "${1:-}" in
    "") ;;
    --quick) quick=yes ;;
    *) echo "usage: tests/run.sh [--quick]" >&2; exit 2 ;;
esac

.ci/setup.sh test

# Tests see no network, no colours and the same options of the sanitizers everywhere.
export PROJ_NETWORK=OFF NO_COLOR=1 CTEST_OUTPUT_ON_FAILURE=1
export CCACHE_NOHASHDIR=1 CCACHE_SLOPPINESS=pch_defines,time_macros
export ASAN_OPTIONS=detect_leaks=1:strict_string_checks=1:check_initialization_order=1
export LSAN_OPTIONS="suppressions=$root/.ci/lsan.supp:print_suppressions=0"
export UBSAN_OPTIONS=print_stacktrace=1
jobs=$(nproc)

build() {
    echo "== build $1" >&2
    cmake -C ".ci/$1.cmake" -S . -B "build/$1" -G Ninja -DLOOPWALK_TESTS=ON >"build/$1.log" 2>&1 ||
        { cat "build/$1.log" >&2; exit 1; }
    cmake --build "build/$1" -j "$jobs" -- --quiet
}

mkdir -p build
build release
if [ "$quick" = yes ]; then
    exec ctest --test-dir build/release -L quick -j "$jobs"
fi
build asan

# One ctest run over both builds, so that one summary tells of everything.
mkdir -p build/all
printf 'subdirs("%s" "%s")\n' "$root/build/release" "$root/build/asan" >build/all/CTestTestfile.cmake
exec ctest --test-dir build/all -j "$jobs"
