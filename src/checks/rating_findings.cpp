// Cables behind a device whose rating exceeds what they carry for long: one finding for each
// device, at the cable where it is worst.
#include "loopwalk/base/text.hpp"

#include "network_findings.hpp"
#include <map>
#include <set>

namespace loopwalk::checks {

using figures::is_hand_held_use;
using figures::NeutralCurrent;
using figures::SectionFigures;
using protection::DeviceChoice;
using protection::DeviceChoices;

namespace {

using base::Ampere;
using base::Finding;
using base::Maybe;
using base::Rule;
using base::SectionId;
using base::Severity;
using base::short_text;

/// Largest rating that would protect a section, over the cables and devices it may have.
struct Allowed {
    Maybe<Ampere> low, high; ///< absent: no current-carrying capacity in the catalogue
};

class RatingReporter : Reporter {
  public:
    explicit RatingReporter(const CheckContext& context) : Reporter(context) { mark_plugged_in(); }

    void run() {
        for (std::size_t s = 0; s < m_in.figures.sections.size(); ++s) {
            look_at(SectionId(s));
            look_at_neutral(SectionId(s));
        }
        for (const auto& [device, worst] : m_worst) {
            report(device, worst);
        }
        report_neutrals();
    }

  private:
    struct Worst {
        Severity severity{};
        SectionId section;
        Ampere allowed; ///< by the bound that decides
        std::set<base::CableId> cables;
    };

    struct WorstNeutral {
        SectionId section;
        Ampere current, ampacity;
        bool is_sure = false;
        std::set<base::CableId> cables;
    };

    void mark_plugged_in();
    void mark_overheated();
    void look_at_neutral(SectionId id);
    void report_neutrals();
    void look_at(SectionId id);
    [[nodiscard]] Allowed allowed(SectionId id, const DeviceChoices& device) const;
    [[nodiscard]] bool cannot_overload(SectionId id);
    void note(DeviceId device, SectionId id, Severity severity, Ampere allowed);
    void report(DeviceId device, const Worst& worst);

    std::vector<std::uint8_t> m_plugged_in; ///< by infeed: holds a load that a person plugs in
    std::vector<std::uint8_t> m_overheated; ///< by device: not all it protects certainly survives
    std::vector<HeatCheck> m_problems;
    std::map<DeviceId, Worst> m_worst;
    std::map<base::InfeedId, WorstNeutral> m_worst_neutral;
};

void RatingReporter::mark_plugged_in() {
    m_plugged_in.resize(m_in.network.infeeds.size());
    if (m_in.layers.loads.empty()) {
        return;
    }
    for (std::size_t c = 0; c < m_in.layers.columns.size(); ++c) {
        const base::InfeedId infeed = m_in.figures.columns[c].infeed;
        for (const std::uint32_t row : m_judge.loads().rows(ColumnId(c))) {
            if (infeed.is_valid() &&
                is_hand_held_use(m_in.layers.text.view(m_in.layers.loads[row].use))) {
                m_plugged_in[infeed.index()] = 1;
            }
        }
    }
}

Allowed RatingReporter::allowed(SectionId id, const DeviceChoices& device) const {
    const auto [low, high] = m_judge.cables().ampacity(id);
    if (!low.has_value()) {
        return {};
    }
    base::Bounds<base::Number> factor = device.any_of.front().overload_factor;
    for (const DeviceChoice& choice : device.any_of) {
        factor.low = std::min(factor.low, choice.overload_factor.low);
        factor.high = std::max(factor.high, choice.overload_factor.high);
    }
    return {*low * factor.low.value(), *high * factor.high.value()};
}

/// A fault anywhere behind a device passes all cables before it.
void RatingReporter::mark_overheated() {
    m_overheated.resize(m_in.network.devices.size());
    for (std::size_t s = 0; s < m_in.figures.sections.size(); ++s) {
        const DeviceId device = m_in.figures.sections[s].device;
        if (!device.is_valid() || m_overheated[device.index()] != 0) {
            continue;
        }
        const protection::SectionHeat heat = m_judge.heat().of_section(SectionId(s), m_problems);
        const bool holds = heat.cores == Verdict::meets &&
                           (heat.earth_path == Verdict::meets || heat.earth_path == Verdict::none);
        m_overheated[device.index()] = holds ? 0 : 1;
    }
}

/// Lighting draws what it draws (BS 7671 reg 433.3.1); then only the heat of a fault counts.
bool RatingReporter::cannot_overload(SectionId id) {
    if (m_overheated.empty()) {
        mark_overheated();
    }
    const SectionFigures& figures = m_in.figures.sections[id.index()];
    const auto ampacity = m_judge.cables().ampacity(id).low;
    const auto neutral = m_in.figures.neutral_currents.find(id);
    return m_plugged_in[figures.infeed.index()] == 0 && figures.current.has_value() &&
           *figures.current <= *ampacity &&
           (neutral == m_in.figures.neutral_currents.end() || neutral->second.high <= *ampacity) &&
           m_overheated[figures.device.index()] == 0;
}

void RatingReporter::note(DeviceId device, SectionId id, Severity severity, Ampere allowed) {
    const auto [at, is_first] = m_worst.try_emplace(device);
    Worst& worst = at->second;
    if (is_first || severity < worst.severity) {
        worst = {severity, id, allowed, {}};
    } else if (severity > worst.severity) {
        return;
    } else if (allowed < worst.allowed) {
        worst.section = id;
        worst.allowed = allowed;
    }
    worst.cables.insert(m_in.network.snapped.sections[id.index()].cable);
}

void RatingReporter::look_at(SectionId id) {
    const SectionFigures& figures = m_in.figures.sections[id.index()];
    if (!figures.is_on_path || !figures.device.is_valid() ||
        m_judge.devices().is_distributors(figures.device) ||
        !m_in.network.devices[figures.device.index()].fuse.rating.has_value()) {
        return;
    }
    const DeviceChoices& device = m_judge.devices().choices(figures.device);
    if (device.any_of.empty()) {
        return;
    }
    const Ampere rating = *m_in.network.devices[figures.device.index()].fuse.rating;
    const Allowed allows = allowed(id, device);
    if (!allows.low.has_value() || rating <= *allows.low) {
        return;
    }
    if (rating <= *allows.high) {
        note(figures.device, id, Severity::warning, *allows.low);
    } else {
        note(figures.device, id, cannot_overload(id) ? Severity::note : Severity::fail,
             *allows.high);
    }
}

/// No device in a line sees what the neutral carries: the third harmonics of all phases together.
void RatingReporter::look_at_neutral(SectionId id) {
    const auto found = m_in.figures.neutral_currents.find(id);
    const auto [low, high] = m_judge.cables().ampacity(id);
    if (found == m_in.figures.neutral_currents.end() || !low.has_value() ||
        found->second.high <= *low) {
        return;
    }
    const NeutralCurrent& current = found->second;
    const bool is_sure = current.is_exact && current.high > *high;
    const auto [at, is_first] =
        m_worst_neutral.try_emplace(m_in.figures.sections[id.index()].infeed);
    WorstNeutral& worst = at->second;
    if (is_first || current.high / *low > worst.current / worst.ampacity) {
        worst.section = id;
        worst.current = current.high;
        worst.ampacity = *low;
    }
    worst.is_sure = worst.is_sure || is_sure;
    worst.cables.insert(m_in.network.snapped.sections[id.index()].cable);
}

void RatingReporter::report_neutrals() {
    for (const auto& [infeed, worst] : m_worst_neutral) {
        Finding f = m_build.at_section(Rule::cable_unprotected, worst.section,
                                       base::certain_if(worst.is_sure));
        f.value = worst.current.value();
        f.limit = worst.ampacity.value();
        f.count = static_cast<std::int64_t>(worst.cables.size());
        f.message = (worst.is_sure ? "The neutral of cable " + f.asset_id + " carries "
                                   : "It cannot be judged whether the neutral of cable " +
                                         f.asset_id + " carries too much: up to ") +
                    short_text(*f.value) + " A, with third harmonics of " +
                    short_text(m_in.rules.third_harmonic_pct) + " % of each phase, against " +
                    short_text(*f.limit) + " A; no fuse in a line sees that.";
        f.clause = "BS 7671:2018+A2 regs 431.2.3 and 523.6.3";
        if (worst.is_sure) {
            m_build.advise(
                f, worst.section,
                "Candidates: columns moved to the phase with the least load; a larger cable.");
        }
        m_findings.add(std::move(f));
    }
}

void RatingReporter::report(DeviceId device, const Worst& worst) {
    const model::FuseRecord& fuse = m_in.network.devices[device.index()].fuse;
    Finding f = m_build.at_section(Rule::cable_unprotected, worst.section);
    f.severity = worst.severity;
    f.value = (*fuse.rating).value();
    f.limit = worst.allowed.value();
    f.count = static_cast<std::int64_t>(worst.cables.size());
    const std::string which = m_explain.fuse_text(fuse) + " of " + m_explain.device_name(device);
    if (worst.severity == Severity::warning) {
        f.message = "It cannot be judged whether " + which + " protects cable " + f.asset_id +
                    " against overload. It would be settled by cable_type of " + f.asset_id +
                    " and the type of the fuse.";
    } else {
        f.message = which + " exceeds the " + short_text(*f.limit) + " A up to which cable " +
                    f.asset_id + " is protected against overload";
        f.message += worst.severity == Severity::note
                         ? "; its load is fixed and far enough below, and a fault is cleared "
                           "before it harms the cable."
                         : ".";
    }
    if (worst.severity == Severity::note) {
        f.clause = "BS 7671:2018+A2 reg 433.3.1";
    }
    if (worst.severity == Severity::fail) {
        m_build.advise(f, worst.section,
                       "Candidates: a smaller fuse if the load allows, or a larger cable.");
    }
    m_findings.add(std::move(f));
}

} // namespace

void report_ratings(const CheckContext& context) {
    RatingReporter(context).run();
}

} // namespace loopwalk::checks
