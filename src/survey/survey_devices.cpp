// Fuses and tails of the survey.
#include "surveyor.hpp"
#include <algorithm>

namespace loopwalk::survey {

using base::AssetLayer;
using base::Bounds;
using base::DeviceId;
using base::Metre;
using impedance::Assumptions;
using impedance::Complex;
using impedance::tail_length;
using model::FuseRecord;
using protection::choices_of;

void Surveyor::try_device(ColumnId id) {
    const DeviceId device = m_in.figures.columns[id.index()].device;
    if (!device.is_valid()) {
        return;
    }
    const network::Device& of_network = m_in.network.devices[device.index()];
    const Assumptions& ranges = m_in.assumptions;
    const std::string name = m_explain.device_name(device);
    switch (of_network.kind) {
    case network::DeviceKind::way:
        if (m_in.network.ways[of_network.owner].row.is_valid()) {
            try_fuse(id, of_network.fuse, ranges.way_fuse, &Suppose::device, AssetLayer::ways,
                     name);
        } else {
            try_fuse(id, of_network.fuse, ranges.supply_fuse, &Suppose::device,
                     AssetLayer::supplies,
                     m_explain.supply_name(m_in.figures.columns[id.index()].infeed));
        }
        return;
    case network::DeviceKind::joint:
        try_fuse(id, of_network.fuse, ranges.joint_fuse, &Suppose::device, AssetLayer::joints,
                 name);
        return;
    case network::DeviceKind::cut_out:
        try_fuse(id, of_network.fuse, ranges.column_fuse, &Suppose::device, AssetLayer::columns,
                 name);
        return;
    case network::DeviceKind::distributor:
        return;
    }
}

void Surveyor::try_own_fuse(ColumnId id) {
    const FuseRecord& fuse = m_in.layers.columns[id.index()].fuse;
    if (fuse.word != FuseRecord::Word::none && m_judge.loads().rows(id).empty()) {
        try_fuse(id, fuse, m_in.assumptions.column_fuse, &Suppose::own, AssetLayer::columns,
                 name(id));
    }
}

/// What is not known of a fuse, one after the other: its type, with the rating as recorded or still
/// ranging; its rating, out of those that its type is made in.
void Surveyor::try_fuse(ColumnId id, const FuseRecord& fuse, const FuseStandIns& stand_ins,
                        const DeviceChoices* Suppose::*which, AssetLayer layer,
                        const std::string& name) {
    for (const FuseValues& known : values_of(fuse, stand_ins)) {
        std::vector<Suppose> values(known.devices.size());
        for (std::size_t v = 0; v < values.size(); ++v) {
            values[v].*which = &known.devices[v];
        }
        try_values(id, values, {layer, name, known.attribute, {}}, unknown_word(fuse));
    }
}

std::vector<FuseValues> Surveyor::values_of(const FuseRecord& fuse,
                                            const FuseStandIns& stand_ins) const {
    std::vector<FuseValues> known;
    const auto add = [&](const char* attribute, const std::vector<FuseRecord>& records) {
        FuseValues& values = known.emplace_back(FuseValues{attribute, {}});
        for (const FuseRecord& record : records) {
            values.devices.push_back(choices_of(record, m_in.catalogue, stand_ins));
        }
    };
    const bool has_type = fuse.word == FuseRecord::Word::known;
    if (!has_type && fuse.rating.has_value()) {
        std::vector<FuseRecord> records;
        for (std::size_t t = 0; t < m_in.catalogue.fuses().size(); ++t) {
            const base::FuseTypeId type(t);
            const bool may_be =
                stand_ins.types.empty()
                    ? m_in.catalogue.fuse(type).kind == catalogue::FuseKind::fuse
                    : std::ranges::find(stand_ins.types, type) != stand_ins.types.end();
            if (may_be && m_in.catalogue.fuse(type).rating(*fuse.rating) != nullptr) {
                records.push_back({FuseRecord::Word::known, type, {}, fuse.rating});
            }
        }
        add("fuse_type", records);
    }
    if (has_type && !fuse.rating.has_value()) {
        std::vector<FuseRecord> records;
        for (const catalogue::FuseRating& rating : m_in.catalogue.fuse(fuse.type).ratings) {
            records.push_back({FuseRecord::Word::known, fuse.type, {}, rating.rating});
        }
        add("fuse_a", records);
    }
    return known;
}

void Surveyor::try_tail(ColumnId id) {
    const model::Column& column = m_in.layers.columns[id.index()];
    const protection::TailLoop now = m_judge.cables().tail_loop(id);
    const Bounds<Metre> length = tail_length(column, m_in.assumptions, m_in.rules);
    const auto supposed = [&now](Complex low, Complex high) {
        Suppose value;
        value.tail_low = low - now.low;
        value.tail_high = high - now.high;
        return value;
    };
    if (!column.tail_type.type.is_valid()) {
        std::vector<Suppose> values;
        for (const base::CableTypeId type : m_in.assumptions.missing_tail_types) {
            values.push_back(supposed(m_judge.cables().tail_loop_if(id, type, length.low),
                                      m_judge.cables().tail_loop_if(id, type, length.high)));
        }
        try_values(id, values, {AssetLayer::columns, name(id), "tail_type", {}},
                   column.tail_type.text);
    }
    if (!column.tail.has_value() && length.high.value() > 0.0) {
        // Ohms per metre do not depend on the length.
        const auto per_metre = [&](Complex of_bound, Metre metres) {
            return metres.value() > 0.0 ? of_bound / metres.value()
                                        : now.high / length.high.value();
        };
        const Complex low = per_metre(now.low, length.low);
        const Complex high = per_metre(now.high, length.high);
        try_range(id,
                  [&](double share) {
                      const double metres =
                          (length.low + (length.high - length.low) * share).value();
                      return supposed(low * metres, high * metres);
                  },
                  {AssetLayer::columns, name(id), "tail_m", {}});
    }
}

} // namespace loopwalk::survey
