#include "findings_file.hpp"

#include <algorithm>
#include <array>

namespace loopwalk::compare {
namespace {

constexpr std::array<std::string_view, 7> kFields{
    "rule", "severity", "asset_layer", "asset_id", "supply_id", "way", "message"};

std::optional<base::Severity> severity_of(std::string_view name) {
    for (const base::Severity severity : {base::Severity::danger, base::Severity::fail,
                                          base::Severity::warning, base::Severity::note}) {
        if (base::severity_name(severity) == name) {
            return severity;
        }
    }
    return std::nullopt;
}

} // namespace

std::optional<ResultFindings> read_findings(gis::Dataset& dataset, base::Progress& progress) {
    auto layer = dataset.find_layer("findings");
    if (!layer.has_value()) {
        return std::nullopt;
    }
    std::vector<std::size_t> positions;
    for (const std::string_view name : kFields) {
        const auto position = layer->find_field(name);
        if (!position.has_value()) {
            return std::nullopt;
        }
        positions.push_back(*position);
    }
    ResultFindings result{layer->crs(), {}, 0};
    progress.stage("read findings", 0);
    auto cursor = layer->read(positions, gis::Layer::WithGeometry::yes);
    const auto text = [&](std::size_t field) {
        return std::string(cursor.text(positions[field]).value_or(""));
    };
    for (std::uint64_t n = 0; cursor.next(); progress.step(++n)) {
        const auto severity = severity_of(text(1));
        const auto about = base::layer_of(text(2));
        if (!severity.has_value() || !about.has_value()) {
            continue; // a row that somebody added
        }
        FindingRead finding{*severity, text(6), {}};
        const gis::Geometry& geometry = cursor.geometry();
        if (geometry.state == gis::GeometryState::usable && !geometry.points.empty()) {
            finding.place = geometry.points.front();
        }
        result.by_key[{text(0), *about, text(3), text(4), text(5)}].push_back(std::move(finding));
        ++result.count;
    }
    for (auto& [key, findings] : result.by_key) {
        std::ranges::sort(findings, {}, [](const FindingRead& f) {
            return std::pair(f.severity, std::string_view(f.message));
        });
    }
    return result;
}

} // namespace loopwalk::compare
