#include "table.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include <utility>

namespace loopwalk::catalogue {

namespace {

std::string quoted(std::string_view text) {
    return "\"" + std::string(text) + "\"";
}

} // namespace

Table::Table(std::string_view text, std::string file, const std::vector<std::string>& needed)
    : m_file(std::move(file)), m_rows(parse_csv(text, m_file)) {
    if (m_rows.empty()) {
        throw base::ConfigError(m_file + " is empty; its first line must hold the headings " +
                                base::listed(needed, needed.size()));
    }
    check_headings(needed);
    check_widths();
}

std::optional<std::size_t> Table::column(std::string_view heading) const noexcept {
    const std::vector<std::string>& headings = m_rows[0].fields;
    for (std::size_t i = 0; i < headings.size(); ++i) {
        if (base::same_word(headings[i], heading)) {
            return i;
        }
    }
    return std::nullopt;
}

void Table::check_headings(const std::vector<std::string>& needed) const {
    const std::vector<std::string>& headings = m_rows[0].fields;
    for (const std::string& heading : needed) {
        if (!column(heading)) {
            throw base::ConfigError(m_file + " has no heading " + quoted(heading) +
                                    "; nearest: " + quoted(base::nearest_word(heading, headings)));
        }
    }
    for (std::size_t i = 0; i < headings.size(); ++i) {
        if (!base::trimmed(headings[i]).empty() && column(headings[i]) != i) {
            throw base::ConfigError(m_file + " has the heading " + quoted(headings[i]) +
                                    " twice; remove one of the columns");
        }
    }
}

void Table::check_widths() const {
    const std::size_t expected = m_rows[0].fields.size();
    for (const CsvRow& row : m_rows) {
        if (row.fields.size() != expected) {
            throw base::ConfigError(m_file + ", line " + std::to_string(row.line) + " has " +
                                    std::to_string(row.fields.size()) + " fields, the headings " +
                                    std::to_string(expected) +
                                    "; put a text that holds a comma in quotes");
        }
    }
}

std::string_view Table::field(std::size_t row, std::string_view heading) const {
    const std::optional<std::size_t> index = column(heading);
    return index ? base::trimmed(m_rows[row + 1].fields[*index]) : std::string_view();
}

std::string Row::needed_text(std::string_view heading) const {
    const std::string_view value = text(heading);
    if (value.empty()) {
        fail(heading, "is blank and must not be");
    }
    return std::string(value);
}

std::optional<double> Row::number(std::string_view heading) const {
    const std::string_view value = text(heading);
    if (value.empty()) {
        return std::nullopt;
    }
    const std::optional<double> parsed = base::parse_number(value);
    if (!parsed) {
        fail(heading, quoted(value) + " is not a number; write it plainly, like 3.08");
    }
    return parsed;
}

double Row::needed_number(std::string_view heading) const {
    const std::optional<double> value = number(heading);
    if (!value) {
        fail(heading, "is blank; it needs a number");
    }
    return *value;
}

std::optional<double> Row::positive(std::string_view heading) const {
    const std::optional<double> value = number(heading);
    if (value && !(*value > 0.0)) {
        fail(heading, base::number_text(*value) + " must be above 0");
    }
    return value;
}

double Row::needed_positive(std::string_view heading) const {
    const std::optional<double> value = positive(heading);
    if (!value) {
        fail(heading, "is blank; it needs a number above 0");
    }
    return *value;
}

std::optional<std::size_t> Row::word(std::string_view heading,
                                     const std::vector<std::string>& words) const {
    const std::string_view value = text(heading);
    if (value.empty()) {
        return std::nullopt;
    }
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (base::same_word(value, words[i])) {
            return i;
        }
    }
    fail(heading, quoted(value) + " is not one of " + base::listed(words, words.size()));
}

void Row::fail(std::string_view heading, std::string_view what) const {
    fail(std::string(heading) + ": " + std::string(what));
}

void Row::fail(std::string_view what) const {
    throw base::ConfigError(m_table.file() + ", line " + std::to_string(line()) + ", " +
                            std::string(what));
}

} // namespace loopwalk::catalogue
