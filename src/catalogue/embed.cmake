# Turns DIR/{cables,devices,curves}.csv into the C++ source OUT. The bytes are written as numbers:
# a string literal has a length limit, and CMake would split the text at semicolons.
set(source "// Written by embed.cmake from the catalogue's CSV files.\n#include <string_view>\n\n")
string(APPEND source "namespace loopwalk::catalogue {\n\n")
foreach(name Cables Devices Curves)
    string(TOLOWER ${name} file)
    file(READ ${DIR}/${file}.csv bytes HEX)
    string(REGEX REPLACE "(................................)" "\\1\n" bytes "${bytes}")
    string(REGEX REPLACE "([0-9a-f][0-9a-f])" "'\\\\x\\1'," bytes "${bytes}")
    string(APPEND source "constexpr char k${name}Bytes[] = {\n${bytes}};\n")
    string(APPEND source "extern const std::string_view k${name}Csv;\n")
    string(APPEND source
        "constexpr std::string_view k${name}Csv(k${name}Bytes, sizeof k${name}Bytes);\n\n")
endforeach()
string(APPEND source "} // namespace loopwalk::catalogue\n")
file(WRITE ${OUT} "${source}")
