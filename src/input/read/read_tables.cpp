// Layers without geometry: ways, terminations, loads and readings.
#include "field_tables.hpp"
#include "read_assets.hpp"
#include <algorithm>
#include <string>
#include <unordered_set>

namespace loopwalk::input {

namespace {

using base::AssetLayer;
using base::TextId;
using model::WayRow;

void take_fid(WayRow& row, std::int64_t fid) {
    row.fid = fid;
}
template <class T>
void take_fid(T&, std::int64_t) {}

/// Ids of what was read, where that is only a part: rows about anything else are left out.
class ReadIds {
  public:
    explicit ReadIds(const Context& context) : m_is_part(!context.result.part.empty()) {
        if (!m_is_part) {
            return;
        }
        const model::Layers& layers = context.result.layers;
        add(layers.columns);
        add(layers.cables);
        add(layers.supplies);
        add(layers.joints);
        add(layers.mains);
    }
    [[nodiscard]] bool hold(const WayRow& row) const { return has(row.supply_id); }
    [[nodiscard]] bool hold(const model::Termination& row) const {
        return has(row.asset_id) && has(row.cable_id);
    }
    [[nodiscard]] bool hold(const model::Load& row) const { return has(row.column_id); }
    [[nodiscard]] bool hold(const model::Reading& row) const { return has(row.asset_id); }

  private:
    template <class T>
    void add(const std::vector<T>& assets) {
        for (const T& asset : assets) {
            m_ids.insert(asset.id);
        }
    }
    /// One that is not recorded is a finding like any other.
    [[nodiscard]] bool has(TextId id) const {
        return !m_is_part || !id.is_valid() || m_ids.contains(id);
    }
    bool m_is_part;
    std::unordered_set<TextId> m_ids;
};

template <class T>
void read_part(Context& context, AssetLayer layer, std::size_t part, std::vector<T>& out) {
    RowReader rows(context, layer, part, gis::Layer::WithGeometry::no);
    const ReadIds read(context);
    out.reserve(out.size() + rows.room());
    while (rows.next()) {
        T row;
        read_fields(rows, row);
        if (!read.hold(row)) {
            rows.forget();
            continue;
        }
        take_fid(row, rows.fid());
        rows.count_known({});
        out.push_back(row);
    }
}

template <class T>
void read_rows(Context& context, AssetLayer layer, std::vector<T>& out) {
    const std::size_t parts = context.source.parts(layer).size();
    for (std::size_t part = 0; part < parts; ++part) {
        read_part(context, layer, part, out);
    }
}

template <class T>
void read_table(Context& context, AssetLayer layer, std::vector<T>& out) {
    if (context.source.layer(layer) == nullptr) {
        return;
    }
    read_rows(context, layer, out);
    LayerRecord& record = context.record(layer);
    record.order = order_by(out.size(), [&](std::uint32_t a, std::uint32_t b) {
        return compare(out[a], out[b], context.text());
    });
    arrange(out, record.order);
}

/// A way is named within its supply, so its id is the pair. The separator stands in no name.
std::vector<TextId> pair_ids(const std::vector<WayRow>& ways, base::TextPool& text) {
    std::vector<TextId> ids;
    ids.reserve(ways.size());
    for (const WayRow& way : ways) {
        std::string key(text.view(way.supply_id));
        const std::string name(text.view(way.way));
        key.append("\n").append(name);
        ids.push_back(name.empty() ? TextId() : text.add(key));
    }
    return ids;
}

} // namespace

void read_ways(Context& context) {
    std::vector<WayRow>& ways = context.result.layers.ways;
    if (context.source.layer(AssetLayer::ways) == nullptr) {
        return;
    }
    read_rows(context, AssetLayer::ways, ways);
    LayerRecord& record = context.record(AssetLayer::ways);
    const std::vector<TextId> recorded = pair_ids(ways, context.text());
    std::vector<TextId> ids = recorded;
    const auto tie = [&](std::uint32_t a, std::uint32_t b) {
        return compare(ways[a], ways[b], context.text());
    };
    const Order named = order_by_id(ids, record.fids, tie, context.text());
    for (std::size_t i = 0; i < ways.size(); ++i) {
        if (ids[i] != recorded[i]) {
            ways[i].way = ids[i];
        }
    }
    record.order = order_by(ways.size(), tie); // by supply, then way
    record.order.repeated = named.repeated;
    record.order.nameless = named.nameless;
    arrange(ways, record.order);
}

void read_terminations(Context& context) {
    read_table(context, AssetLayer::terminations, context.result.layers.terminations);
}

void read_loads(Context& context) {
    read_table(context, AssetLayer::loads, context.result.layers.loads);
}

void read_readings(Context& context) {
    read_table(context, AssetLayer::readings, context.result.layers.readings);
}

} // namespace loopwalk::input
