// What leaves breaking capacity and heat open: the prospective current of a supply, the capacity of
// a cut-out's fuse, the fuses of ways and joints.
#include "surveyor.hpp"
#include <algorithm>

namespace loopwalk::survey {

using base::AssetLayer;
using base::DeviceId;
using model::FuseRecord;
using protection::BreakingCase;

namespace {

/// One current for each value of what is missing.
bool is_exact(const BreakingCase& what) {
    return what.low_ka.has_value() && what.high_ka.has_value() && *what.low_ka == *what.high_ka;
}

bool is_one_capacity(const BreakingCase& what) {
    return what.range.is_known && what.range.lowest == what.range.highest;
}

} // namespace

/// With a `word` it counts for all records that have it, too.
void Surveyor::count(const Key& key, base::TextId word, bool is_settled) {
    const auto add = [&](const Key& to) {
        auto& [settled, touched] = m_counts[to];
        settled += is_settled ? 1U : 0U;
        ++touched;
    };
    add(key);
    if (word.is_valid()) {
        add({key.layer, {}, key.attribute, word});
    }
}

/// A source that is weak enough meets, whatever else is missing; each value decides where capacity
/// and path leave nothing open.
void Surveyor::try_breaking(ColumnId id) {
    const std::string supply = m_explain.supply_name(m_in.figures.columns[id.index()].infeed);
    const Key pscc{AssetLayer::supplies, supply, "pscc_ka", {}};
    const protection::Heat::PsccWorth heat = m_judge.heat().worth_of_pscc(id);
    if (!supply.empty() && heat.touches) {
        count(pscc, {}, heat.settles);
    }
    const protection::CutOutBreaking now = m_judge.breaking().of_column(id);
    if (now.verdict != Verdict::undecided) {
        return;
    }
    if (!supply.empty() && now.what.pscc_missing && now.what.range.is_known) {
        count(pscc, {}, is_exact(now.what) && is_one_capacity(now.what));
    }
    const model::Column& column = m_in.layers.columns[id.index()];
    if (column.fuse.word != FuseRecord::Word::none && !column.breaking_ka.has_value() &&
        m_judge.loads().rows(id).empty() && now.what.high_ka.has_value()) {
        count({AssetLayer::columns, name(id), "fuse_breaking_ka", {}}, {},
              is_exact(now.what) && !now.what.pscc_missing);
    }
}

void Surveyor::try_devices() {
    for (std::size_t d = 0; d < m_in.network.devices.size(); ++d) {
        if (m_judge.breaking().of_device(DeviceId(d)).verdict == Verdict::undecided) {
            try_breaking_of(DeviceId(d));
        }
    }
}

void Surveyor::try_breaking_of(DeviceId id) {
    const protection::DeviceBreaking now = m_judge.breaking().of_device(id);
    if (now.supply.has_value() && now.what.pscc_missing && now.what.range.is_known) {
        const base::TextId supply = m_in.layers.supplies[now.supply->index()].id;
        count({AssetLayer::supplies, m_in.layers.id_text(supply), "pscc_ka", {}}, {},
              is_exact(now.what) && is_one_capacity(now.what));
    }
    const network::Device& device = m_in.network.devices[id.index()];
    const bool is_joint = device.kind == network::DeviceKind::joint;
    const bool has_row = !is_joint && m_in.network.ways[device.owner].row.is_valid();
    const AssetLayer layer = is_joint  ? AssetLayer::joints
                             : has_row ? AssetLayer::ways
                                       : AssetLayer::supplies;
    const FuseStandIns& stand_ins = is_joint  ? m_in.assumptions.joint_fuse
                                    : has_row ? m_in.assumptions.way_fuse
                                              : m_in.assumptions.supply_fuse;
    const std::string owner =
        layer == AssetLayer::supplies
            ? m_in.layers.id_text(
                  m_in.layers.supplies[m_in.network.ways[device.owner].supply.index()].id)
            : m_explain.device_name(id);
    for (const FuseValues& known : values_of(device.fuse, stand_ins)) {
        std::size_t decided = 0;
        for (const DeviceChoices& choices : known.devices) {
            BreakingCase then = now.what;
            then.range = breaking_range(choices);
            decided += is_decided(breaking_verdict(then)) ? 1U : 0U;
        }
        if (decided > 0) {
            count({layer, owner, known.attribute, {}}, unknown_word(device.fuse),
                  decided == known.devices.size());
        }
    }
}

} // namespace loopwalk::survey
