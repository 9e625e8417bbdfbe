#include "map_case.hpp"

#include <charconv>
#include <fstream>
#include <set>
#include <sstream>
#include <stdexcept>

namespace loopwalk::maps {
namespace {

struct Line {
    std::string text;
    int number = 0;
};

/// Consecutive lines up to an empty one.
using Block = std::vector<Line>;

class CaseReader {
  public:
    explicit CaseReader(std::string path) : m_path(std::move(path)) {}

    MapCase read() {
        std::vector<Block> blocks = read_blocks();
        if (blocks.empty()) {
            fail(1, "the case is empty");
        }
        m_case.title = blocks.front().front().text;
        for (std::size_t i = 1; i < blocks.size(); ++i) {
            take(blocks[i]);
        }
        if (m_case.expectations.empty()) {
            fail(1, "nothing is expected of it");
        }
        return std::move(m_case);
    }

  private:
    [[noreturn]] void fail(int line, const std::string& what) const {
        throw std::runtime_error(m_path + ":" + std::to_string(line) + ": " + what);
    }

    std::vector<Block> read_blocks() const {
        std::ifstream file(m_path);
        if (!file) {
            fail(0, "cannot be read");
        }
        std::vector<Block> blocks;
        bool is_open = false;
        int number = 0;
        for (std::string text; std::getline(file, text);) {
            ++number;
            if (text.starts_with('#')) {
                continue;
            }
            const bool is_empty = text.find_first_not_of(" \t") == std::string::npos;
            if (!is_empty && !is_open) {
                blocks.emplace_back();
            }
            is_open = !is_empty;
            if (is_open) {
                blocks.back().push_back({text, number});
            }
        }
        return blocks;
    }

    void take(const Block& block) {
        static const std::set<std::string> layers = {"columns",      "cables", "supplies",
                                                     "ways",         "joints", "mains",
                                                     "terminations", "loads",  "readings"};
        const std::vector<Cell> head = cells(block.front());
        const std::string& word = head.front().text;
        if (word == "map" && head.size() == 2) {
            take_map(block, head[1].text);
        } else if (word == "job" && head.size() == 1) {
            m_case.job += joined(block);
        } else if (word == "file" && head.size() == 2) {
            m_case.files[head[1].text] = joined(block);
        } else if (word == "expect" && head.size() >= 2) {
            take_expectation(block, head);
        } else if (layers.contains(word) && head.size() == 1) {
            take_layer(block, word);
        } else {
            fail(block.front().number, "no block starts with \"" + block.front().text + "\"");
        }
    }

    void take_layer(const Block& block, const std::string& layer) {
        if (!m_case.layers.emplace(layer, table(block)).second) {
            fail(block.front().number, "a second table of " + layer);
        }
    }

    void take_map(const Block& block, const std::string& scale) {
        double metres = 0.0;
        const auto end = scale.data() + scale.size();
        if (std::from_chars(scale.data(), end, metres).ptr != end || metres <= 0.0) {
            fail(block.front().number, "map needs metres per character");
        }
        for (std::size_t row = 1; row < block.size(); ++row) {
            const std::string& text = block[row].text;
            for (std::size_t column = 0; column < text.size(); ++column) {
                if (std::string(R"( -|.+/\)").find(text[column]) != std::string::npos) {
                    continue;
                }
                const base::Point2 place{static_cast<double>(column) * metres,
                                         -static_cast<double>(row) * metres};
                if (!m_case.points.emplace(text[column], place).second) {
                    fail(block[row].number, std::string("a second point ") + text[column]);
                }
            }
        }
    }

    void take_expectation(const Block& block, const std::vector<Cell>& head) {
        Expectation expectation;
        expectation.layer = head[1].text;
        expectation.line = block.front().number;
        bool is_part = false;
        for (std::size_t i = 2; i < head.size(); ++i) {
            if (head[i].text == "all") {
                expectation.is_whole = true;
            } else if (head[i].text == "some") {
                is_part = true;
            } else {
                expectation.keys.push_back(head[i].text);
            }
        }
        if (expectation.layer == "findings" && expectation.keys.empty()) {
            expectation.keys = {"rule", "severity", "asset_layer", "asset_id"};
            expectation.is_whole = !is_part;
        }
        expectation.table = table(block);
        m_case.expectations.push_back(std::move(expectation));
    }

    Table table(const Block& block) const {
        if (block.size() < 2) {
            fail(block.front().number, "a table needs a line of field names");
        }
        Table table;
        for (const Cell& cell : cells(block[1])) {
            table.fields.push_back(cell.text);
        }
        for (std::size_t i = 2; i < block.size(); ++i) {
            table.rows.push_back(cells(block[i]));
            if (table.rows.back().size() != table.fields.size()) {
                fail(block[i].number, "has " + std::to_string(table.rows.back().size()) +
                                          " values for " + std::to_string(table.fields.size()) +
                                          " fields");
            }
        }
        return table;
    }

    std::vector<Cell> cells(const Line& line) const {
        std::vector<Cell> out;
        std::size_t at = 0;
        while ((at = line.text.find_first_not_of(" \t", at)) != std::string::npos) {
            const bool is_quoted = line.text[at] == '"';
            const std::size_t first = is_quoted ? at + 1 : at;
            std::size_t end = line.text.find_first_of(is_quoted ? "\"" : " \t", first);
            if (is_quoted && end == std::string::npos) {
                fail(line.number, "a quote is not closed");
            }
            end = std::min(end, line.text.size());
            const std::string text = line.text.substr(first, end - first);
            out.push_back({text, !is_quoted && text == "-"});
            at = is_quoted ? end + 1 : end;
        }
        return out;
    }

    static std::string joined(const Block& block) {
        std::string text;
        for (std::size_t i = 1; i < block.size(); ++i) {
            text += block[i].text + "\n";
        }
        return text;
    }

    std::string m_path;
    MapCase m_case;
};

} // namespace

MapCase read_case(const std::string& path) {
    return CaseReader(path).read();
}

} // namespace loopwalk::maps
