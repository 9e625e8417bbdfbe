# Optimised, warnings are errors. -O2: at -O3 GCC 12 warns of overflows in std::string that are not
# there, and the program is no faster for it.
set(CMAKE_BUILD_TYPE Release CACHE STRING "")
set(CMAKE_CXX_COMPILER g++ CACHE STRING "")
set(CMAKE_CXX_FLAGS_RELEASE "-O2 -DNDEBUG" CACHE STRING "")
set(LOOPWALK_WERROR ON CACHE BOOL "")
