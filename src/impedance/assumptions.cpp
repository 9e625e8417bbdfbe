#include "loopwalk/impedance/assumptions.hpp"

#include "loopwalk/base/error.hpp"

#include <algorithm>

namespace loopwalk::impedance {
namespace {

using base::AssetLayer;
using base::Bounds;
using base::ConfigError;
using catalogue::CableUse;
using catalogue::Catalogue;

const config::MissingValue* find(const config::Job& job, AssetLayer layer, std::string_view field) {
    for (const config::MissingValue& value : job.data.of(layer).missing) {
        if (value.field == field) {
            return &value;
        }
    }
    return nullptr;
}

template <class Q>
std::optional<Bounds<Q>> range(const config::Job& job, AssetLayer layer, std::string_view field) {
    const config::MissingValue* value = find(job, layer, field);
    if (value == nullptr || !value->range.has_value()) {
        return std::nullopt;
    }
    return Bounds<Q>{Q(value->range->low.value()), Q(value->range->high.value())};
}

std::string where(AssetLayer layer, std::string_view field) {
    return "[" + std::string(base::layer_name(layer)) + "] missing." + std::string(field);
}

std::vector<base::CableTypeId> cables_named(const config::MissingValue& value, AssetLayer layer,
                                            const Catalogue& catalogue) {
    std::vector<base::CableTypeId> types;
    for (const std::string& word : value.words) {
        const auto id = catalogue.find_cable(word);
        if (!id.has_value()) {
            throw ConfigError(where(layer, value.field) + ": the catalogue has no cable type '" +
                              word + "'.");
        }
        types.push_back(*id);
    }
    return types;
}

CablePerKm box(const Catalogue& catalogue, const std::vector<base::CableTypeId>& types,
               double armour_ac_factor, ArmourBond bond) {
    std::vector<CablePerKm> each;
    each.reserve(types.size());
    for (const base::CableTypeId type : types) {
        each.push_back(per_km(catalogue.cable(type), armour_ac_factor, bond));
    }
    return envelope(each);
}

template <class Admit>
std::vector<base::CableTypeId> cables_where(const Catalogue& catalogue, Admit admit) {
    std::vector<base::CableTypeId> types;
    for (std::size_t t = 0; t < catalogue.cables().size(); ++t) {
        if (admit(catalogue.cables()[t])) {
            types.emplace_back(t);
        }
    }
    return types;
}

std::vector<base::CableTypeId> circuit_cables(const Catalogue& catalogue) {
    return cables_where(
        catalogue, [](const catalogue::CableType& type) { return type.use == CableUse::circuit; });
}

std::vector<base::CableTypeId> tails(const Catalogue& catalogue, const Bounds<base::Number>& csa) {
    return cables_where(catalogue, [&](const catalogue::CableType& type) {
        return type.use == CableUse::tail && type.line.csa.has_value() &&
               (*type.line.csa).value() >= csa.low.value() &&
               (*type.line.csa).value() <= csa.high.value();
    });
}

FuseStandIns fuse_stand_ins(const config::Job& job, AssetLayer layer, const Catalogue& catalogue) {
    FuseStandIns stand_ins;
    if (const auto* types = find(job, layer, "fuse_type"); types != nullptr) {
        for (const std::string& word : types->words) {
            const auto id = catalogue.find_fuse(word);
            if (!id.has_value()) {
                throw ConfigError(where(layer, "fuse_type") +
                                  ": the catalogue has no device type '" + word + "'.");
            }
            stand_ins.types.push_back(*id);
        }
    }
    if (const auto ratings = range<base::Ampere>(job, layer, "fuse_a"); ratings.has_value()) {
        // Every standard rating between the two may be there; the extremes bound them.
        for (const catalogue::FuseType& type : catalogue.fuses()) {
            for (const catalogue::FuseRating& rating : type.ratings) {
                if (rating.rating >= ratings->low && rating.rating <= ratings->high) {
                    stand_ins.ratings.push_back(rating.rating);
                }
            }
        }
        stand_ins.ratings.push_back(ratings->low);
        stand_ins.ratings.push_back(ratings->high);
        std::ranges::sort(stand_ins.ratings);
        stand_ins.ratings.erase(std::unique(stand_ins.ratings.begin(), stand_ins.ratings.end()),
                                stand_ins.ratings.end());
    }
    return stand_ins;
}

void set_cables(Assumptions& a, const config::Job& job, const Catalogue& catalogue) {
    const config::MissingValue* stock = find(job, AssetLayer::cables, "cable_type");
    a.missing_cable_types = stock != nullptr && !stock->words.empty()
                                ? cables_named(*stock, AssetLayer::cables, catalogue)
                                : circuit_cables(catalogue);
    const auto& types = a.missing_cable_types;
    if (types.empty()) {
        throw ConfigError("The catalogue has no circuit cable to stand for a missing cable type.");
    }
    a.missing_cable = box(catalogue, types, job.rules.armour_ac_factor, ArmourBond::bonded);
    a.missing_cable_unbonded =
        box(catalogue, types, job.rules.armour_ac_factor, ArmourBond::not_bonded);
    a.used.push_back("A missing cable type may be any of " + std::to_string(types.size()) +
                     " cable types of the catalogue.");
    const config::MissingValue* mains = find(job, AssetLayer::mains, "cable_type");
    auto main_types = mains != nullptr && !mains->words.empty()
                          ? cables_named(*mains, AssetLayer::mains, catalogue)
                          : cables_where(catalogue, [](const catalogue::CableType& type) {
                                return type.use == CableUse::main;
                            });
    if (main_types.empty()) {
        main_types = types; // a catalogue without mains
    }
    a.missing_main = box(catalogue, main_types, job.rules.armour_ac_factor, ArmourBond::bonded);
    const config::MissingValue* tail = find(job, AssetLayer::columns, "tail_type");
    a.missing_tail_types = tail != nullptr && !tail->words.empty()
                               ? cables_named(*tail, AssetLayer::columns, catalogue)
                               : tails(catalogue, job.rules.tail_csa_mm2);
    if (a.missing_tail_types.empty()) {
        return; // whether one is needed, the records tell: check_tails()
    }
    a.missing_tail =
        box(catalogue, a.missing_tail_types, job.rules.armour_ac_factor, ArmourBond::bonded);
}

} // namespace

Assumptions resolve_assumptions(const config::Job& job, const Catalogue& catalogue) {
    Assumptions a;
    set_cables(a, job, catalogue);
    a.load = range<base::Watt>(job, AssetLayer::columns, "load_w").value_or(job.rules.load);
    a.use_load = range<base::Watt>(job, AssetLayer::loads, "load_w").value_or(job.rules.load);
    a.power_factor = range<base::Number>(job, AssetLayer::columns, "power_factor")
                         .value_or(job.rules.power_factor);
    a.cable_length = range<base::Metre>(job, AssetLayer::cables, "length_m");
    a.tail = range<base::Metre>(job, AssetLayer::columns, "tail_m");
    a.height = range<base::Metre>(job, AssetLayer::columns, "height_m")
                   .value_or(Bounds<base::Metre>{base::Metre(0.0), job.rules.height_high});
    a.ze = range<base::Ohm>(job, AssetLayer::supplies, "ze_ohm");
    a.pscc_ka = range<base::Number>(job, AssetLayer::supplies, "pscc_ka");
    a.column_fuse = fuse_stand_ins(job, AssetLayer::columns, catalogue);
    a.way_fuse = fuse_stand_ins(job, AssetLayer::ways, catalogue);
    a.supply_fuse = fuse_stand_ins(job, AssetLayer::supplies, catalogue);
    a.joint_fuse = fuse_stand_ins(job, AssetLayer::joints, catalogue);
    a.load_fuse = fuse_stand_ins(job, AssetLayer::loads, catalogue);
    return a;
}

void check_tails(const model::Layers& layers, const Assumptions& assumptions) {
    const bool is_needed = std::ranges::any_of(layers.columns, [](const model::Column& column) {
        return !column.tail_type.type.is_valid();
    });
    if (is_needed && assumptions.missing_tail_types.empty()) {
        throw ConfigError("The catalogue has no tail within rules.tail_csa_mm2 to stand for a "
                          "missing tail_type of a column. Add one to the catalogue's cables, or "
                          "name one: [columns] missing = { tail_type = \"...\" }");
    }
}

Bounds<base::Metre> tail_length(const model::Column& column, const Assumptions& assumptions,
                                const config::Rules& rules) {
    if (column.tail.has_value()) {
        return Bounds<base::Metre>::exactly(*column.tail);
    }
    if (assumptions.tail.has_value()) {
        return *assumptions.tail;
    }
    return {base::Metre(0.0),
            column.height.value_or(assumptions.height.high) + rules.tail_beyond_height};
}

} // namespace loopwalk::impedance
