// Devices in series of which not only the lower opens. What fails is told once for each upper
// device, at the lower one that is worst, with their number; what cannot be judged once for each
// pair of devices, at the first that has it: data in the catalogue settles all of them.
#include "loopwalk/base/text.hpp"
#include "loopwalk/protection/discrimination.hpp"

#include "network_findings.hpp"
#include <map>
#include <tuple>

namespace loopwalk::checks {

using figures::ColumnFigures;
using figures::FigureState;
using protection::DeviceChoices;
using protection::DevicePlace;
using protection::Discriminates;
using protection::Discrimination;
using protection::discrimination;

namespace {

using base::AssetLayer;
using base::Finding;
using base::Rule;
using base::short_text;
using model::FuseRecord;

/// A device above another: one of the network, or the fuse of a supply before its ways.
struct Upper {
    DeviceId device;
    base::SupplyId supply; ///< valid if it is the supply's fuse
    const FuseRecord* fuse = nullptr;
    const DeviceChoices* choices = nullptr;
};

/// The lower of two: a column's fuse (or that of one of its loads), or a device of the network.
struct Lower {
    ColumnId column; ///< invalid: a device of the network
    DeviceId device;
    const FuseRecord* fuse = nullptr;
    const DeviceChoices* choices = nullptr;
};

struct Case {
    Lower lower;
    Upper upper;
    Discrimination result;
    std::int64_t count = 0;
};

/// Fuses of known types whose ratings are as far apart as is asked of any pair of one standard:
/// what is fitted everywhere, and nobody is helped by a list of it (common practice).
bool is_usual_pair(const DeviceChoices& lower, const DeviceChoices& upper,
                   const config::Rules& rules) {
    const auto is_fuse = [](const protection::DeviceChoice& choice) {
        return choice.type != nullptr && choice.type->kind == catalogue::FuseKind::fuse;
    };
    if (lower.type_missing || upper.type_missing || !std::ranges::all_of(lower.any_of, is_fuse) ||
        !std::ranges::all_of(upper.any_of, is_fuse)) {
        return false;
    }
    const auto by_rating = [](const protection::DeviceChoice& a,
                              const protection::DeviceChoice& b) { return a.rating < b.rating; };
    const base::Ampere largest = std::ranges::max_element(lower.any_of, by_rating)->rating;
    const base::Ampere smallest = std::ranges::min_element(upper.any_of, by_rating)->rating;
    return smallest >= largest * rules.discrimination_other_ratio;
}

class DiscriminationReporter : Reporter {
  public:
    explicit DiscriminationReporter(const CheckContext& context) : Reporter(context) {}

    void run() {
        for (std::size_t c = 0; c < m_in.layers.columns.size(); ++c) {
            look_at_column(ColumnId(c));
        }
        for (std::size_t d = 0; d < m_in.network.devices.size(); ++d) {
            look_at_device(DeviceId(d));
        }
        for (const auto& [upper, worst] : m_failing) {
            report(worst);
        }
        for (const auto& [pair, first] : m_open) {
            report(first);
        }
    }

  private:
    using UpperKey = std::pair<DeviceId, base::SupplyId>;
    /// What is recorded of a device: alike for the fuses of all layers.
    using RecordKey = std::tuple<FuseRecord::Word, base::FuseTypeId, double>;
    using PairKey = std::pair<RecordKey, RecordKey>;
    static RecordKey key_of(const FuseRecord& fuse) {
        return {fuse.word, fuse.type, fuse.rating.value_or(base::Ampere(0.0)).value()};
    }

    void look_at_column(ColumnId id);
    void look_at_device(DeviceId id);
    void compare(const Lower& lower, DeviceId first_above, base::InfeedId infeed, Case& worst);
    void compare(const Lower& lower, const Upper& upper, Case& worst);
    [[nodiscard]] Upper fuse_of_supply(base::InfeedId infeed);
    void keep(const Case& found);
    void report(const Case& found);
    [[nodiscard]] std::string settles(const Case& found) const;
    [[nodiscard]] std::string upper_name(const Upper& upper) const;

    std::map<UpperKey, Case> m_failing;
    std::map<PairKey, Case> m_open;
};

/// A supply's own fuse stands before the ways that have one themselves.
Upper DiscriminationReporter::fuse_of_supply(base::InfeedId infeed) {
    const auto way_id = m_in.network.way_of(infeed);
    if (!way_id.has_value()) {
        return {};
    }
    const network::Way& way = m_in.network.ways[way_id->index()];
    const FuseRecord& fuse = m_in.layers.supplies[way.supply.index()].fuse;
    const bool is_of_row =
        way.row.is_valid() && m_in.layers.ways[way.row.index()].fuse.word != FuseRecord::Word::none;
    if (!is_of_row || fuse.is_absent() || fuse.word == FuseRecord::Word::none) {
        return {};
    }
    return {{}, way.supply, &fuse, &m_judge.devices().choices(fuse, AssetLayer::supplies)};
}

void DiscriminationReporter::compare(const Lower& lower, const Upper& upper, Case& worst) {
    if (lower.choices->any_of.empty() || upper.choices->any_of.empty()) {
        return; // a missing rating is a finding of its own
    }
    const Discrimination result = discrimination(*lower.choices, *upper.choices, m_in.rules);
    if (result.verdict == Discriminates::undecided &&
        is_usual_pair(*lower.choices, *upper.choices, m_in.rules)) {
        return;
    }
    const bool is_first = worst.lower.fuse == nullptr;
    if (is_first || result.verdict < worst.result.verdict ||
        (result.verdict == worst.result.verdict && result.share() < worst.result.share())) {
        worst = {lower, upper, result, 1};
    }
}

void DiscriminationReporter::compare(const Lower& lower, DeviceId first_above,
                                     base::InfeedId infeed, Case& worst) {
    for (DeviceId above = first_above; above.is_valid();
         above = m_judge.devices().place(above).upstream) {
        compare(lower,
                {above,
                 {},
                 &m_in.network.devices[above.index()].fuse,
                 &m_judge.devices().choices(above)},
                worst);
    }
    if (const Upper supply = fuse_of_supply(infeed); supply.fuse != nullptr) {
        compare(lower, supply, worst);
    }
}

void DiscriminationReporter::look_at_column(ColumnId id) {
    const ColumnFigures& figures = m_in.figures.columns[id.index()];
    const model::Column& column = m_in.layers.columns[id.index()];
    if (figures.state != FigureState::computed) {
        return;
    }
    Case worst;
    const auto consider = [&](const FuseRecord& fuse, AssetLayer layer) {
        if (fuse.word != FuseRecord::Word::none && fuse.rating.has_value()) {
            compare({id, {}, &fuse, &m_judge.devices().choices(fuse, layer)}, figures.device,
                    figures.infeed, worst);
        }
    };
    consider(column.fuse, AssetLayer::columns);
    for (const std::uint32_t row : m_judge.loads().rows(id)) {
        consider(m_in.layers.loads[row].fuse, AssetLayer::loads);
    }
    keep(worst);
}

/// Way, section pillar's way and joint; a column's fuse is looked at with its column.
void DiscriminationReporter::look_at_device(DeviceId id) {
    const network::Device& device = m_in.network.devices[id.index()];
    const DevicePlace& place = m_judge.devices().place(id);
    const bool counts =
        device.kind == network::DeviceKind::way || device.kind == network::DeviceKind::joint;
    if (!counts || !place.is_reached || !device.fuse.rating.has_value()) {
        return;
    }
    Case worst;
    compare({{}, id, &device.fuse, &m_judge.devices().choices(id)}, place.upstream, place.infeed,
            worst);
    keep(worst);
}

void DiscriminationReporter::keep(const Case& found) {
    if (found.lower.fuse == nullptr || found.result.verdict == Discriminates::yes) {
        return;
    }
    const auto add = [&](Case& group, bool is_first, bool is_worse) {
        const std::int64_t count = is_first ? 1 : group.count + 1;
        if (is_first || is_worse) {
            group = found;
        }
        group.count = count;
    };
    if (found.result.verdict == Discriminates::no) {
        const auto [at, is_first] =
            m_failing.try_emplace({found.upper.device, found.upper.supply}, found);
        add(at->second, is_first, found.result.share() < at->second.result.share());
    } else {
        const auto [at, is_first] =
            m_open.try_emplace({key_of(*found.lower.fuse), key_of(*found.upper.fuse)}, found);
        add(at->second, is_first, false);
    }
}

std::string DiscriminationReporter::upper_name(const Upper& upper) const {
    const std::string fuse = m_explain.fuse_text(*upper.fuse);
    return upper.supply.is_valid()
               ? fuse + " of supply " +
                     m_in.layers.id_text(m_in.layers.supplies[upper.supply.index()].id)
               : fuse + " of " + m_explain.device_name(upper.device);
}

std::string DiscriminationReporter::settles(const Case& found) const {
    const auto unknown = [](const FuseRecord& fuse) {
        return fuse.word != FuseRecord::Word::known;
    };
    std::string text = unknown(*found.lower.fuse) ? "the lower one's fuse_type, " : "";
    text += unknown(*found.upper.fuse) ? "the upper one's fuse_type, " : "";
    return text + (text.empty() ? "" : "or ") + "the energy that " +
           m_explain.fuse_text(*found.lower.fuse) + " lets through in all and that " +
           m_explain.fuse_text(*found.upper.fuse) + " takes to melt, in the catalogue";
}

void DiscriminationReporter::report(const Case& found) {
    const bool is_column = found.lower.column.is_valid();
    Finding f = is_column ? m_build.at_column(Rule::no_discrimination, found.lower.column)
                          : m_build.at_device(Rule::no_discrimination, found.lower.device);
    f.count = found.count;
    const std::string lower =
        m_explain.fuse_text(*found.lower.fuse) + " of " +
        (is_column ? "column " + f.asset_id : m_explain.device_name(found.lower.device));
    if (found.result.needed > 0.0) {
        f.value = found.result.ratio;
        f.limit = found.result.needed;
    }
    if (found.result.verdict == Discriminates::no) {
        f.message = "A fault behind " + lower + " may also open " + upper_name(found.upper) +
                    (found.result.by_i2t ? ": by I2t, pre-arcing over total, the ratio is "
                                         : ": by rating the ratio is ") +
                    short_text(found.result.ratio, 3) + ", needed " +
                    short_text(found.result.needed) + ".";
    } else {
        f.message = "It cannot be judged whether a fault behind " + lower + " leaves " +
                    upper_name(found.upper) + " closed. It would be settled by " + settles(found) +
                    ".";
    }
    m_findings.add(std::move(f));
}

} // namespace

void report_discrimination(const CheckContext& context) {
    DiscriminationReporter(context).run();
}

} // namespace loopwalk::checks
