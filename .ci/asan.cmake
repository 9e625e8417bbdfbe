# cmake -C .ci/asan.cmake -S . -B build/asan -G Ninja
# Address, leak and undefined-behaviour sanitizers; the first finding ends the program.
set(CMAKE_BUILD_TYPE RelWithDebInfo CACHE STRING "")
set(CMAKE_CXX_COMPILER clang++-14 CACHE STRING "")
set(CMAKE_CXX_FLAGS "-D_GLIBCXX_ASSERTIONS" CACHE STRING "")
set(CMAKE_CXX_FLAGS_RELWITHDEBINFO "-O1 -g1" CACHE STRING "")
set(LOOPWALK_ASAN ON CACHE BOOL "")
set(LOOPWALK_WERROR ON CACHE BOOL "")
