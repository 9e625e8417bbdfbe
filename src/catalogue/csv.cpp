#include "csv.hpp"

#include "loopwalk/base/error.hpp"

namespace loopwalk::catalogue {

namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

class CsvReader {
  public:
    CsvReader(std::string_view text, const std::string& file) : m_text(text), m_file(file) {}

    std::vector<CsvRow> rows() {
        std::vector<CsvRow> result;
        while (m_at < m_text.size()) {
            CsvRow row = next_row();
            if (row.fields.size() > 1 || !row.fields[0].empty()) {
                result.push_back(std::move(row));
            }
        }
        return result;
    }

  private:
    CsvRow next_row() {
        CsvRow row{m_line, {}};
        row.fields.push_back(next_field());
        while (m_at < m_text.size() && m_text[m_at] == ',') {
            ++m_at;
            row.fields.push_back(next_field());
        }
        end_line();
        return row;
    }

    std::string next_field() {
        if (m_at < m_text.size() && m_text[m_at] == '"') {
            return quoted_field();
        }
        std::string field;
        while (!at_end_of_field()) {
            if (m_text[m_at] == '"') {
                fail(m_line, "has a quote in the middle of a field; put the whole field in quotes "
                             "and double the quotes inside it");
            }
            field += m_text[m_at++];
        }
        return field;
    }

    std::string quoted_field() {
        const std::size_t first_line = m_line;
        std::string field;
        for (++m_at; m_at < m_text.size(); ++m_at) {
            if (m_text[m_at] == '"') {
                if (m_at + 1 >= m_text.size() || m_text[m_at + 1] != '"') {
                    return close_quote(std::move(field));
                }
                ++m_at; // the second of a doubled quote
            }
            m_line += m_text[m_at] == '\n' ? 1U : 0U;
            field += m_text[m_at];
        }
        fail(first_line, "opens a quote that is never closed");
    }

    std::string close_quote(std::string field) {
        ++m_at;
        if (!at_end_of_field()) {
            fail(m_line, "has text after a closing quote; double the quotes inside a field");
        }
        return field;
    }

    [[nodiscard]] bool at_end_of_field() const noexcept {
        return m_at >= m_text.size() || m_text[m_at] == ',' || at_end_of_line();
    }

    [[nodiscard]] bool at_end_of_line() const noexcept {
        return m_text[m_at] == '\n' || m_text[m_at] == '\r';
    }

    /// One line break; a lone CR counts as one too.
    void end_line() noexcept {
        if (m_at < m_text.size() && m_text[m_at] == '\r') {
            ++m_at;
        }
        if (m_at < m_text.size() && m_text[m_at] == '\n') {
            ++m_at;
        }
        ++m_line;
    }

    [[noreturn]] void fail(std::size_t line, std::string_view what) const {
        throw base::ConfigError(m_file + ", line " + std::to_string(line) + " " +
                                std::string(what));
    }

    std::string_view m_text;
    const std::string& m_file;
    std::size_t m_at = 0;
    std::size_t m_line = 1;
};

} // namespace

std::vector<CsvRow> parse_csv(std::string_view text, const std::string& file) {
    if (text.starts_with(kByteOrderMark)) {
        text.remove_prefix(kByteOrderMark.size());
    }
    return CsvReader(text, file).rows();
}

} // namespace loopwalk::catalogue
