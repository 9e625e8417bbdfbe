#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include "key_table.hpp"

namespace loopwalk::config {

namespace {

[[noreturn]] void fail(const std::string& name, const std::string& message) {
    throw base::ConfigError(name + ": " + message);
}

std::string full_name(const Key& key) {
    return "[" + std::string(key.table) + "] " + std::string(key.name);
}

void check_number(const Key& key, double value, const Limits& limits) {
    if (!limits.admit(value)) { // also refuses what is not a number
        fail(full_name(key),
             base::number_text(value) + " is out of range: it must be " + limits_text(limits));
    }
}

void check_key(const Key& key, const Job& job) {
    if (const auto* number = std::get_if<NumberSlot>(&key.slot)) {
        check_number(key, number->get(job), number->limits);
    }
    if (const auto* range = std::get_if<RangeSlot>(&key.slot)) {
        const auto bounds = range->get(job);
        check_number(key, bounds.low.value(), range->limits);
        check_number(key, bounds.high.value(), range->limits);
        if (bounds.low > bounds.high) {
            fail(full_name(key), "the low end is above the high one: " + range_text(bounds));
        }
    }
}

void check_datasets(const DataSettings& data) {
    for (const auto layer : {base::AssetLayer::columns, base::AssetLayer::cables}) {
        for (const LayerSource* source : data.sources(layer)) {
            if (data.dataset.empty() && source->dataset.empty() && !source->is_absent) {
                fail("[data] dataset", "no dataset is named for the layer '" +
                                           std::string(base::layer_name(layer)) +
                                           "'; name one here or in the layer's own table");
            }
        }
    }
}

void check_places(const DataSettings& data) {
    for (std::size_t i = 0; i < base::kAssetLayerCount; ++i) {
        const auto layer = static_cast<base::AssetLayer>(i);
        for (const LayerSource* source : data.sources(layer)) {
            if (source->x.empty() != source->y.empty()) {
                fail("[" + std::string(base::layer_name(layer)) + "] " +
                         (source->x.empty() ? "y" : "x"),
                     "a place needs both; name the other field too");
            }
        }
    }
}

void check_part(const PartSettings& part) {
    const std::vector<double>& box = part.bbox;
    if (!box.empty() && !part.area.empty()) {
        fail("[data] bbox", "a box and an area exclude each other; name one of them");
    }
    if (box.empty() && !part.bbox_crs.empty()) {
        fail("[data] bbox_crs", "there is no box that it could be the system of");
    }
    if (!box.empty() && (box.size() != 4 || !(box[0] < box[2]) || !(box[1] < box[3]))) {
        fail("[data] bbox", "a box is xmin, ymin, xmax, ymax, the smaller before the larger");
    }
}

} // namespace

void check(const Job& job) {
    for (const Key& key : keys()) {
        check_key(key, job);
    }
    if (job.network.reach < job.network.snap) {
        fail("[network] reach_m", base::number_text(job.network.reach.value()) +
                                      " m is less than snap_m (" +
                                      base::number_text(job.network.snap.value()) +
                                      " m); a miss begins where snapping ends");
    }
    check_datasets(job.data);
    check_places(job.data);
    check_part(job.data.part);
}

} // namespace loopwalk::config
