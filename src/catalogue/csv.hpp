// Comma-separated text (RFC 4180) as rows of fields that know their line: quoted fields, doubled
// quotes, LF or CRLF, a byte-order mark before the first heading. Empty lines are skipped.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace loopwalk::catalogue {

struct CsvRow {
    std::size_t line = 0; ///< line of the file on which the row begins, from 1
    std::vector<std::string> fields;
};

/// All rows, the headings first. Throws ConfigError naming `file` and line for a quote that is
/// never closed or that stands in the middle of a field.
[[nodiscard]] std::vector<CsvRow> parse_csv(std::string_view text, const std::string& file);

} // namespace loopwalk::catalogue
