#include "way_fuse.hpp"

#include "loopwalk/protection/discrimination.hpp"

#include <algorithm>

namespace loopwalk::checks {

using base::Ampere;
using base::Maybe;
using base::Number;

void WayFuses::add(InfeedId infeed, ColumnId column, const Judgement& judgement) {
    Sum& sum = m_ways[infeed.index()];
    if (judgement.in.device != m_in.network.device_of(infeed)) {
        return; // a fuse further on protects it
    }
    if (!judgement.fuse_max.has_value()) {
        sum.is_open = true;
        return;
    }
    if (!sum.max.has_value() || *judgement.fuse_max < *sum.max) {
        sum.max = judgement.fuse_max;
    }
    if (judgement.fuse_min.has_value() &&
        (!sum.min.has_value() || *judgement.fuse_min > *sum.min)) {
        sum.min = judgement.fuse_min;
    }
    const auto rating_of = [&](ColumnId id) {
        return id.is_valid() ? m_in.layers.columns[id.index()].fuse.rating : Maybe<Ampere>{};
    };
    const auto own = rating_of(column);
    const auto largest = rating_of(sum.cut_out);
    if (own.has_value() && (!largest.has_value() || *own > *largest)) {
        sum.cut_out = column;
    }
}

const catalogue::FuseType* WayFuses::type_of(InfeedId infeed) const {
    const DeviceId device = m_in.network.device_of(infeed);
    if (!device.is_valid() || m_devices.is_distributors(device)) {
        return nullptr;
    }
    const auto& choices = m_devices.choices(device);
    return choices.any_of.size() == 1 ? choices.any_of[0].type : nullptr;
}

void WayFuses::settle(InfeedId infeed, InfeedSummary& summary) const {
    const Sum& sum = m_ways[infeed.index()];
    const catalogue::FuseType* type = type_of(infeed);
    if (type == nullptr || !sum.min.has_value()) {
        return;
    }
    const auto leaves_cut_outs = [&](Ampere rating) {
        if (!sum.cut_out.is_valid()) {
            return true;
        }
        const protection::DeviceChoices candidate{
            .any_of = {protection::device_choice(*type, rating)}};
        const auto& lower = m_devices.choices(m_in.layers.columns[sum.cut_out.index()].fuse,
                                              base::AssetLayer::columns);
        return protection::discrimination(lower, candidate, m_in.rules).verdict !=
               protection::Discriminates::no;
    };
    const auto least = std::ranges::find_if(type->ratings, [&](const auto& rating) { // ascending
        return rating.rating >= *sum.min && leaves_cut_outs(rating.rating);
    });
    if (least != type->ratings.end()) {
        summary.fuse_min = least->rating;
    }
    if (!sum.is_open) {
        summary.fuse_max = sum.max;
    }
}

Maybe<Number> WayFuses::margin(InfeedId infeed, Ampere rating, const Side& side,
                               const impedance::Source& source) const {
    const catalogue::FuseType* type = type_of(infeed);
    const catalogue::FuseRating* row = type != nullptr ? type->rating(rating) : nullptr;
    if (row == nullptr || !side.zs_high.has_value() || !side.limit.has_value()) {
        return {};
    }
    const Maybe<Ampere> needed = catalogue::slow_current(row->slow, *side.limit);
    if (!needed.has_value()) {
        return {};
    }
    return Number(source.u0 * m_in.rules.cmin / *needed / *side.zs_high);
}

} // namespace loopwalk::checks
