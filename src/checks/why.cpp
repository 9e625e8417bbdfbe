#include "loopwalk/checks/why.hpp"

#include "loopwalk/base/text.hpp"

#include <algorithm>

namespace loopwalk::checks {

using figures::ColumnFigures;
using figures::FigureState;
using protection::Verdict;

namespace {

using base::short_text;
using model::FuseRecord;
using network::DeviceKind;

std::string ohms(base::Ohm z) {
    return short_text(z.value()) + " ohm";
}

} // namespace

// One sentence for each reason.
// NOLINTNEXTLINE(readability-function-size)
std::string reason_text(Reason reason) {
    switch (reason) {
    case Reason::bounds_straddle:
        return "the records leave it open";
    case Reason::rating_missing:
        return "the device's rating is not recorded";
    case Reason::type_missing:
        return "the device's type is not recorded";
    case Reason::curve_missing:
        return "the catalogue has no curve for this rating and its neighbours leave it open";
    case Reason::limit_not_in_table:
        return "the device's table has no current for this time";
    case Reason::ze_missing:
        return "the source's external impedance is not recorded";
    case Reason::assumed_source:
        return "it would be met, but on an assumed source only";
    case Reason::earth_broken:
        return "the records show no earth path back to the supply";
    case Reason::earth_unknown:
        return "the records do not tell whether the earth path is connected";
    case Reason::too_slow:
        return "the loop is too high for the device";
    case Reason::reading_over:
        return "a test reading is above the limit";
    case Reason::reading_near:
        return "a test reading leaves too little for warm conductors";
    case Reason::reading_before:
        return "a test reading nearer to its source is above the limit of the device they share";
    case Reason::no_device:
        return "no protective device is recorded upstream";
    case Reason::tt_without_rcd:
        return "TT without RCD";
    case Reason::tt_rcd_missing:
        return "TT, and no RCD is recorded";
    case Reason::tt_electrode_missing:
        return "TT, and the electrode's resistance is not recorded";
    case Reason::electrode_too_high:
        return "TT, and electrode and earth path together are too high for its RCD";
    case Reason::side_missing:
        return "the side of a cut-out's fuse is not recorded";
    case Reason::too_many_devices:
        return "more than " + std::to_string(solution::MultiFeed::kMostFollowed) +
               " devices or supplies are joined around it, as recorded";
    case Reason::main_fuse_missing:
        return "a cable of the council's hangs on the distributor's main fuse, which is not "
               "recorded";
    case Reason::owner_missing:
        return "whether the council or the distributor owns the cable is not recorded, and the "
               "main "
               "fuse is not predicted to clear a fault in time";
    case Reason::partly_distributors:
        return "one of its feeds has nothing but the distributor's main fuse";
    case Reason::breaking_too_low:
        return "its breaking capacity is below the prospective current";
    case Reason::breaking_missing:
        return "its breaking capacity is not known";
    case Reason::pscc_missing:
        return "the prospective current is not recorded, and it does not hold with the most that "
               "is usual";
    case Reason::too_long_for_adiabatic:
        return "it would last longer than 5 s, for which the heat cannot be judged";
    case Reason::i2t_missing:
        return "the current is above the device's table and its total I2t is not known";
    case Reason::withstand_missing:
        return "the catalogue has no k or area for the conductor";
    case Reason::armour_share:
        return "it holds only if the armour carries its share beside the core";
    case Reason::divided_current:
        return "all that the devices let through together is more than surely holds, and what part "
               "of it passes here is not known";
    case Reason::too_hot:
        return "more heat than the conductor survives";
    case Reason::phases_unclear:
        return "joined ways feed it, and whether they are on one phase cannot be read from the "
               "records";
    case Reason::status_unclear:
        return "whether all that feeds it is in service cannot be read from the records";
    case Reason::none:
        return "";
    }
    return "";
}

std::string Explainer::infeed_name(base::InfeedId infeed) const {
    if (const auto main = m_net.main_of(infeed)) {
        return "main " + m_layers.id_text(m_layers.mains[main->index()].id);
    }
    return supply_name(infeed) + "/" + way_name(infeed);
}

std::string Explainer::feeds_of(const trace::Component& component) const {
    constexpr std::size_t kMostNamed = 4; // of a thousand joined ones nobody reads the names
    const auto infeeds = m_trace.infeeds_of(component);
    const std::size_t named = std::min(infeeds.size(), kMostNamed);
    std::string text;
    for (const base::InfeedId infeed : infeeds.first(named)) {
        text += (text.empty() ? "" : ", ") + infeed_name(infeed);
    }
    return named == infeeds.size()
               ? text
               : text + " and " + std::to_string(infeeds.size() - named) + " more";
}

std::string Explainer::supply_name(base::InfeedId infeed) const {
    const auto supply = m_net.supply_of(infeed);
    return supply.has_value() ? m_layers.id_text(m_layers.supplies[supply->index()].id)
                              : std::string{};
}

std::string Explainer::way_name(base::InfeedId infeed) const {
    const auto way = m_net.way_of(infeed);
    return way.has_value() ? m_layers.id_text(m_net.ways[way->index()].name) : std::string{};
}

std::string Explainer::device_name(base::DeviceId id) const {
    if (!id.is_valid()) {
        return {};
    }
    const network::Device& device = m_net.devices[id.index()];
    switch (device.kind) {
    case DeviceKind::way:
    case DeviceKind::distributor: {
        const network::Way& way = m_net.ways[device.owner];
        return m_layers.id_text(m_layers.supplies[way.supply.index()].id) + "/" +
               m_layers.id_text(way.name);
    }
    case DeviceKind::joint:
        return m_layers.id_text(m_layers.joints[device.owner].id);
    case DeviceKind::cut_out:
        return m_layers.id_text(m_layers.columns[device.owner].id);
    }
    return {};
}

std::string Explainer::device_names(const std::vector<base::DeviceId>& ids) const {
    constexpr std::size_t kMostNamed = 8; // a sentence that names dozens is read by nobody
    const std::size_t named = ids.size() <= kMostNamed ? ids.size() : kMostNamed - 1;
    std::vector<base::DeviceId> first(named);
    std::ranges::partial_sort_copy(ids, first);
    std::vector<std::string> names;
    names.reserve(first.size());
    for (const base::DeviceId id : first) {
        names.push_back(device_name(id));
    }
    std::ranges::sort(names);
    std::string text;
    for (const std::string& name : names) {
        text += (text.empty() ? "" : " + ") + name;
    }
    return named == ids.size() ? text
                               : text + " and " + std::to_string(ids.size() - named) + " more";
}

std::string Explainer::device_name(ColumnId id, const Side& side) const {
    if (side.is_multi_fed) {
        return device_names(m_figures.feeds[m_figures.fed.at(id).feed]->devices());
    }
    return side.own_fuse ? m_layers.id_text(m_layers.columns[id.index()].id)
                         : device_name(side.device);
}

const FuseRecord& Explainer::fuse_of(ColumnId id, const Side& side) const {
    if (!side.own_fuse) {
        return m_net.devices[side.device.index()].fuse;
    }
    if (side.load_row < m_layers.loads.size() && !m_layers.loads[side.load_row].fuse.is_absent()) {
        return m_layers.loads[side.load_row].fuse;
    }
    return m_layers.columns[id.index()].fuse;
}

std::string Explainer::fuse_text(const FuseRecord& fuse) const {
    std::string text;
    if (fuse.word == FuseRecord::Word::known) {
        text = m_catalogue.fuse(fuse.type).name;
    } else if (fuse.word == FuseRecord::Word::none) {
        return "a solid link";
    } else {
        text = "a fuse of unknown type,";
    }
    return fuse.rating.has_value() ? text + " " + short_text((*fuse.rating).value()) + " A"
                                   : text + " of unknown rating";
}

std::string Explainer::device_record(ColumnId id, const Side& side) const {
    if (!side.own_fuse && !side.device.is_valid()) {
        return "nothing";
    }
    return fuse_text(fuse_of(id, side));
}

std::string Explainer::side(ColumnId id, const Side& side) const {
    const std::string where =
        side.own_fuse || side.is_beyond ? "beyond its cut-out's fuse" : "on its incoming side";
    if (side.verdict == Verdict::not_ours) {
        return "the distributor's main fuse protects its incoming side: ask the distributor";
    }
    if (side.is_multi_fed) {
        return where + ": " + feeds_text(id, side);
    }
    if (side.is_rcd || (!side.own_fuse && !side.device.is_valid())) {
        return where + ": " + reason_text(side.reason);
    }
    std::string text = where + ": " + device_record(id, side);
    if (side.zs_limit.has_value()) {
        text += " allows " + ohms(*side.zs_limit);
        text += " for " + short_text((*side.limit).value()) + " s";
    }
    if (side.zs_high.has_value()) {
        text += ", loop up to " + ohms(*side.zs_high);
    }
    if (side.margin.has_value()) {
        text += ", margin " + short_text((*side.margin).value(), 3);
    }
    if (side.reason != Reason::none) {
        text += " (" + reason_text(side.reason) + ")";
    }
    return text;
}

/// Devices that open one after the other: the time they take together.
std::string Explainer::feeds_text(ColumnId id, const Side& side) const {
    std::string text = device_name(id, side) + " feed it together";
    if (side.clear.has_value()) {
        text += " and open within " + short_text((*side.clear).value(), 3) + " s of " +
                short_text((*side.limit).value()) + " s";
    }
    if (side.zs_high.has_value()) {
        text += ", loop up to " + ohms(*side.zs_high);
    }
    if (side.margin.has_value()) {
        text += ", margin " + short_text((*side.margin).value(), 3);
    }
    return side.reason == Reason::none ? text : text + " (" + reason_text(side.reason) + ")";
}

std::string Explainer::reason(Reason reason) {
    return reason_text(reason);
}

std::string Explainer::meeting(const Judgement& judgement) {
    std::string text = "predicted to meet";
    const char* before = ", margin ";
    if (judgement.in.margin.has_value()) {
        text += before + short_text((*judgement.in.margin).value(), 3) + " incoming";
        before = ", ";
    }
    if (judgement.out.margin.has_value()) {
        text += before + short_text((*judgement.out.margin).value(), 3) + " beyond the cut-out";
    }
    if (judgement.in.unsteady_above.has_value()) {
        text +=
            "; an electrode above " + ohms(*judgement.in.unsteady_above) + " may not stay as it is";
    }
    return text;
}

std::string Explainer::column(ColumnId id, const Judgement& judgement) const {
    const ColumnFigures& figures = m_figures.columns[id.index()];
    switch (figures.state) {
    case FigureState::not_traced:
        return judgement.overall == Verdict::not_ours
                   ? "not ours: the distributor's supply, no cable on record; ask the distributor"
                   : "not traced: no source was found in the records, treat as live";
    case FigureState::shorted:
        return "undecided: ways of different phases are joined, as recorded";
    case FigureState::from_main:
        return judgement.overall == Verdict::undecided
                   ? "cannot be judged: " + reason_text(judgement.in.reason) +
                         ", nor what the main brings"
                   : "not ours: straight off the distributor's main; ask the distributor";
    case FigureState::computed:
    case FigureState::several:
        break;
    }
    if (judgement.overall == Verdict::meets) {
        return meeting(judgement);
    }
    std::vector<std::string> parts;
    for (const Side* s : {&judgement.in, &judgement.out}) {
        if (s->verdict != judgement.overall) {
            continue;
        }
        std::string text = side(id, *s);
        if (s->verdict == Verdict::undecided) {
            const std::string settles = settled_by(id, *s);
            text += settles.empty() ? "" : "; settled by " + settles;
        }
        parts.push_back(std::move(text));
    }
    if (judgement.breaking == judgement.overall) {
        const std::string settles = judgement.breaking == Verdict::undecided
                                        ? settles_breaking(id, judgement.breaking_reason)
                                        : std::string{};
        parts.push_back("on its cut-out fuse: " + reason_text(judgement.breaking_reason) +
                        (settles.empty() ? "" : "; settled by " + settles));
    }
    if (judgement.heat == judgement.overall) {
        const std::string settles = settles_heat(judgement.heat_check, figures.device);
        parts.push_back(
            "on the heat of its earth path: " + reason_text(judgement.heat_check.reason) +
            (settles.empty() ? "" : "; settled by " + settles));
    }
    const std::string head = judgement.overall == Verdict::fails       ? "predicted not to meet "
                             : judgement.overall == Verdict::undecided ? "cannot be judged "
                                                                       : "not ours: ";
    return head + base::joined(parts, "; ");
}

} // namespace loopwalk::checks
