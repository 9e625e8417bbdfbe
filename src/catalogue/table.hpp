// A catalogue file as headings and rows. Each cell knows its file, line and heading, so that a
// fault in it can be told to whoever wrote the file.
#pragma once

#include "loopwalk/base/quantity.hpp"

#include "csv.hpp"
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace loopwalk::catalogue {

class Table {
  public:
    /// Headings are compared without case and outer blanks; those not in `needed` are optional.
    /// Throws ConfigError if a needed heading is missing, one is repeated, or a row has more or
    /// fewer fields than there are headings.
    Table(std::string_view text, std::string file, const std::vector<std::string>& needed);

    [[nodiscard]] std::size_t row_count() const noexcept { return m_rows.size() - 1; }
    [[nodiscard]] std::size_t line(std::size_t row) const { return m_rows[row + 1].line; }
    [[nodiscard]] const std::string& file() const noexcept { return m_file; }
    /// The field without outer blanks; empty also if there is no such column.
    [[nodiscard]] std::string_view field(std::size_t row, std::string_view heading) const;

  private:
    [[nodiscard]] std::optional<std::size_t> column(std::string_view heading) const noexcept;
    void check_headings(const std::vector<std::string>& needed) const;
    void check_widths() const;

    std::string m_file;
    std::vector<CsvRow> m_rows; // the first holds the headings
};

/// One row of a table. All functions throw ConfigError naming file, line and heading.
class Row {
  public:
    Row(const Table& table, std::size_t index) noexcept : m_table(table), m_index(index) {}

    [[nodiscard]] std::string_view text(std::string_view heading) const {
        return m_table.field(m_index, heading);
    }
    /// Text that must be there.
    [[nodiscard]] std::string needed_text(std::string_view heading) const;
    /// A finite number; none if the field is blank.
    [[nodiscard]] std::optional<double> number(std::string_view heading) const;
    [[nodiscard]] double needed_number(std::string_view heading) const;
    /// A number above zero.
    [[nodiscard]] std::optional<double> positive(std::string_view heading) const;
    [[nodiscard]] double needed_positive(std::string_view heading) const;
    /// A number above zero as an optional quantity.
    template <class Q>
    [[nodiscard]] base::Maybe<Q> quantity(std::string_view heading) const {
        const std::optional<double> value = positive(heading);
        return value ? base::Maybe<Q>(Q(*value)) : base::Maybe<Q>();
    }
    /// The position of a coded word among `words`; none if the field is blank.
    [[nodiscard]] std::optional<std::size_t> word(std::string_view heading,
                                                  const std::vector<std::string>& words) const;

    [[noreturn]] void fail(std::string_view heading, std::string_view what) const;
    [[noreturn]] void fail(std::string_view what) const;
    [[nodiscard]] std::size_t line() const { return m_table.line(m_index); }

  private:
    const Table& m_table;
    std::size_t m_index;
};

} // namespace loopwalk::catalogue
