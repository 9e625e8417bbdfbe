#include "loopwalk/report/page.hpp"

namespace loopwalk::report {
namespace {

/// Text that Markdown shows as it stands, also inside a table's cell.
std::string escaped(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (std::string_view("\\`*_[]<>|#").find(c) != std::string_view::npos) {
            out += '\\';
        }
        out += c == '\n' ? ' ' : c;
    }
    return out;
}

class MarkdownWriter {
  public:
    explicit MarkdownWriter(const Page& page) {
        m_out = "# " + escaped(page.title) + "\n";
        for (const Block& block : page.blocks) {
            m_out += "\n";
            std::visit(*this, block);
        }
    }
    [[nodiscard]] const std::string& out() const noexcept { return m_out; }

    void operator()(const Heading& heading) { m_out += "## " + escaped(heading.text) + "\n"; }
    void operator()(const Paragraph& paragraph) { m_out += escaped(paragraph.text) + "\n"; }
    void operator()(const Bullets& bullets) {
        for (const std::string& item : bullets.items) {
            m_out += "- " + escaped(item) + "\n";
        }
    }
    void operator()(const Table& table) {
        std::string rule = "|";
        m_out += "|";
        for (const TableColumn& column : table.columns) {
            m_out += " " + escaped(column.name) + " |";
            rule += column.align == Align::number ? "---:|" : "---|";
        }
        m_out += "\n" + rule + "\n";
        for (const auto& row : table.rows) {
            m_out += "|";
            for (const std::string& cell : row) {
                m_out += " " + escaped(cell) + " |";
            }
            m_out += "\n";
        }
    }
    void operator()(const Working& working) {
        m_out += "```text\n";
        for (const std::string& line : working.lines) {
            m_out += line + "\n";
        }
        m_out += "```\n";
    }

  private:
    std::string m_out;
};

} // namespace

std::string as_markdown(const Page& page) {
    return MarkdownWriter(page).out();
}

} // namespace loopwalk::report
