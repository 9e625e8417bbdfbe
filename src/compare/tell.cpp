// A comparison as text, as JSON and as a layer.
#include "loopwalk/base/text.hpp"
#include "loopwalk/compare/compare.hpp"
#include "loopwalk/output/results.hpp"

#include <array>
#include <nlohmann/json.hpp>

namespace loopwalk::compare {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kFirst = 20;
constexpr std::array kKinds{Kind::lost,           Kind::added, Kind::re_fed, Kind::verdict_changed,
                            Kind::margin_changed, Kind::moved};
constexpr std::array kFindingKinds{Kind::finding_new, Kind::finding_gone, Kind::finding_changed};

std::string or_nothing(const std::string& text) {
    return text.empty() ? "nothing" : text;
}

/// Beside the word findings.
std::string_view short_name(Kind kind) {
    return kind == Kind::finding_new ? "new" : kind == Kind::finding_gone ? "gone" : "changed";
}

std::string line_of(const Change& change) {
    std::string text = "  " + std::string(base::layer_name(change.layer)) + " " + change.asset_id +
                       ": " + std::string(kind_name(change.kind));
    if (change.kind == Kind::verdict_changed || change.kind == Kind::re_fed ||
        change.kind == Kind::margin_changed || change.kind == Kind::finding_changed) {
        text += ", " + or_nothing(change.before) + " -> " + or_nothing(change.after);
    } else if (change.moved_m.has_value()) {
        text += " by " + base::short_text(*change.moved_m) + " m";
    } else if (!change.after.empty() || change.kind == Kind::finding_gone) {
        text += ", " + (change.after.empty() ? change.before : change.after);
    }
    return text + (change.why.empty() ? "" : " (" + change.why + ")") + "\n";
}

} // namespace

std::string comparison_text(const Comparison& comparison, const std::string& before,
                            const std::string& after) {
    std::string text = "Before: " + before + "\nAfter: " + after + "\n\n";
    for (const LayerCount& layer : comparison.layers) {
        text += std::string(base::layer_name(layer.layer)) + ": " + std::to_string(layer.before) +
                " before, " + std::to_string(layer.after) + " after";
        for (const Kind kind : kKinds) {
            const std::size_t count = comparison.count(layer.layer, kind);
            if (count > 0) {
                text += ", " + std::to_string(count) + " " + std::string(kind_name(kind));
            }
        }
        text += "\n";
    }
    if (comparison.findings.has_value()) {
        text += "findings: " + std::to_string(comparison.findings->first) + " before, " +
                std::to_string(comparison.findings->second) + " after";
        for (const Kind kind : kFindingKinds) {
            if (const std::size_t count = comparison.count(kind); count > 0) {
                text += ", " + std::to_string(count) + " " + std::string(short_name(kind));
            }
        }
        text += "\n";
    } else {
        text += "findings: not compared, since one of both has no such layer\n";
    }
    std::size_t told = 0;
    for (const Change& change : comparison.changes) {
        if (told == kFirst) {
            text += "  and " + std::to_string(comparison.changes.size() - told) +
                    " more: see the layer or the JSON\n";
            break;
        }
        text += told++ == 0 ? "\nWhat is worse comes first\n" : "";
        text += line_of(change);
    }
    text += comparison.changes.empty() ? "\nNothing differs.\n" : "";
    text += "\nCautions\n";
    for (const std::string& caution : output::cautions()) {
        text += "  " + caution + "\n";
    }
    return text;
}

std::string comparison_json(const Comparison& comparison, const std::string& before,
                            const std::string& after) {
    Json json{{"program", "loopwalk " + std::string(base::program_version())},
              {"before", before},
              {"after", after}};
    for (const LayerCount& layer : comparison.layers) {
        Json counts{{"before", layer.before}, {"after", layer.after}};
        for (const Kind kind : kKinds) {
            counts[std::string(kind_name(kind))] = comparison.count(layer.layer, kind);
        }
        json["layers"][std::string(base::layer_name(layer.layer))] = std::move(counts);
    }
    if (comparison.findings.has_value()) {
        Json counts{{"before", comparison.findings->first}, {"after", comparison.findings->second}};
        for (const Kind kind : kFindingKinds) {
            counts[std::string(short_name(kind))] = comparison.count(kind);
        }
        json["findings"] = std::move(counts);
    } else {
        json["findings"] = nullptr;
    }
    json["changes"] = Json::array();
    const auto or_null = [](const std::string& text) { return text.empty() ? Json() : Json(text); };
    for (const Change& c : comparison.changes) {
        json["changes"].push_back({{"kind", kind_name(c.kind)},
                                   {"asset_layer", base::layer_name(c.layer)},
                                   {"asset_id", c.asset_id},
                                   {"before", or_null(c.before)},
                                   {"after", or_null(c.after)},
                                   {"moved_m", c.moved_m.has_value() ? Json(*c.moved_m) : Json()},
                                   {"worse", c.is_worse},
                                   {"why", or_null(c.why)}});
    }
    json["cautions"] = output::cautions();
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

void write_changes(const Comparison& comparison, gis::OutputDataset& out) {
    using gis::FieldKind;
    const gis::LayerSchema schema{"changes",
                                  gis::GeometryKind::point,
                                  gis::SpatialIndex::yes,
                                  {{"kind", FieldKind::text},
                                   {"asset_layer", FieldKind::text},
                                   {"asset_id", FieldKind::text},
                                   {"before", FieldKind::text},
                                   {"after", FieldKind::text},
                                   {"moved_m", FieldKind::real},
                                   {"worse", FieldKind::integer},
                                   {"why", FieldKind::text}}};
    auto writer = out.create_layer(schema, comparison.crs);
    for (const Change& change : comparison.changes) {
        gis::Row row = writer.row();
        std::size_t field = 0;
        for (const std::string_view text :
             {kind_name(change.kind), base::layer_name(change.layer),
              std::string_view(change.asset_id), std::string_view(change.before),
              std::string_view(change.after)}) {
            if (!text.empty()) {
                row.set(field, text);
            }
            ++field;
        }
        if (change.moved_m.has_value()) {
            row.set(field, *change.moved_m);
        }
        row.set(field + 1, std::int64_t{change.is_worse ? 1 : 0});
        if (!change.why.empty()) {
            row.set(field + 2, std::string_view(change.why));
        }
        if (change.place.has_value()) {
            writer.write(*change.place);
        } else {
            writer.write();
        }
    }
}

} // namespace loopwalk::compare
