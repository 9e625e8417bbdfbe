#include "field_tables.hpp"

#include "loopwalk/base/error.hpp"

#include <algorithm>

namespace loopwalk::input {

namespace {

using Rule = NumberRule;

template <class T>
const std::vector<FieldReader<T>>& checked(base::AssetLayer layer,
                                           const std::vector<FieldReader<T>>& readers) {
    const auto& fields = contract_fields(layer);
    LW_ASSERT(std::equal(
        readers.begin(), readers.end(), fields.begin(), fields.end(),
        [](const auto& reader, const auto& field) { return reader.name == field.name; }));
    return readers;
}

} // namespace

template <>
const std::vector<FieldReader<model::Column>>& field_readers() {
    using C = model::Column;
    static const std::vector<FieldReader<C>> readers{
        label<&C::id>("column_id"),
        coded<&C::kind, kColumnKinds>("kind"),
        label<&C::road>("road"),
        label<&C::area>("area"),
        coded<&C::owner, kOwners>("owner"),
        coded<&C::feed, kFeeds>("feed"),
        label<&C::circuit>("circuit"),
        coded<&C::phase, kPhases>("phase"),
        coded<&C::control, kControls>("control"),
        number<&C::load, Rule::not_negative>("load_w"),
        number<&C::power_factor, Rule::power_factor>("power_factor"),
        fuse_type<&C::fuse>("fuse_type"),
        fuse_rating<&C::fuse>("fuse_a"),
        number<&C::breaking_ka, Rule::above_zero>("fuse_breaking_ka"),
        coded<&C::poles, kPoles>("poles"),
        number<&C::rcd_ma, Rule::not_negative>("rcd_ma"), // 0: recorded as having none
        number<&C::limit, Rule::above_zero>("limit_s"),
        cable_type<&C::tail_type>("tail_type"),
        number<&C::tail, Rule::not_negative>("tail_m"),
        number<&C::height, Rule::not_negative>("height_m"),
        coded<&C::earthing, kEarthings>("earthing"),
        number<&C::electrode, Rule::not_negative>("electrode_ohm"),
        coded_or<&C::status, kStatuses, model::Status::unclear>("status"),
    };
    return checked(base::AssetLayer::columns, readers);
}

template <>
const std::vector<FieldReader<model::Cable>>& field_readers() {
    using C = model::Cable;
    static const std::vector<FieldReader<C>> readers{
        label<&C::id>("cable_id"),
        cable_type<&C::type>("cable_type"),
        label<&C::circuit>("circuit"),
        number<&C::laid, Rule::above_zero>("length_m"),
        coded<&C::owner, kOwners>("owner"),
        coded<&C::control, kControls>("control"),
        coded_or<&C::status, kStatuses, model::Status::unclear>("status"),
    };
    return checked(base::AssetLayer::cables, readers);
}

template <>
const std::vector<FieldReader<model::Supply>>& field_readers() {
    using S = model::Supply;
    static const std::vector<FieldReader<S>> readers{
        label<&S::id>("supply_id"),
        coded<&S::kind, kSupplyKinds>("kind"),
        coded<&S::earthing, kEarthings>("earthing"),
        number<&S::ze, Rule::not_negative>("ze_ohm"),
        number<&S::ze_r, Rule::not_negative>("ze_r_ohm"),
        number<&S::ze_x, Rule::not_negative>("ze_x_ohm"),
        coded<&S::ze_basis, kBases>("ze_basis"),
        number<&S::pscc_ka, Rule::above_zero>("pscc_ka"),
        number<&S::pscc3_ka, Rule::above_zero>("pscc3_ka"),
        coded<&S::pscc_basis, kBases>("pscc_basis"),
        number<&S::voltage, Rule::above_zero>("voltage_v"),
        number<&S::phases, Rule::one_or_three>("phases"),
        fuse_type<&S::fuse>("fuse_type"),
        fuse_rating<&S::fuse>("fuse_a"),
        number<&S::rcd_ma, Rule::not_negative>("rcd_ma"),
        number<&S::electrode, Rule::not_negative>("electrode_ohm"),
        number<&S::transformer_kva, Rule::above_zero>("transformer_kva"),
        number<&S::transformer_z_pct, Rule::above_zero>("transformer_z_pct"),
        number<&S::transformer_r_pct, Rule::not_negative>("transformer_r_pct"),
        coded_or<&S::status, kStatuses, model::Status::unclear>("status"),
    };
    return checked(base::AssetLayer::supplies, readers);
}

template <>
const std::vector<FieldReader<model::WayRow>>& field_readers() {
    using W = model::WayRow;
    static const std::vector<FieldReader<W>> readers{
        label<&W::supply_id>("supply_id"),
        label<&W::way>("way"),
        label<&W::circuit>("circuit"),
        coded<&W::phase, kPhases>("phase"),
        coded<&W::control, kControls>("control"),
        fuse_type<&W::fuse>("fuse_type"),
        fuse_rating<&W::fuse>("fuse_a"),
        number<&W::rcd_ma, Rule::not_negative>("rcd_ma"),
        number<&W::limit, Rule::above_zero>("limit_s"),
    };
    return checked(base::AssetLayer::ways, readers);
}

template <>
const std::vector<FieldReader<model::Joint>>& field_readers() {
    using J = model::Joint;
    static const std::vector<FieldReader<J>> readers{
        label<&J::id>("joint_id"),
        coded<&J::kind, kJointKinds>("kind"),
        fuse_type<&J::fuse>("fuse_type"),
        fuse_rating<&J::fuse>("fuse_a"),
    };
    return checked(base::AssetLayer::joints, readers);
}

template <>
const std::vector<FieldReader<model::Main>>& field_readers() {
    using M = model::Main;
    static const std::vector<FieldReader<M>> readers{
        label<&M::id>("main_id"),
        cable_type<&M::type>("cable_type"),
        number<&M::laid, Rule::above_zero>("length_m"),
        number<&M::customers, Rule::not_negative>("customers"),
    };
    return checked(base::AssetLayer::mains, readers);
}

template <>
const std::vector<FieldReader<model::Termination>>& field_readers() {
    using T = model::Termination;
    static const std::vector<FieldReader<T>> readers{
        label<&T::asset_id>("asset_id"), label<&T::cable_id>("cable_id"),
        asset_layer<T>("asset_layer"),   coded<&T::state, kEndStates>("state"),
        coded<&T::side, kSides>("side"), coded<&T::earth, kBonds>("earth"),
    };
    return checked(base::AssetLayer::terminations, readers);
}

template <>
const std::vector<FieldReader<model::Load>>& field_readers() {
    using L = model::Load;
    static const std::vector<FieldReader<L>> readers{
        label<&L::column_id>("column_id"),
        label<&L::use>("use"),
        number<&L::load, Rule::not_negative>("load_w"),
        number<&L::power_factor, Rule::power_factor>("power_factor"),
        fuse_type<&L::fuse>("fuse_type"),
        fuse_rating<&L::fuse>("fuse_a"),
        coded<&L::phase, kPhases>("phase"),
        number<&L::rcd_ma, Rule::not_negative>("rcd_ma"),
        number<&L::limit, Rule::above_zero>("limit_s"),
    };
    return checked(base::AssetLayer::loads, readers);
}

template <>
const std::vector<FieldReader<model::Reading>>& field_readers() {
    using R = model::Reading;
    static const std::vector<FieldReader<R>> readers{
        label<&R::asset_id>("asset_id"),
        asset_layer<R>("asset_layer"),
        date<&R::taken_on>("taken_on"),
        coded<&R::taken_at, kPlacesTaken>("taken_at"),
        number<&R::zs, Rule::not_negative>("zs_ohm"),
        number<&R::ra, Rule::not_negative>("ra_ohm"),
        number<&R::pscc_ka, Rule::above_zero>("pscc_ka"),
        number<&R::conductor, Rule::any>("conductor_c"),
        coded<&R::method, kMethods>("method"),
    };
    return checked(base::AssetLayer::readings, readers);
}

namespace {

template <class T>
std::vector<AllowedValue> allowed() {
    std::vector<AllowedValue> values;
    for (const FieldReader<T>& reader : field_readers<T>()) {
        values.push_back({reader.words, reader.rule, reader.holds});
    }
    return values;
}

} // namespace

std::vector<AllowedValue> allowed_values(base::AssetLayer layer) {
    switch (layer) {
    case base::AssetLayer::columns:
        return allowed<model::Column>();
    case base::AssetLayer::cables:
        return allowed<model::Cable>();
    case base::AssetLayer::supplies:
        return allowed<model::Supply>();
    case base::AssetLayer::ways:
        return allowed<model::WayRow>();
    case base::AssetLayer::joints:
        return allowed<model::Joint>();
    case base::AssetLayer::mains:
        return allowed<model::Main>();
    case base::AssetLayer::terminations:
        return allowed<model::Termination>();
    case base::AssetLayer::loads:
        return allowed<model::Load>();
    case base::AssetLayer::readings:
        return allowed<model::Reading>();
    }
    return {};
}

} // namespace loopwalk::input
