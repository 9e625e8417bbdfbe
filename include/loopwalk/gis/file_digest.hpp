// What tells whether a file is still the same.
#pragma once

#include <cstdint>
#include <string>

namespace loopwalk::gis {

/// Lower-case hexadecimal SHA-256 of a file and its size. Throws InputError if it cannot be read.
struct FileDigest {
    std::uint64_t size = 0;
    std::string sha256;
    friend bool operator==(const FileDigest&, const FileDigest&) = default;
};
[[nodiscard]] FileDigest digest_file(const std::string& path);

} // namespace loopwalk::gis
