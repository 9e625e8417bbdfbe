#!/usr/bin/env bash
# Runs clang-tidy (.clang-tidy) over src, or over the files named. Ends with one line that says how
# it went. BUILD is a configured build folder (default build/release).
set -euo pipefail
root=$(cd "$(dirname "$0")/.." && pwd)
cd "$root"
build=${BUILD:-build/release}
[ -f "$build/compile_commands.json" ] ||
    { echo "tidy: $build is not configured; see DEVELOPERS.md" >&2; exit 2; }

if [ $# -gt 0 ]; then files=("$@"); else mapfile -t files < <(find src -name '*.cpp' | sort); fi
# Warning options and precompiled headers of GCC mean nothing to clang.
tidy=(clang-tidy-14 --quiet -p "$build" --extra-arg=-Wno-unknown-warning-option)
if printf '%s\0' "${files[@]}" | xargs -0 -n 1 -P "$(nproc)" "${tidy[@]}" 2>/dev/null; then
    echo "tidy: ${#files[@]} files, nothing to complain of"
else
    echo "tidy: complaints in the files above" >&2
    exit 1
fi
