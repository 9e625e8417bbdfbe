// A page for people: headings, sentences, tables and lines of working, written as plain text or as
// Markdown. Every page of the program is built from these blocks.
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace loopwalk::report {

/// Begins a part of a page.
struct Heading {
    std::string text; ///< one line
};

/// Sentences.
struct Paragraph {
    std::string text; ///< as one line
};

/// Points of a list.
struct Bullets {
    std::vector<std::string> items; ///< each one line
};

/// How cells of a table's column are set: numbers under their decimal points.
enum class Align : bool { left, number };

/// A column of a table.
struct TableColumn {
    std::string name;          ///< its heading, with the unit
    Align align = Align::left; ///< of its cells, not of the heading
};

/// Rows have as many cells as there are columns.
struct Table {
    std::vector<TableColumn> columns;           ///< from left to right
    std::vector<std::vector<std::string>> rows; ///< from top to bottom
};

/// Lines of reckoning, "name = formula = numbers = result unit": kept as they are.
struct Working {
    std::vector<std::string> lines; ///< each as it is to stand
};

using Block = std::variant<Heading, Paragraph, Bullets, Table, Working>; ///< One part of a page.

/// What is to be read of one asset, whatever it will be written as.
struct Page {
    std::string title;         ///< its first heading
    std::vector<Block> blocks; ///< in their order

    /// Adds a heading.
    void heading(std::string text);
    /// Adds sentences.
    void paragraph(std::string text);
    /// Adds any other block.
    void add(Block block);
};

/// Plain text: tables in columns, numbers under their decimal points, sentences broken at about
/// 100 characters.
[[nodiscard]] std::string as_text(const Page& page);

/// Markdown with pipe tables; working stands in fenced blocks.
[[nodiscard]] std::string as_markdown(const Page& page);

} // namespace loopwalk::report
