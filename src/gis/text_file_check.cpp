#include "text_file_check.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <vector>

namespace loopwalk::gis {

namespace {

constexpr std::array<std::string_view, 4> kSeparators = {",", ";", "\t", "|"};

/// Follows the rows of separated values: cells may be quoted, and hold ends of lines then.
class Rows {
  public:
    void take(const char* from, const char* to) {
        for (; from != to; ++from) {
            take(*from);
        }
    }
    [[nodiscard]] std::string fault() const {
        if (m_quoted) {
            return "it ends within a quoted cell";
        }
        const bool is_cut = m_rows > 0 && !m_blank && most(m_first) > cells_as_first();
        return is_cut ? "its last row ends after " + std::to_string(cells_as_first() + 1) + " of " +
                            std::to_string(most(m_first) + 1) + " cells, without an end of line"
                      : std::string();
    }

  private:
    using Counts = std::array<std::size_t, kSeparators.size()>;

    void take(char c) {
        if (m_quoted) { // a quote within the cell stands there twice: it ends and begins anew
            m_quoted = c != '"';
            m_at_start = c == '"';
            return;
        }
        if (c == '"' && m_at_start) {
            m_quoted = true;
            m_blank = false;
        } else if (c == '\n') {
            m_first = m_rows++ == 0 ? m_now : m_first;
            m_now = {};
            m_blank = true;
            m_at_start = true;
        } else if (c != '\r' && c != ' ') {
            m_blank = false;
            m_at_start = is_separator(c);
        }
    }
    /// Also counts it.
    bool is_separator(char c) {
        for (std::size_t i = 0; i < kSeparators.size(); ++i) {
            if (kSeparators[i].front() == c) {
                ++m_now[i];
                return true;
            }
        }
        return false;
    }
    /// The separator is the commonest of the first row.
    [[nodiscard]] static std::size_t most(const Counts& counts) {
        return *std::max_element(counts.begin(), counts.end());
    }
    [[nodiscard]] std::size_t cells_as_first() const {
        return m_now[static_cast<std::size_t>(std::max_element(m_first.begin(), m_first.end()) -
                                              m_first.begin())];
    }

    Counts m_first{};
    Counts m_now{};
    std::uint64_t m_rows = 0;
    bool m_quoted = false;
    bool m_blank = true;
    bool m_at_start = true; ///< of a cell: only there a quote means anything
};

} // namespace

bool is_text_ending(std::string_view ending) noexcept {
    constexpr std::array<std::string_view, 11> kEndings = {
        "csv",    "tsv", "json", "geojson", "geojsonl", "geojsons",
        "ndjson", "gml", "xml",  "kml",     "gpx"};
    return std::find(kEndings.begin(), kEndings.end(), ending) != kEndings.end();
}

std::string fault_in_text(std::istream& file, std::string_view ending) {
    constexpr std::size_t kBlock = std::size_t{1} << 20U;
    const bool has_rows = ending == "csv" || ending == "tsv";
    std::vector<char> block(kBlock);
    std::uint64_t done = 0;
    Rows rows;
    while (file.read(block.data(), static_cast<std::streamsize>(kBlock)) || file.gcount() > 0) {
        const char* end = block.data() + file.gcount();
        const char* zero = std::find(static_cast<const char*>(block.data()), end, '\0');
        if (zero != end) {
            return "its byte " +
                   std::to_string(done + static_cast<std::uint64_t>(zero - block.data())) +
                   " is 0, which no text holds: it is damaged, or not in UTF-8";
        }
        if (has_rows) {
            rows.take(block.data(), end);
        }
        done += static_cast<std::uint64_t>(file.gcount());
    }
    if (file.bad()) {
        return "it cannot be read after byte " + std::to_string(done);
    }
    return has_rows ? rows.fault() : std::string();
}

} // namespace loopwalk::gis
