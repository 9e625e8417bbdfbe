// One line of an oracle file: a quantity that the program computes, what a published source says
// it is, how closely they must agree, and the source.
//
//     zs_limit "BS 88-2" 10 5 | 6.8 | print 0.05 | BS 7671:2018 table 41.4 (from memory)
//
// First part: a call and its arguments, parted by blanks; quote an argument that holds blanks.
// Tolerance: `exact`; `print H`, the source's rounding, H half its last digit; `abs A`; `rel P%`.
// Blank lines and lines that start with # do not count. Expected values come from the source, never
// from this program or its tables.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace loopwalk::oracle {

/// Computes a quantity from the arguments. Throws std::runtime_error if it cannot.
using Call = std::function<double(const std::vector<std::string>& arguments)>;
using Calls = std::map<std::string, Call, std::less<>>;

/// The quantities that the catalogue gives; each is described where it is defined.
[[nodiscard]] Calls catalogue_calls();

enum class LineKind { blank, agrees, complaint };

struct LineResult {
    LineKind kind = LineKind::blank;
    std::string complaint; ///< why the line fails
};

[[nodiscard]] LineResult check_line(std::string_view line, const Calls& calls);

} // namespace loopwalk::oracle
