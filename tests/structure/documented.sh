#!/usr/bin/env bash
# Every public declaration has a comment: what it is, its unit, what is null or thrown. What is exempt
# stands at the head of documented.py.
here=$(cd "$(dirname "$0")" && pwd)
. "$here/common.sh"
complain_each "no comment" < <(python3 "$here/documented.py" include 2>&1 >/dev/null || true)
verdict
