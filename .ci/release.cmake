# cmake -C .ci/release.cmake -S . -B build/release -G Ninja
set(CMAKE_BUILD_TYPE Release CACHE STRING "")
set(CMAKE_CXX_COMPILER g++ CACHE STRING "")
set(LOOPWALK_WERROR ON CACHE BOOL "")
