#include "compare.hpp"

#include <algorithm>

namespace loopwalk::input {

using base::TextPool;

int compare(const model::Column& a, const model::Column& b, const TextPool& t) {
    using C = model::Column;
    return Comparison(t)
        .by_members(a, b, &C::has_place, &C::place, &C::circuit, &C::area, &C::kind, &C::owner,
                    &C::feed, &C::phase, &C::control, &C::poles, &C::earthing, &C::status)
        .by_members(a, b, &C::fuse, &C::tail_type, &C::load, &C::power_factor, &C::breaking_ka,
                    &C::rcd_ma, &C::limit, &C::tail, &C::height, &C::electrode)
        .result();
}

int compare_attributes(const model::Cable& a, const model::Cable& b, const TextPool& t) {
    using C = model::Cable;
    return Comparison(t)
        .by_members(a, b, &C::circuit, &C::type, &C::laid, &C::owner, &C::control, &C::status)
        .result();
}

int compare(const model::Supply& a, const model::Supply& b, const TextPool& t) {
    using S = model::Supply;
    return Comparison(t)
        .by_members(a, b, &S::has_place, &S::place, &S::kind, &S::earthing, &S::status, &S::phases,
                    &S::ze, &S::ze_r, &S::ze_x, &S::ze_basis, &S::pscc_ka, &S::pscc3_ka)
        .by_members(a, b, &S::pscc_basis, &S::voltage, &S::fuse, &S::rcd_ma, &S::electrode,
                    &S::transformer_kva, &S::transformer_z_pct, &S::transformer_r_pct)
        .result();
}

int compare(const model::WayRow& a, const model::WayRow& b, const TextPool& t) {
    using W = model::WayRow;
    return Comparison(t)
        .by_members(a, b, &W::supply_id, &W::way, &W::circuit, &W::phase, &W::control, &W::fuse,
                    &W::rcd_ma, &W::limit)
        .result();
}

int compare(const model::Joint& a, const model::Joint& b, const TextPool& t) {
    using J = model::Joint;
    return Comparison(t).by_members(a, b, &J::has_place, &J::place, &J::kind, &J::fuse).result();
}

int compare(const model::Main& a, const model::Main& b, const TextPool& t) {
    using M = model::Main;
    if (a.lines != b.lines) {
        return a.lines < b.lines ? -1 : 1;
    }
    return Comparison(t).by_members(a, b, &M::type, &M::laid, &M::customers).result();
}

int compare(const model::Termination& a, const model::Termination& b, const TextPool& t) {
    using T = model::Termination;
    return Comparison(t)
        .by_members(a, b, &T::asset_id, &T::cable_id, &T::has_layer, &T::asset_layer, &T::state,
                    &T::side, &T::earth)
        .result();
}

int compare(const model::Load& a, const model::Load& b, const TextPool& t) {
    using L = model::Load;
    return Comparison(t)
        .by_members(a, b, &L::column_id, &L::use, &L::load, &L::power_factor, &L::fuse, &L::phase,
                    &L::rcd_ma, &L::limit)
        .result();
}

int compare(const model::Reading& a, const model::Reading& b, const TextPool& t) {
    using R = model::Reading;
    return Comparison(t)
        .by_members(a, b, &R::asset_id, &R::has_layer, &R::asset_layer, &R::taken_at, &R::method,
                    &R::zs, &R::ra, &R::pscc_ka, &R::conductor)
        .result();
}

} // namespace loopwalk::input
