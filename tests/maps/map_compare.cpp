#include "loopwalk/gis/dataset.hpp"

#include "map_run.hpp"
#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>

namespace loopwalk::maps {
namespace {

struct ResultValue {
    bool is_null = true;
    std::string text;
    std::optional<double> number; ///< if the field holds numbers
};

using ResultRow = std::vector<ResultValue>;

bool holds_numbers(gis::FieldKind kind) {
    return kind == gis::FieldKind::integer || kind == gis::FieldKind::real;
}

std::vector<std::size_t> positions(const gis::Layer& layer, const Expectation& expected) {
    std::vector<std::size_t> out;
    for (const std::string& field : expected.table.fields) {
        const std::optional<std::size_t> position = layer.find_field(field);
        if (!position.has_value()) {
            throw std::runtime_error("the result's layer " + expected.layer + " has no field " +
                                     field);
        }
        out.push_back(*position);
    }
    return out;
}

/// The expected fields of all rows of a layer of the result.
std::vector<ResultRow> result_rows(gis::Dataset& result, const Expectation& expected) {
    std::optional<gis::Layer> layer = result.find_layer(expected.layer);
    if (!layer.has_value()) {
        throw std::runtime_error("the result has no layer " + expected.layer);
    }
    const std::vector<std::size_t> fields = positions(*layer, expected);
    gis::LayerCursor cursor = layer->read(fields, gis::Layer::WithGeometry::no);
    std::vector<ResultRow> rows;
    while (cursor.next()) {
        ResultRow& row = rows.emplace_back();
        for (const std::size_t field : fields) {
            ResultValue& value = row.emplace_back();
            const std::optional<std::string_view> text = cursor.text(field);
            value.is_null = !text.has_value();
            value.text = text.value_or("");
            if (!value.is_null && holds_numbers(layer->fields()[field].kind)) {
                value.number = cursor.number(field).number;
            }
        }
    }
    return rows;
}

/// Half a unit of the last digit written: "2.35" allows 2.345 to 2.355.
double tolerance(const std::string& written) {
    const std::size_t point = written.find('.');
    const std::size_t digits = point == std::string::npos ? 0 : written.size() - point - 1;
    return 0.5 * std::pow(10.0, -static_cast<double>(digits)) * (1.0 + 1e-9);
}

bool agrees(const Cell& expected, const ResultValue& value) {
    if (expected.is_null || value.is_null) {
        return expected.is_null == value.is_null;
    }
    if (value.number.has_value()) {
        return std::abs(*value.number - std::stod(expected.text)) <= tolerance(expected.text);
    }
    if (expected.text.starts_with('~')) {
        return value.text.find(expected.text.substr(1)) != std::string::npos;
    }
    return value.text == expected.text;
}

class Comparison {
  public:
    Comparison(const Expectation& expected, std::vector<ResultRow> rows)
        : m_expected(expected), m_rows(std::move(rows)), m_is_used(m_rows.size(), false) {
        for (const std::string& field : expected.table.fields) {
            m_is_key.push_back(std::ranges::find(expected.keys, field) != expected.keys.end());
        }
    }

    std::vector<std::string> run() {
        for (const std::vector<Cell>& row : m_expected.table.rows) {
            compare(row);
        }
        for (std::size_t i = 0; i < m_rows.size() && m_expected.is_whole; ++i) {
            if (!m_is_used[i]) {
                say("not expected: " + text(m_rows[i]));
            }
        }
        return std::move(m_said);
    }

  private:
    void compare(const std::vector<Cell>& expected) {
        for (std::size_t i = 0; i < m_rows.size(); ++i) {
            if (m_is_used[i] || !has_key(expected, m_rows[i])) {
                continue;
            }
            m_is_used[i] = true;
            for (std::size_t f = 0; f < expected.size(); ++f) {
                if (!agrees(expected[f], m_rows[i][f])) {
                    say(key_text(expected) + m_expected.table.fields[f] + " is " +
                        text(m_rows[i][f]) + ", expected " + text(expected[f]));
                }
            }
            return;
        }
        say(key_text(expected) + "no such row");
    }

    bool has_key(const std::vector<Cell>& expected, const ResultRow& row) const {
        for (std::size_t f = 0; f < expected.size(); ++f) {
            if (m_is_key[f] && !agrees(expected[f], row[f])) {
                return false;
            }
        }
        return true;
    }

    std::string key_text(const std::vector<Cell>& expected) const {
        std::string out;
        for (std::size_t f = 0; f < expected.size(); ++f) {
            if (m_is_key[f]) {
                out += text(expected[f]) + " ";
            }
        }
        return out;
    }

    static std::string text(const Cell& cell) { return cell.is_null ? "null" : cell.text; }
    static std::string text(const ResultValue& value) {
        return value.is_null ? "null" : value.text;
    }
    static std::string text(const ResultRow& row) {
        std::string out;
        for (const ResultValue& value : row) {
            out += text(value) + " ";
        }
        return out;
    }

    void say(const std::string& what) {
        m_said.push_back("line " + std::to_string(m_expected.line) + ", " + m_expected.layer +
                         ": " + what);
    }

    const Expectation& m_expected;
    std::vector<ResultRow> m_rows;
    std::vector<bool> m_is_used;
    std::vector<bool> m_is_key;
    std::vector<std::string> m_said;
};

} // namespace

std::vector<std::string> differences(const MapCase& map, const std::string& result) {
    gis::Dataset dataset(result);
    std::vector<std::string> all;
    for (const Expectation& expected : map.expectations) {
        const std::vector<std::string> said =
            Comparison(expected, result_rows(dataset, expected)).run();
        all.insert(all.end(), said.begin(), said.end());
    }
    return all;
}

} // namespace loopwalk::maps
