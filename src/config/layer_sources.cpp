// Where the records of a layer lie: one table, a table with lists of datasets or layers, or several
// tables.
#include "loopwalk/base/text.hpp"

#include "read_value.hpp"
#include <algorithm>

namespace loopwalk::config {

namespace {

/// A key whose list names one source after the other.
bool names_sources(std::string_view key) {
    return key == "dataset" || key == "layer";
}

const toml::array* list_of(const toml::table& table, std::string_view key) {
    const toml::node* node = table.get(key);
    return node == nullptr ? nullptr : node->as_array();
}

/// Reads the tables of one layer, source by source.
class LayerReader {
  public:
    LayerReader(const Place& place, Job& job)
        : m_place(place), m_job(job), m_layer(index_of(place)) {}

    void add(const toml::table& table) {
        const std::size_t first = m_sources.size();
        const std::size_t count = count_of(table);
        for (std::size_t i = 0; i < count; ++i) {
            m_sources.push_back(read(table, i));
        }
        keep_missing(m_sources[first].missing, table);
        if (m_sources.size() > 1) {
            check_is_there(table);
        }
    }

    void finish() {
        for (LayerSource& source : m_sources) {
            source.missing.clear();
        }
        m_sources.front().missing = std::move(m_missing);
        m_job.data.layers[m_layer] = std::move(m_sources.front());
        m_job.data.further[m_layer].assign(std::make_move_iterator(m_sources.begin() + 1),
                                           std::make_move_iterator(m_sources.end()));
    }

  private:
    static std::size_t index_of(const Place& place) {
        const auto layer = base::layer_of(place.table);
        LW_ASSERT(layer.has_value());
        return static_cast<std::size_t>(*layer);
    }

    /// Sources that the lists of a table name.
    [[nodiscard]] std::size_t count_of(const toml::table& table) const {
        const toml::array* datasets = list_of(table, "dataset");
        const toml::array* layers = list_of(table, "layer");
        for (const toml::array* list : {datasets, layers}) {
            if (list != nullptr && list->empty()) {
                m_place.fail(*list, "the list is empty");
            }
        }
        if (datasets == nullptr || layers == nullptr) {
            return datasets != nullptr ? datasets->size() : layers != nullptr ? layers->size() : 1;
        }
        if (datasets->size() != layers->size()) {
            m_place.fail(*layers, "the lists 'dataset' and 'layer' are read side by side; they "
                                  "have " +
                                      std::to_string(datasets->size()) + " and " +
                                      std::to_string(layers->size()) + " entries");
        }
        return layers->size();
    }

    /// The table with the n-th entry of each list.
    [[nodiscard]] LayerSource read(const toml::table& table, std::size_t n) {
        m_job.data.layers[m_layer] = {};
        for (const auto& [key, value] : table) {
            const toml::array* list = names_sources(key.str()) ? value.as_array() : nullptr;
            read_key(key, list != nullptr ? *list->get(n) : value, m_place, m_job);
        }
        return std::move(m_job.data.layers[m_layer]);
    }

    void keep_missing(const std::vector<MissingValue>& missing, const toml::table& table) {
        if (!missing.empty() && !m_missing.empty()) {
            m_place.fail(table, "'missing' holds for all sources of the layer; write it in one of "
                                "the tables");
        }
        if (!missing.empty()) {
            m_missing = missing;
        }
    }

    void check_is_there(const toml::table& table) const {
        if (std::any_of(m_sources.begin(), m_sources.end(),
                        [](const LayerSource& source) { return source.is_absent; })) {
            m_place.fail(table, "layer = \"\" says that there is no such layer; others are named "
                                "beside it");
        }
    }

    const Place& m_place;
    Job& m_job;
    std::size_t m_layer;
    std::vector<LayerSource> m_sources;
    std::vector<MissingValue> m_missing;
};

} // namespace

void read_layer(const toml::node& node, const Place& place, Job& job) {
    LayerReader reader(place, job);
    if (const auto* table = node.as_table()) {
        reader.add(*table);
        return reader.finish();
    }
    const auto* list = node.as_array();
    if (list == nullptr || list->empty()) {
        place.fail(node, "is a table: write [" + place.table + "] and its keys below it");
    }
    for (const toml::node& entry : *list) {
        const auto* table = entry.as_table();
        if (table == nullptr) {
            place.fail(entry, "is a list of tables: write [[" + place.table +
                                  "]] before the keys of each");
        }
        reader.add(*table);
    }
    reader.finish();
}

std::vector<const LayerSource*> DataSettings::sources(base::AssetLayer layer) const {
    std::vector<const LayerSource*> all{&of(layer)};
    for (const LayerSource& source : further[static_cast<std::size_t>(layer)]) {
        all.push_back(&source);
    }
    return all;
}

} // namespace loopwalk::config
