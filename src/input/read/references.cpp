// Rows of ways, terminations, loads and readings that speak of an asset: is it there?
#include "loopwalk/base/text.hpp"

#include "read_assets.hpp"
#include <bit>
#include <cctype>
#include <string>
#include <unordered_map>

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
    explicit IdLayers(const model::Layers& layers)
        : m_layers(layers.text.size(), 0), m_text(layers.text) {
        add(layers.columns, AssetLayer::columns);
        add(layers.cables, AssetLayer::cables);
        add(layers.supplies, AssetLayer::supplies);
        add(layers.joints, AssetLayer::joints);
        add(layers.mains, AssetLayer::mains);
    }
    [[nodiscard]] std::uint32_t of(TextId id) const { return m_layers[id.index()]; }

    /// The only id of these layers that is written almost so; none if there are several.
    [[nodiscard]] TextId almost(std::string_view text, std::uint32_t allowed) {
        if (m_plain.empty()) {
            gather();
        }
        TextId found;
        const auto [from, to] = m_plain.equal_range(plain(text));
        for (auto entry = from; entry != to; ++entry) {
            if ((of(entry->second) & allowed) == 0) {
                continue;
            }
            if (found.is_valid()) {
                return {};
            }
            found = entry->second;
        }
        return found;
    }

  private:
    template <class T>
    void add(const std::vector<T>& rows, AssetLayer layer) {
        for (const T& row : rows) {
            m_layers[row.id.index()] |= bit(layer);
        }
    }
    /// Without case, blanks, marks and leading zeros of its numbers: "LC-0012" is "lc12".
    [[nodiscard]] static std::string plain(std::string_view text) {
        std::string result;
        for (const char c : base::folded(text)) {
            const bool is_mark = c == ' ' || c == '-' || c == '/' || c == '_' || c == '.';
            const bool is_after_digit =
                !result.empty() && std::isdigit(static_cast<unsigned char>(result.back())) != 0;
            if (!is_mark && (c != '0' || is_after_digit)) {
                result += c;
            }
        }
        return result;
    }
    void gather() {
        for (std::size_t i = 0; i < m_layers.size(); ++i) {
            if (m_layers[i] != 0) {
                m_plain.emplace(plain(m_text.view(TextId(i))), TextId(i));
            }
        }
    }
    std::vector<std::uint32_t> m_layers;
    const base::TextPool& m_text;
    std::unordered_multimap<std::string, TextId> m_plain; ///< filled when first needed
};

/// Checks the references of one layer's rows.
class ReferenceCheck {
  public:
    ReferenceCheck(LayerRecord& record, IdLayers& ids, const base::TextPool& text)
        : m_record(record), m_ids(ids), m_text(text) {}

    /// `field` (position in contract_fields()) of the row at `position` names `id`, which must be
    /// an asset of one of the `allowed` layers, and of one only.
    void check(std::size_t position, std::uint8_t field, TextId id, std::uint32_t allowed) {
        if (!id.is_valid()) {
            return add(position, field, IssueKind::not_recorded, id, {});
        }
        const int found = std::popcount(m_ids.of(id) & allowed);
        if (found == 0) {
            add(position, field, IssueKind::unknown_reference, id,
                m_ids.almost(m_text.view(id), allowed));
        } else if (found > 1) {
            add(position, field, IssueKind::unclear_reference, id, {});
        }
    }

  private:
    void add(std::size_t position, std::uint8_t field, IssueKind kind, TextId id, TextId other) {
        m_record.issues.push_back({m_record.order.features[position], field, kind, id, other, 0.0});
    }
    LayerRecord& m_record;
    IdLayers& m_ids;
    const base::TextPool& m_text;
};

template <class T>
std::uint32_t stated_layer(const T& row, std::uint32_t otherwise) {
    return row.has_layer ? bit(row.asset_layer) : otherwise;
}

} // namespace

void check_references(Context& context) {
    const model::Layers& layers = context.result.layers;
    IdLayers ids(layers);
    ReferenceCheck ways(context.record(AssetLayer::ways), ids, layers.text);
    for (std::size_t i = 0; i < layers.ways.size(); ++i) {
        ways.check(i, 0, layers.ways[i].supply_id, bit(AssetLayer::supplies));
    }
    ReferenceCheck ends(context.record(AssetLayer::terminations), ids, layers.text);
    for (std::size_t i = 0; i < layers.terminations.size(); ++i) {
        const model::Termination& end = layers.terminations[i];
        ends.check(i, 0, end.asset_id, stated_layer(end, kAnyAsset & ~bit(AssetLayer::cables)));
        ends.check(i, 1, end.cable_id, bit(AssetLayer::cables));
    }
    ReferenceCheck loads(context.record(AssetLayer::loads), ids, layers.text);
    for (std::size_t i = 0; i < layers.loads.size(); ++i) {
        loads.check(i, 0, layers.loads[i].column_id, bit(AssetLayer::columns));
    }
    ReferenceCheck readings(context.record(AssetLayer::readings), ids, layers.text);
    for (std::size_t i = 0; i < layers.readings.size(); ++i) {
        readings.check(i, 0, layers.readings[i].asset_id,
                       stated_layer(layers.readings[i], kAnyAsset));
    }
}

} // namespace loopwalk::input
