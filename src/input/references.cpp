// Rows of ways, terminations, loads and readings that speak of an asset: is it there?
#include "read_assets.hpp"
#include <bit>
#include <initializer_list>

namespace loopwalk::input {

namespace {

using base::AssetLayer;
using base::TextId;

constexpr std::uint32_t bit(AssetLayer layer) {
    return 1U << static_cast<std::uint32_t>(layer);
}
constexpr std::uint32_t kAnyAsset = bit(AssetLayer::columns) | bit(AssetLayer::cables) |
                                    bit(AssetLayer::supplies) | bit(AssetLayer::joints) |
                                    bit(AssetLayer::mains);

/// For each text: the layers in which it is an id.
class IdLayers {
  public:
    explicit IdLayers(const model::Layers& layers) : m_layers(layers.text.size(), 0) {
        add(layers.columns, AssetLayer::columns);
        add(layers.cables, AssetLayer::cables);
        add(layers.supplies, AssetLayer::supplies);
        add(layers.joints, AssetLayer::joints);
        add(layers.mains, AssetLayer::mains);
    }
    [[nodiscard]] std::uint32_t of(TextId id) const { return m_layers[id.index()]; }

  private:
    template <class T>
    void add(const std::vector<T>& rows, AssetLayer layer) {
        for (const T& row : rows)
            m_layers[row.id.index()] |= bit(layer);
    }
    std::vector<std::uint32_t> m_layers;
};

/// Checks the references of one layer's rows.
class ReferenceCheck {
  public:
    ReferenceCheck(LayerRecord& record, const IdLayers& ids) : m_record(record), m_ids(ids) {}

    /// `field` (position in contract_fields()) of the row at `position` names `id`, which must be
    /// an asset of one of the `allowed` layers, and of one only.
    void check(std::size_t position, std::uint8_t field, TextId id, std::uint32_t allowed) {
        if (!id.is_valid())
            return add(position, field, IssueKind::not_recorded, id);
        const int found = std::popcount(m_ids.of(id) & allowed);
        if (found != 1)
            add(position, field,
                found == 0 ? IssueKind::unknown_reference : IssueKind::unclear_reference, id);
    }

  private:
    void add(std::size_t position, std::uint8_t field, IssueKind kind, TextId id) {
        m_record.issues.push_back({m_record.order.features[position], field, kind, id, 0.0});
    }
    LayerRecord& m_record;
    const IdLayers& m_ids;
};

template <class T>
std::uint32_t stated_layer(const T& row, std::uint32_t otherwise) {
    return row.has_layer ? bit(row.asset_layer) : otherwise;
}

} // namespace

void check_references(Context& context) {
    const model::Layers& layers = context.result.layers;
    const IdLayers ids(layers);
    ReferenceCheck ways(context.record(AssetLayer::ways), ids);
    for (std::size_t i = 0; i < layers.ways.size(); ++i)
        ways.check(i, 0, layers.ways[i].supply_id, bit(AssetLayer::supplies));
    ReferenceCheck ends(context.record(AssetLayer::terminations), ids);
    for (std::size_t i = 0; i < layers.terminations.size(); ++i) {
        const model::Termination& end = layers.terminations[i];
        ends.check(i, 0, end.asset_id, stated_layer(end, kAnyAsset & ~bit(AssetLayer::cables)));
        ends.check(i, 1, end.cable_id, bit(AssetLayer::cables));
    }
    ReferenceCheck loads(context.record(AssetLayer::loads), ids);
    for (std::size_t i = 0; i < layers.loads.size(); ++i)
        loads.check(i, 0, layers.loads[i].column_id, bit(AssetLayer::columns));
    ReferenceCheck readings(context.record(AssetLayer::readings), ids);
    for (std::size_t i = 0; i < layers.readings.size(); ++i)
        readings.check(i, 0, layers.readings[i].asset_id,
                       stated_layer(layers.readings[i], kAnyAsset));
}

} // namespace loopwalk::input
