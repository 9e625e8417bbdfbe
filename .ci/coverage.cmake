# cmake -C .ci/coverage.cmake -S . -B build/coverage -G Ninja, then build, ctest, and
# gcovr -r . build/coverage (package gcovr).
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_CXX_COMPILER g++ CACHE STRING "")
set(CMAKE_CXX_FLAGS "--coverage -O0" CACHE STRING "")
# Counters of object files belong to the compilation that wrote them: no cached ones.
set(CMAKE_CXX_COMPILER_LAUNCHER "env;CCACHE_DISABLE=1" CACHE STRING "")
