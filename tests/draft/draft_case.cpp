#include "draft_case.hpp"

#include "loopwalk/base/text.hpp"

#include <algorithm>
#include <fstream>
#include <sstream>
#include <stdexcept>

namespace loopwalk::test {

namespace {

std::vector<std::string> cells(const std::string& line) {
    std::vector<std::string> all;
    std::size_t start = 0;
    while (start <= line.size()) {
        const std::size_t end = std::min(line.find('|', start), line.size());
        all.emplace_back(base::trimmed(line.substr(start, end - start)));
        start = end + 1;
    }
    return all;
}

draft::Shape shape_called(const std::string& word) {
    if (word == "points") {
        return draft::Shape::point;
    }
    if (word == "lines") {
        return draft::Shape::line;
    }
    if (word == "table") {
        return draft::Shape::none;
    }
    throw std::runtime_error("no such shape: " + word);
}

gis::FieldKind kind_of(const CaseLayer& layer, std::size_t field) {
    const bool all_numbers = std::all_of(layer.rows.begin(), layer.rows.end(), [&](const auto& r) {
        return r[field].empty() || base::parse_number(r[field]).has_value();
    });
    return all_numbers ? gis::FieldKind::real : gis::FieldKind::text;
}

CaseLayer layer_headed(const std::string& line) {
    std::istringstream words(line);
    std::string word, name, shape;
    words >> word >> name >> shape;
    return {name, shape_called(shape), {}, {}};
}

} // namespace

DraftCase read_draft_case(const std::string& path) {
    std::ifstream file(path);
    if (!file) {
        throw std::runtime_error("cannot open " + path);
    }
    DraftCase result;
    std::getline(file, result.title);
    std::string line;
    bool in_layer = false;
    bool expecting = false;
    while (std::getline(file, line)) {
        if (line.starts_with('#')) {
            continue;
        }
        if (line.empty()) {
            in_layer = false;
        } else if (line == "expect") {
            expecting = true;
        } else if (expecting) {
            result.expected.emplace_back(base::trimmed(line));
        } else if (line.starts_with("layer ") && !in_layer) {
            result.layers.push_back(layer_headed(line));
            in_layer = true;
        } else {
            CaseLayer& layer = result.layers.back();
            std::vector<std::string> row = cells(line);
            if (layer.fields.empty()) {
                layer.fields = std::move(row);
                continue;
            }
            if (row.size() != layer.fields.size()) {
                throw std::runtime_error(path + ": wrong number of cells: " + line);
            }
            layer.rows.push_back(std::move(row));
        }
    }
    return result;
}

draft::LayerProfile profile_of(const CaseLayer& layer, RowOrder order) {
    std::vector<gis::FieldInfo> fields;
    for (std::size_t i = 0; i < layer.fields.size(); ++i) {
        fields.push_back({layer.fields[i], kind_of(layer, i)});
    }
    draft::Profiler profiler("records.gpkg", layer.name, "EPSG:27700", fields);
    auto rows = layer.rows;
    if (order == RowOrder::backwards) {
        std::reverse(rows.begin(), rows.end());
    }
    const auto drawn = std::find(layer.fields.begin(), layer.fields.end(), "@drawn");
    for (const std::vector<std::string>& row : rows) {
        const auto metres =
            drawn == layer.fields.end()
                ? std::nullopt
                : base::parse_number(row[static_cast<std::size_t>(drawn - layer.fields.begin())]);
        profiler.next(layer.shape, metres.value_or(0.0));
        for (std::size_t i = 0; i < row.size(); ++i) {
            if (!row[i].empty() && layer.fields[i] != "@drawn") {
                profiler.value(i, row[i]);
            }
        }
    }
    return profiler.finish();
}

std::vector<std::string> stated(const draft::Draft& draft) {
    std::vector<std::string> lines;
    for (const draft::LayerGuess& layer : draft.layers) {
        const std::string role(base::layer_name(layer.role));
        lines.push_back(role + " = " + draft.profiles[layer.profile].name + " " +
                        std::string(confidence_name(layer.confidence)));
        for (const std::string& remark : layer.remarks) {
            lines.push_back(role + " remark " + remark + " likely");
        }
        for (const draft::FieldGuess& field : layer.fields) {
            const std::string key = role + "." + field.field;
            const std::string unit =
                field.unit == nullptr ? "" : " [" + std::string(field.unit->name) + "]";
            std::string names = field.name;
            for (const std::string& name : field.more_names) {
                names += " + " + name;
            }
            lines.push_back(key + " = " + names + unit + " " +
                            std::string(confidence_name(field.confidence)));
            for (const draft::WordGuess& word : field.words.words) {
                lines.push_back(
                    key + " \"" + word.recorded +
                    "\" = " + (word.confidence == draft::Confidence::unsure ? "?" : word.meaning) +
                    " " + std::string(confidence_name(word.confidence)));
            }
        }
    }
    return lines;
}

} // namespace loopwalk::test
