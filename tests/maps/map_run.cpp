#include "map_run.hpp"

#include "loopwalk/app/run.hpp"
#include "loopwalk/config/contract_fields.hpp"
#include "loopwalk/gis/output.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <stdexcept>

namespace loopwalk::maps {
namespace {

gis::GeometryKind geometry_of(base::AssetLayer layer) {
    switch (layer) {
    case base::AssetLayer::columns:
    case base::AssetLayer::supplies:
    case base::AssetLayer::joints:
        return gis::GeometryKind::point;
    case base::AssetLayer::cables:
    case base::AssetLayer::mains:
        return gis::GeometryKind::multi_line;
    case base::AssetLayer::ways:
    case base::AssetLayer::terminations:
    case base::AssetLayer::loads:
    case base::AssetLayer::readings:
        return gis::GeometryKind::none;
    }
    throw std::logic_error("unknown layer");
}

/// "PAB/CD": two lines, through P, A, B and through C, D.
std::vector<base::Polyline> lines_of(const MapCase& map, const std::string& path, Order order) {
    std::vector<base::Polyline> lines(1);
    for (const char name : path) {
        if (name == '/') {
            lines.emplace_back();
        } else {
            lines.back().push_back(map.points.at(name));
        }
    }
    if (order == Order::reversed) {
        std::ranges::reverse(lines);
        for (base::Polyline& line : lines) {
            std::ranges::reverse(line);
        }
    }
    return lines;
}

class LayerFile {
  public:
    LayerFile(const MapCase& map, base::AssetLayer layer, const Table& table, Order order)
        : m_map(map), m_layer(layer), m_table(table), m_order(order),
          m_place_field(geometry_of(layer) == gis::GeometryKind::point ? "at" : "path") {
        for (std::size_t i = 0; i < table.fields.size(); ++i) {
            if (table.fields[i] != m_place_field) {
                m_columns.push_back(i);
            }
        }
    }

    void write(gis::OutputDataset& out) const {
        gis::LayerWriter writer = out.create_layer(schema(), gis::Crs());
        std::vector<std::vector<Cell>> rows = m_table.rows;
        if (m_order == Order::reversed) {
            std::ranges::reverse(rows);
        }
        for (const std::vector<Cell>& row : rows) {
            fill(writer.row(), row);
            finish(writer, row);
        }
    }

  private:
    gis::LayerSchema schema() const {
        gis::LayerSchema schema;
        schema.name = std::string(base::layer_name(m_layer));
        schema.geometry = geometry_of(m_layer);
        for (const std::size_t column : m_columns) {
            schema.fields.push_back({m_table.fields[column], is_number(m_table.fields[column])
                                                                 ? gis::FieldKind::real
                                                                 : gis::FieldKind::text});
        }
        return schema;
    }

    bool is_number(const std::string& field) const {
        for (const config::FieldRule& rule : config::contract_fields(m_layer)) {
            if (rule.name == field) {
                return rule.is_number;
            }
        }
        throw std::runtime_error(field + " is no field of " +
                                 std::string(base::layer_name(m_layer)));
    }

    void fill(gis::Row& row, const std::vector<Cell>& cells) const {
        for (std::size_t i = 0; i < m_columns.size(); ++i) {
            const Cell& cell = cells[m_columns[i]];
            if (cell.is_null) {
                row.set_null(i);
            } else if (is_number(m_table.fields[m_columns[i]])) {
                row.set(i, std::stod(cell.text));
            } else {
                row.set(i, std::string_view(cell.text));
            }
        }
    }

    void finish(gis::LayerWriter& writer, const std::vector<Cell>& cells) const {
        const gis::GeometryKind kind = geometry_of(m_layer);
        if (kind == gis::GeometryKind::none) {
            writer.write();
            return;
        }
        const std::string where = place_text(cells);
        if (kind == gis::GeometryKind::multi_line) {
            writer.write(lines_of(m_map, where, m_order));
        } else {
            writer.write(m_map.points.at(where.at(0)));
        }
    }

    /// What stands under `at` or `path`; an asset without it lies at the point of its own name.
    std::string place_text(const std::vector<Cell>& cells) const {
        const auto found = std::ranges::find(m_table.fields, m_place_field);
        return found == m_table.fields.end()
                   ? cells.front().text
                   : cells[static_cast<std::size_t>(found - m_table.fields.begin())].text;
    }

    const MapCase& m_map;
    base::AssetLayer m_layer;
    const Table& m_table;
    Order m_order;
    std::string m_place_field;
    std::vector<std::size_t> m_columns;
};

void write_text(const std::string& path, const std::string& text) {
    std::ofstream file(path);
    file << text;
    if (!file.flush()) {
        throw std::runtime_error("cannot write " + path);
    }
}

} // namespace

std::string run_case(const MapCase& map, const std::string& folder, Order order) {
    std::filesystem::remove(folder + "/records.gpkg"); // of the other order
    gis::OutputDataset records(folder + "/records.gpkg", gis::Overwrite::no, {});
    for (std::size_t i = 0; i < base::kAssetLayerCount; ++i) {
        const auto layer = static_cast<base::AssetLayer>(i);
        const auto table = map.layers.find(std::string(base::layer_name(layer)));
        if (table != map.layers.end()) {
            LayerFile(map, layer, table->second, order).write(records);
        }
    }
    records.finish();
    for (const auto& [name, text] : map.files) {
        write_text(folder + "/" + name, text);
    }
    write_text(folder + "/job.toml", "[data]\ndataset = \"records.gpkg\"\n" + map.job);

    const std::string result = folder + "/checked.gpkg";
    app::Terminal terminal(app::Quiet::yes, app::Timings::no);
    const base::ExitCode code =
        app::check({folder + "/job.toml", result, {}, gis::Overwrite::yes, {}}, terminal);
    if (code != base::ExitCode::done) {
        throw std::runtime_error("the check did not end well");
    }
    return result;
}

} // namespace loopwalk::maps
