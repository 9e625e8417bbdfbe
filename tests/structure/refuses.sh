#!/usr/bin/env bash
# refuses.sh CHECK: the check passes a small clean tree and refuses each tree with one offence.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
check=${1:?usage: $0 CHECK}
tree=$(mktemp -d)
trap 'rm -rf "$tree"' EXIT

clean_tree() {
    rm -rf "${tree:?}"/*
    mkdir -p "$tree"/{src/{base,gis,app},include/loopwalk/{base,gis,app},docs}
    printf 'loopwalk_module(base)\nloopwalk_module(gis USES base LIBRARIES A::B)\n%s\n' \
        'loopwalk_module(app USES gis)' >"$tree/CMakeLists.txt"
    touch "$tree"/{README.md,DEVELOPERS.md,docs/CHANGELOG.md}
    mkdir -p "$tree/src/config"
    printf 'loopwalk_module(config)\n' >>"$tree/CMakeLists.txt"
    printf '#pragma once\n/// Rules.\nenum class Rule {\n    loose_end,\n};\n' >"$tree/include/loopwalk/base/rules.hpp"
    printf '#pragma once\n/// Of the process.\nenum class ExitCode {\n    done = 0,\n};\n' >"$tree/include/loopwalk/base/error.hpp"
    printf 'field_list(AssetLayer layer) {\n    return "main_id* use";\n}\n' >"$tree/src/config/contract_fields.cpp"
    echo 'loose-end' >"$tree/docs/findings.md"
    echo '`main_id`, `use`' >"$tree/docs/data_model.md"
    echo 'status 0, [changes](docs/CHANGELOG.md)' >"$tree/README.md"
    printf '#pragma once\n' | tee "$tree/include/loopwalk/base/b.hpp" >"$tree/include/loopwalk/gis/g.hpp"
    printf '#include "loopwalk/gis/g.hpp"\n#include "loopwalk/base/b.hpp"\n#include "own.hpp"\n%s\n' \
        '#include <iostream>' >"$tree/src/app/a.cpp"
    printf '#pragma once\n' >"$tree/src/app/own.hpp"
    printf '#include <gdal_priv.h>\nauto a = "Prove dead at the point of work.";\n' >"$tree/src/gis/g.cpp"
}

expect() { # STATUS WHAT
    local status=0
    bash "$here/$check.sh" "$tree" >"$tree/.said" 2>&1 || status=$?
    [ "$status" -eq "$1" ] && return
    cat "$tree/.said" >&2
    echo "$check: status $status, not $1, for: $2" >&2
    exit 1
}

refuse() { # FILE TEXT: a clean tree with TEXT added to FILE
    clean_tree
    mkdir -p "$(dirname "$tree/$1")"
    printf '%s\n' "$2" >>"$tree/$1"
    expect 1 "$1: $2"
}

clean_tree
expect 0 "a clean tree"
case "$check" in
    includes)
        refuse src/base/b.cpp '#include "loopwalk/gis/g.hpp"'
        refuse src/gis/h.cpp '  #  include  "loopwalk/app/a.hpp"'
        refuse include/loopwalk/base/c.hpp '#include "loopwalk/app/a.hpp"'
        refuse include/loopwalk/gis/h.hpp '#include "private.hpp"'
        refuse src/gis/h.cpp '#include "../app/own.hpp"'
        refuse src/other/o.cpp 'int a;'
        # A module with groups: each knows those before it, and files beside them know all.
        grouped_tree() {
            clean_tree
            mkdir -p "$tree"/src/input/{open,read}
            echo 'loopwalk_module(input GROUPS open read USES base)' >>"$tree/CMakeLists.txt"
            printf '#pragma once\n' | tee "$tree"/src/input/{open/o,read/r}.hpp >/dev/null
            echo '#include "open/o.hpp"' >"$tree/src/input/read/r.cpp"
            echo '#include "read/r.hpp"' >"$tree/src/input/all.cpp"
        }
        grouped_tree
        expect 0 "a clean tree with groups"
        for offence in 'open/o.cpp read/r.hpp' 'read/s.cpp open/none.hpp' 'all.cpp other/r.hpp'; do
            grouped_tree
            echo "#include \"${offence#* }\"" >>"$tree/src/input/${offence% *}"
            expect 1 "a group: $offence"
        done
        ;;
    libraries)
        for header in gdal.h ogr_api.h cpl_conv.h geos_c.h proj.h geodesic.h sqlite3.h openssl/evp.h \
            toml++/toml.h CLI/CLI.hpp iostream; do
            refuse src/base/b.cpp "#include <$header>"
        done
        refuse src/gis/h.cpp '#include <boost/graph/graph_traits.hpp>'
        refuse include/loopwalk/gis/h.hpp '#include <gdal.h>'
        refuse include/loopwalk/network/h.hpp '#include <boost/graph/graph_traits.hpp>'
        refuse src/network/h.hpp '#include "loopwalk/network/csr.hpp"'
        refuse src/base/b.cpp 'void f() { std::cerr << 1; }'
        refuse src/gis/h.cpp 'void f() { std::printf("x"); }'
        refuse src/gis/h.cpp 'using namespace std;'
        ;;
    words)
        for word in safe Dead isolated compliant certified; do
            refuse src/app/a.cpp "auto a = \"the column is $word\";"
        done
        refuse src/app/a.cpp 'auto a = "a.b"; auto b = "x\" safe";'
        refuse docs/a.md "see /$(printf root)/file"
        ;;
    tree)
        refuse notes.txt 'text'
        refuse src/base/b.cpp "$(yes 'int a;' | head -n 401)"
        refuse include/loopwalk/base/c.hpp 'int a;'
        refuse src/base/b.cpp '// TODO later'
        clean_tree
        rm "$tree/README.md"
        expect 1 "no README.md"
        ;;
    docs)
        refuse docs/a.md '[there](nowhere.md)'
        for document in docs/findings.md docs/data_model.md README.md; do
            clean_tree
            echo 'unused' >"$tree/$document"
            expect 1 "$document says nothing"
        done
        ;;
    documented)
        header=include/loopwalk/base/d.hpp
        refuse $header 'int f();'
        refuse $header '[[nodiscard]] inline int f(int a = {}) noexcept { return a + 1; }'
        refuse $header 'struct S;
struct S {};'
        refuse $header '/// A struct.
struct S { int metres = 0; };'
        refuse $header '/// A struct.
struct S {
    int a = 0, b = 0; ///< metres
    int c;
};'
        refuse $header '/// A class.
class C { public: void run(); private: int m_a; };'
        refuse $header '/// A class.
class C {
  public:
    C(int a, int b);
};'
        refuse $header 'enum class E { one, two };'
        refuse $header 'enum class E {
    one, ///< the first
    two,
};'
        refuse $header 'using A = int; ///< metres

using B = int;'
        refuse $header '// No comment for a reader of the declaration.
template <class T>
T f(T a);'
        refuse $header 'namespace a {
/// Said.
int f();
constexpr int kMost = 3;
}'
        clean_tree
        cat >>"$tree/$header" <<'HEADER'
namespace a {
using b::C;
struct Later;
/// A class; its words.
template <class T>
class D final : public C {
  public:
    explicit D(int a) : m_a(a) {}
    D(int a, int b) : m_a(a + b) {}
    D(const D&) = delete;
    D& operator=(D&&) noexcept;
    ~D() override;
    void stage(int total) override;
    /// Metres.
    [[nodiscard]] int f() const { if (m_a > 0) { return 1; } return 0; }
    friend bool operator==(const D&, const D&) = default;

  private:
    void hidden();
    int m_a; // of no concern
};
/// Several.
enum class E { one, two };
using A = int; ///< metres
using B = int; ///< ohm
/// Most of them, and where they are.
inline constexpr S kMost{1, {2, 3}};
namespace detail {
int g();
}
}
HEADER
        expect 0 "what has its comments, or needs none"
        ;;
    *) echo "no such check: $check" >&2; exit 2 ;;
esac
