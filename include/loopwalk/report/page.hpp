// A page for people: headings, sentences, tables and lines of working, written as plain text or as
// Markdown. Every page of the program is built from these blocks.
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace loopwalk::report {

struct Heading {
    std::string text;
};

struct Paragraph {
    std::string text;
};

struct Bullets {
    std::vector<std::string> items;
};

enum class Align : bool { left, number };

struct TableColumn {
    std::string name;
    Align align = Align::left;
};

/// Rows have as many cells as there are columns.
struct Table {
    std::vector<TableColumn> columns;
    std::vector<std::vector<std::string>> rows;
};

/// Lines of reckoning, "name = formula = numbers = result unit": kept as they are.
struct Working {
    std::vector<std::string> lines;
};

using Block = std::variant<Heading, Paragraph, Bullets, Table, Working>;

struct Page {
    std::string title;
    std::vector<Block> blocks;

    void heading(std::string text);
    void paragraph(std::string text);
    void add(Block block);
};

/// Plain text: tables in columns, numbers under their decimal points, sentences broken at about
/// 100 characters.
[[nodiscard]] std::string as_text(const Page& page);

/// Markdown with pipe tables; working stands in fenced blocks.
[[nodiscard]] std::string as_markdown(const Page& page);

} // namespace loopwalk::report
