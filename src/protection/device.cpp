#include "loopwalk/protection/device.hpp"

#include <algorithm>
#include <limits>

namespace loopwalk::protection {
namespace {

using base::Ampere;
using base::Maybe;
using catalogue::Catalogue;
using catalogue::FuseType;
using model::FuseRecord;

std::vector<const FuseType*> types_for(const FuseRecord& fuse, const Catalogue& catalogue,
                                       const FuseStandIns& stand_ins) {
    if (fuse.word == FuseRecord::Word::known) {
        return {&catalogue.fuse(fuse.type)};
    }
    std::vector<const FuseType*> types;
    for (const base::FuseTypeId id : stand_ins.types) {
        types.push_back(&catalogue.fuse(id));
    }
    if (types.empty()) {
        for (const FuseType& type : catalogue.fuses()) {
            if (type.kind == catalogue::FuseKind::fuse) {
                types.push_back(&type);
            }
        }
    }
    return types;
}

} // namespace

DeviceChoice device_choice(const FuseType& type, Ampere rating) {
    DeviceChoice choice;
    choice.type = &type;
    choice.rating = rating;
    choice.edges = catalogue::slow_edges(type, rating);
    if (const catalogue::FuseRating* row = type.rating(rating); row != nullptr) {
        choice.breaking_ka = row->breaking_ka;
        choice.prearcing_i2t = row->prearcing_i2t;
        choice.total_i2t = row->total_i2t;
        choice.holder = row->holder;
    }
    choice.is_gg = type.is_gg;
    choice.is_current_limiting = type.is_current_limiting;
    choice.overload_factor = catalogue::overload_factor(type, rating);
    return choice;
}

DeviceChoices choices_of(const FuseRecord& fuse, const Catalogue& catalogue,
                         const FuseStandIns& stand_ins) {
    DeviceChoices device;
    if (fuse.word == FuseRecord::Word::none) {
        return device;
    }
    device.type_missing = fuse.word != FuseRecord::Word::known;
    device.rating_missing = !fuse.rating.has_value();
    std::vector<Ampere> ratings = stand_ins.ratings;
    if (fuse.rating.has_value()) {
        ratings = {*fuse.rating};
    }
    for (const FuseType* type : types_for(fuse, catalogue, stand_ins)) {
        for (const Ampere rating : ratings) {
            // A missing type can only be one that is made in this rating.
            if (device.type_missing && type->rating(rating) == nullptr) {
                continue;
            }
            device.any_of.push_back(device_choice(*type, rating));
            device.curve_missing = device.curve_missing ||
                                   (!device.type_missing && !device.any_of.back().edges.is_own);
        }
    }
    return device;
}

LimitCurrents limit_currents(const DeviceChoices& device, base::Second limit) {
    LimitCurrents found;
    bool all_certain = !device.any_of.empty();
    bool all_possible = !device.any_of.empty();
    for (const DeviceChoice& choice : device.any_of) {
        const auto late = choice.edges.late == nullptr
                              ? Maybe<Ampere>{}
                              : catalogue::slow_current(*choice.edges.late, limit);
        const auto early = choice.edges.early == nullptr
                               ? Maybe<Ampere>{}
                               : catalogue::slow_current(*choice.edges.early, limit);
        all_certain = all_certain && late.has_value();
        all_possible = all_possible && early.has_value();
        if (late.has_value() && (!found.certain.has_value() || *late > *found.certain)) {
            found.certain = late;
        }
        if (early.has_value() && (!found.possible.has_value() || *early < *found.possible)) {
            found.possible = early;
        }
    }
    if (!all_certain) {
        found.certain = {};
    }
    if (!all_possible) {
        found.possible = {};
    }
    return found;
}

catalogue::OperatingTime longest_time(const DeviceChoices& device, Ampere current) {
    catalogue::OperatingTime longest;
    for (const DeviceChoice& choice : device.any_of) {
        if (choice.edges.late == nullptr) {
            return {};
        }
        const auto time = catalogue::slow_time(*choice.edges.late, current);
        if (time.state == catalogue::TimeState::not_within_table) {
            return time;
        }
        if (longest.state == catalogue::TimeState::not_within_table || time.time > longest.time) {
            longest = time;
        }
    }
    return longest;
}

BreakingRange breaking_range(const DeviceChoices& device) {
    BreakingRange range{!device.any_of.empty(), std::numeric_limits<double>::max(), 0.0};
    for (const DeviceChoice& choice : device.any_of) {
        range.is_known = range.is_known && choice.breaking_ka.has_value();
        if (choice.breaking_ka.has_value()) {
            range.lowest = std::min(range.lowest, (*choice.breaking_ka).value());
            range.highest = std::max(range.highest, (*choice.breaking_ka).value());
        }
    }
    if (!range.is_known) {
        range.highest = std::numeric_limits<double>::max();
    }
    return range;
}

bool can_break(double capacity_ka, double current_ka) noexcept {
    constexpr double kRounding = 1e-9;
    return current_ka <= capacity_ka * (1.0 + kRounding);
}

const DeviceChoices& DeviceBook::of(const FuseRecord& fuse, base::AssetLayer layer) {
    const Key key{layer, fuse.word, fuse.type, fuse.rating.value_or(Ampere(-1.0)).value()};
    const auto known = m_known.find(key);
    if (known != m_known.end()) {
        return known->second;
    }
    const FuseStandIns none;
    const FuseStandIns* stand_ins = &none;
    switch (layer) {
    case base::AssetLayer::columns:
        stand_ins = &m_assumptions.column_fuse;
        break;
    case base::AssetLayer::ways:
        stand_ins = &m_assumptions.way_fuse;
        break;
    case base::AssetLayer::supplies:
        stand_ins = &m_assumptions.supply_fuse;
        break;
    case base::AssetLayer::joints:
        stand_ins = &m_assumptions.joint_fuse;
        break;
    case base::AssetLayer::loads:
        stand_ins = &m_assumptions.load_fuse;
        break;
    case base::AssetLayer::cables:
    case base::AssetLayer::mains:
    case base::AssetLayer::terminations:
    case base::AssetLayer::readings:
        break;
    }
    return m_known.emplace(key, choices_of(fuse, m_catalogue, *stand_ins)).first->second;
}

} // namespace loopwalk::protection
