#include "report.hpp"
#include <algorithm>

namespace loopwalk::input {

namespace {

using base::AssetLayer;
using base::Point2;
using base::TextId;

/// In the middle of its first part.
std::optional<Point2> place_of(const model::Layers& layers, const model::Cable& cable) {
    if (cable.part_count == 0) {
        return std::nullopt;
    }
    const model::Part& part = layers.parts_of(cable).front();
    return base::point_at(layers.line(part), part.planar.value() / 2.0);
}

std::optional<Point2> place_of(const model::Main& main) {
    if (main.lines.empty()) {
        return std::nullopt;
    }
    return base::point_at(main.lines.front(), base::length(main.lines.front()) / 2.0);
}

/// Layers of points: columns, supplies, joints.
template <class T>
Assets points(AssetLayer layer, const std::vector<T>& rows, const base::TextPool& text) {
    const auto place = [&rows](std::size_t i) {
        return rows[i].has_place ? std::optional(rows[i].place) : std::nullopt;
    };
    return {layer, rows.size(), [&](std::size_t i) { return std::string(text.view(rows[i].id)); },
            place,
            [place](std::size_t i, std::vector<Point2>& ends) {
                if (const auto p = place(i)) {
                    ends.push_back(*p);
                }
            }};
}

Assets cables(const model::Layers& layers) {
    return {AssetLayer::cables, layers.cables.size(),
            [&layers](std::size_t i) { return layers.id_text(layers.cables[i].id); },
            [&layers](std::size_t i) { return place_of(layers, layers.cables[i]); },
            [&layers](std::size_t i, std::vector<Point2>& ends) {
                for (const model::Part& part : layers.parts_of(layers.cables[i])) {
                    ends.push_back(layers.line(part).front());
                    ends.push_back(layers.line(part).back());
                }
            }};
}

Assets mains(const model::Layers& layers) {
    return {AssetLayer::mains, layers.mains.size(),
            [&layers](std::size_t i) { return layers.id_text(layers.mains[i].id); },
            [&layers](std::size_t i) { return place_of(layers.mains[i]); },
            [&layers](std::size_t i, std::vector<Point2>& ends) {
                for (const base::Polyline& line : layers.mains[i].lines) {
                    ends.push_back(line.front());
                    ends.push_back(line.back());
                }
            }};
}

/// The asset that a row names, if it has a place; rows are in order of id text.
template <class T>
std::optional<Point2> place_named(const std::vector<T>& rows, TextId id,
                                  const base::TextPool& text) {
    const auto found = std::lower_bound(
        rows.begin(), rows.end(), text.view(id),
        [&](const T& row, std::string_view wanted) { return text.view(row.id) < wanted; });
    if (found == rows.end() || found->id != id || !found->has_place) {
        return std::nullopt;
    }
    return found->place;
}

/// A row without a geometry of its own: named by one or two fields, placed at the asset it names,
/// a column or a supply.
template <class T>
Assets table_rows(Context& context, AssetLayer layer, const std::vector<T>& rows, TextId T::*first,
                  TextId T::*second) {
    const model::Layers& layers = context.result.layers;
    const LayerRecord& record = context.record(layer);
    const auto id = [&layers, &record, &rows, first, second](std::size_t i) {
        std::string text = layers.id_text(rows[i].*first);
        if (text.empty()) {
            text = "fid:" + std::to_string(record.fids[record.order.features[i]]);
        }
        if (second != nullptr && (rows[i].*second).is_valid()) {
            text += "/" + layers.id_text(rows[i].*second);
        }
        return text;
    };
    const auto place = [&layers, &rows, first](std::size_t i) {
        const auto column = place_named(layers.columns, rows[i].*first, layers.text);
        return column ? column : place_named(layers.supplies, rows[i].*first, layers.text);
    };
    return {layer, rows.size(), id, place, nullptr};
}

} // namespace

Assets assets_of(Context& context, AssetLayer layer) {
    const model::Layers& layers = context.result.layers;
    switch (layer) {
    case AssetLayer::columns:
        return points(layer, layers.columns, layers.text);
    case AssetLayer::cables:
        return cables(layers);
    case AssetLayer::supplies:
        return points(layer, layers.supplies, layers.text);
    case AssetLayer::ways:
        return table_rows(context, layer, layers.ways, &model::WayRow::supply_id,
                          &model::WayRow::way);
    case AssetLayer::joints:
        return points(layer, layers.joints, layers.text);
    case AssetLayer::mains:
        return mains(layers);
    case AssetLayer::terminations:
        return table_rows(context, layer, layers.terminations, &model::Termination::asset_id,
                          &model::Termination::cable_id);
    case AssetLayer::loads:
        return table_rows(context, layer, layers.loads, &model::Load::column_id, &model::Load::use);
    case AssetLayer::readings:
        return table_rows(context, layer, layers.readings, &model::Reading::asset_id,
                          static_cast<TextId model::Reading::*>(nullptr));
    }
    return {};
}

base::Finding finding_at(const Assets& assets, std::size_t position, base::Rule rule,
                         std::string message, std::string fix) {
    base::Finding finding;
    finding.rule = rule;
    finding.severity = base::Severity::warning;
    finding.layer = assets.layer;
    finding.asset_id = assets.id(position);
    finding.place = assets.place(position);
    finding.message = std::move(message);
    finding.fix = std::move(fix);
    return finding;
}

std::string asset_name(const Assets& assets, std::size_t position) {
    switch (assets.layer) {
    case AssetLayer::columns:
        return "Column " + assets.id(position);
    case AssetLayer::cables:
        return "Cable " + assets.id(position);
    case AssetLayer::supplies:
        return "Supply " + assets.id(position);
    case AssetLayer::joints:
        return "Joint " + assets.id(position);
    case AssetLayer::mains:
        return "Main " + assets.id(position);
    case AssetLayer::ways:
        return "Way " + assets.id(position);
    case AssetLayer::terminations:
        return "Termination " + assets.id(position);
    case AssetLayer::loads:
        return "Load " + assets.id(position);
    case AssetLayer::readings:
        return "Reading " + assets.id(position);
    }
    return assets.id(position);
}

std::string quoted(std::string_view text) {
    constexpr std::size_t kMost = 60;
    if (text.size() <= kMost) {
        return "'" + std::string(text) + "'";
    }
    std::size_t end = kMost; // not in the middle of a character
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) {
        --end;
    }
    return "'" + std::string(text.substr(0, end)) + "...'";
}

} // namespace loopwalk::input
