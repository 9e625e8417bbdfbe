#include "loopwalk/input/read_layers.hpp"

#include "faults/places.hpp"
#include "faults/report.hpp"
#include "read/check_words.hpp"
#include "read/coordinate_systems.hpp"
#include "read/read_assets.hpp"
#include <algorithm>
#include <filesystem>
#include <set>
#include <tuple>
#include <utility>

namespace loopwalk::input {

namespace {

using base::AssetLayer;

void read_all(Context& context) {
    for (std::size_t i = 0; i < base::kAssetLayerCount; ++i) {
        context.result.layers.has_layer[i] =
            context.source.layer(static_cast<AssetLayer>(i)) != nullptr;
    }
    read_columns(context);
    read_cables(context);
    read_supplies(context);
    read_ways(context);
    read_joints(context);
    read_mains(context);
    read_terminations(context);
    read_loads(context);
    read_readings(context);
    check_references(context);
    use_readings(context);
}

void report_geometry(Context& context, const Assets& assets) {
    switch (assets.layer) {
    case AssetLayer::columns:
    case AssetLayer::supplies:
    case AssetLayer::joints:
        return report_places(context, assets);
    case AssetLayer::cables:
        report_equal_cables(context, assets);
        return report_lengths(context, assets);
    case AssetLayer::ways:
    case AssetLayer::mains:
    case AssetLayer::terminations:
    case AssetLayer::loads:
    case AssetLayer::readings:
        return;
    }
}

void report_all(Context& context) {
    context.progress.stage("checking the records", base::kAssetLayerCount);
    for (std::size_t i = 0; i < base::kAssetLayerCount; ++i) {
        context.progress.step(i);
        const auto layer = static_cast<AssetLayer>(i);
        if (!context.result.layers.has_layer[i]) {
            continue;
        }
        const Assets assets = assets_of(context, layer);
        report_issues(context, assets);
        report_repeated_ids(context, assets);
        report_unknown_types(context, layer);
        report_geometry(context, assets);
        report_system(context, assets);
    }
}

/// The system that a layer with places is taken to be in.
std::string system_text(const Context& context, const gis::Layer& layer) {
    if (!layer.has_geometry()) {
        return {};
    }
    const std::string own = layer.crs().text();
    return layer.crs().is_unknown()
               ? "none stated, taken as " + (context.systems.cables.is_unknown()
                                                 ? std::string("metres of a plane")
                                                 : context.systems.cables.text())
               : own;
}

/// The last `count` parts of a path; a connection stays as it is.
std::string end_of(const std::string& dataset, std::size_t count) {
    const std::filesystem::path path(dataset);
    if (dataset.find(':') != std::string::npos || !path.has_filename()) {
        return dataset;
    }
    std::filesystem::path end;
    auto part = path.end();
    for (; count > 0 && part != path.begin(); --count) {
        --part;
        if (!part->has_root_directory()) {
            end = end.empty() ? *part : *part / end;
        }
    }
    return end.generic_string();
}

/// Takes the folders from the datasets of a layer, as far as they still differ without.
void shorten(std::vector<SourcePart>& parts) {
    std::set<std::string> datasets;
    std::size_t longest = 1;
    for (const SourcePart& part : parts) {
        const std::filesystem::path path(part.dataset);
        datasets.insert(part.dataset);
        longest =
            std::max(longest, static_cast<std::size_t>(std::distance(path.begin(), path.end())));
    }
    for (std::size_t count = 1; count <= longest; ++count) {
        std::set<std::string> ends;
        for (const std::string& dataset : datasets) {
            ends.insert(end_of(dataset, count));
        }
        if (ends.size() == datasets.size()) {
            for (SourcePart& part : parts) {
                part.dataset = end_of(part.dataset, count);
            }
            return;
        }
    }
}

void list_layer(Context& context, AssetLayer which) {
    const LayerRecord& record = context.record(which);
    std::size_t end = record.fids.size();
    std::vector<LayerRead> rows;
    const std::vector<gis::Layer*> parts = context.source.parts(which);
    for (std::size_t i = parts.size(); i-- > 0;) {
        const SourcePart& part = record.parts[i];
        rows.push_back({which, parts[i]->dataset_name(), part.dataset, part.layer,
                        static_cast<std::int64_t>(end - part.first),
                        system_text(context, *parts[i])});
        end = part.first;
    }
    context.result.read.insert(context.result.read.end(), rows.rbegin(), rows.rend());
}

void finish(Context& context) {
    ReadResult& result = context.result;
    for (std::size_t i = 0; i < base::kAssetLayerCount; ++i) {
        LayerRecord& record = context.records[i];
        if (!result.layers.has_layer[i]) {
            continue;
        }
        shorten(record.parts);
        list_layer(context, static_cast<AssetLayer>(i));
        record.known.report(static_cast<AssetLayer>(i), result.layers.text, result.completeness);
        result.position_of_feature[i] = std::move(record.order.positions);
        result.fid_of_feature[i] = std::move(record.fids);
        result.parts[i] = std::move(record.parts);
    }
    std::sort(result.completeness.begin(), result.completeness.end(),
              [](const Completeness& a, const Completeness& b) {
                  return std::tie(a.layer, a.attribute, a.area) <
                         std::tie(b.layer, b.attribute, b.area);
              });
    if (context.record(AssetLayer::columns).known.has_too_many_areas()) {
        result.assumptions.push_back("The field area of the layer columns has more than " +
                                     std::to_string(KnownCounts::kMostAreas) +
                                     " values: completeness is counted for all areas together.");
    }
}

} // namespace

ReadResult read_layers(Source& source, const config::Job& job,
                       const catalogue::Catalogue& catalogue, base::FindingSink& findings,
                       base::Progress& progress) {
    check_missing(job.data);
    check_values(job.data);
    check_types(job.data, catalogue);
    std::vector<std::string> assumptions;
    Context context{source,   job,      catalogue,
                    findings, progress, choose_systems(source, job.network.crs, assumptions)};
    context.result.part = source.part();
    if (!source.part().empty()) {
        assumptions.push_back("Only a part of the records was read: " + source.part() +
                              ". Circuits that leave it look untraced or end early.");
    }
    context.result.assumptions = std::move(assumptions);
    context.result.working = context.systems.working;
    context.result.cables = context.systems.cables;
    read_all(context);
    report_all(context);
    finish(context);
    return std::move(context.result);
}

} // namespace loopwalk::input
