#include "loopwalk/report/page.hpp"

#include "utf8.hpp"
#include <algorithm>
#include <string_view>

namespace loopwalk::report {
namespace {

constexpr std::size_t kLineLength = 100;
constexpr std::size_t kIndent = 2;

std::string spaces(std::size_t count) {
    std::string blanks(count, ' ');
    return blanks;
}

/// Broken at blanks; each line after the first starts with `hang` blanks.
std::string wrapped(const std::string& text, const std::string& first, std::size_t hang) {
    std::string out = first;
    std::size_t used = shown_width(first);
    std::size_t at = 0;
    bool is_line_start = true;
    while (at < text.size()) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        const std::string word = text.substr(at, end - at);
        const std::size_t width = shown_width(word);
        if (!is_line_start && used + 1 + width > kLineLength) {
            out += "\n" + spaces(hang);
            used = hang;
            is_line_start = true;
        }
        out += is_line_start ? word : " " + word;
        used += width + (is_line_start ? 0 : 1);
        is_line_start = false;
        at = end + 1;
    }
    return out + "\n";
}

/// A line of working; one that is too long goes on below at its signs of equality.
std::string broken_at_equals(const std::string& line) {
    if (shown_width(line) + 2 * kIndent <= kLineLength) {
        return spaces(2 * kIndent) + line + "\n";
    }
    constexpr std::string_view kEquals = " = ";
    std::string out = spaces(2 * kIndent);
    std::size_t used = 0;
    std::size_t at = 0;
    while (at < line.size()) {
        const std::size_t end = std::min(line.find(kEquals, at + 1), line.size());
        const std::string part = line.substr(at, end - at);
        if (used > 0 && used + shown_width(part) > kLineLength - 2 * kIndent) {
            out += "\n" + spaces(2 * kIndent + 1);
            used = 0;
        }
        out += part;
        used += shown_width(part);
        at = end;
    }
    return out + "\n";
}

/// Characters before the decimal point of a number, all of them if there is none.
std::size_t before_point(const std::string& cell) {
    return std::min(cell.find('.'), cell.size());
}

struct Widths {
    std::size_t whole = 0, before = 0, after = 0;
};

Widths widths_of(const Table& table, std::size_t column) {
    Widths w;
    for (const auto& row : table.rows) {
        const std::string& cell = row[column];
        w.whole = std::max(w.whole, shown_width(cell));
        w.before = std::max(w.before, before_point(cell));
        w.after = std::max(w.after, cell.size() - before_point(cell));
    }
    if (table.columns[column].align == Align::number) {
        w.whole = w.before + w.after;
    }
    w.whole = std::max(w.whole, shown_width(table.columns[column].name));
    return w;
}

std::string padded(const std::string& cell, const Widths& w, Align align) {
    if (align == Align::left) {
        return cell + spaces(w.whole - shown_width(cell));
    }
    const std::size_t after = w.after - (cell.size() - before_point(cell));
    return spaces(w.whole - cell.size() - after) + cell + spaces(after);
}

std::string without_end_blanks(std::string line) {
    line.erase(line.find_last_not_of(' ') + 1);
    return line + "\n";
}

class TextWriter {
  public:
    explicit TextWriter(const Page& page) {
        m_out = page.title + "\n" + std::string(shown_width(page.title), '=') + "\n";
        for (const Block& block : page.blocks) {
            m_out += "\n";
            std::visit(*this, block);
        }
    }
    [[nodiscard]] const std::string& out() const noexcept { return m_out; }

    void operator()(const Heading& heading) {
        m_out += heading.text + "\n" + std::string(shown_width(heading.text), '-') + "\n";
    }
    void operator()(const Paragraph& paragraph) { m_out += wrapped(paragraph.text, "", 0); }
    void operator()(const Bullets& bullets) {
        for (const std::string& item : bullets.items) {
            m_out += wrapped(item, spaces(kIndent) + "- ", kIndent + 2);
        }
    }
    void operator()(const Table& table);
    void operator()(const Working& working) {
        for (const std::string& line : working.lines) {
            m_out += broken_at_equals(line);
        }
    }

  private:
    std::string m_out;
};

void TextWriter::operator()(const Table& table) {
    std::vector<Widths> widths;
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        widths.push_back(widths_of(table, c));
    }
    std::string head = spaces(kIndent);
    for (std::size_t c = 0; c < widths.size(); ++c) {
        const std::size_t fill = widths[c].whole - shown_width(table.columns[c].name);
        const bool is_number = table.columns[c].align == Align::number;
        head += (is_number ? spaces(fill) : "") + table.columns[c].name +
                (is_number ? "" : spaces(fill)) + spaces(kIndent);
    }
    m_out += without_end_blanks(head);
    for (const auto& row : table.rows) {
        std::string line = spaces(kIndent);
        for (std::size_t c = 0; c < widths.size(); ++c) {
            line += padded(row[c], widths[c], table.columns[c].align) + spaces(kIndent);
        }
        m_out += without_end_blanks(line);
    }
}

} // namespace

std::string as_text(const Page& page) {
    return TextWriter(page).out();
}

} // namespace loopwalk::report
