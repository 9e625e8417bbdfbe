// Cables whose conductors a fault heats more than they survive: one finding for each, at its worst
// section. What cannot be judged is told once for each device, and only where that device is
// predicted to clear and the source is on record: all else is a finding of its own already.
#include "loopwalk/base/grouped.hpp"
#include "loopwalk/base/text.hpp"

#include "network_findings.hpp"
#include <cmath>
#include <map>
#include <set>

namespace loopwalk::checks {

using figures::devices_of;
using protection::Core;
using protection::worse;

namespace {

using base::Finding;
using base::Rule;
using base::SectionId;
using base::short_text;

Rule rule_of(Core core) {
    return core == Core::earth_path ? Rule::earth_path_heat : Rule::conductor_heat;
}

std::string core_text(const ReviewInput& in, const HeatCheck& check) {
    using catalogue::EarthPath;
    if (check.core == Core::line) {
        return "line conductor";
    }
    if (check.core == Core::neutral) {
        return "neutral";
    }
    const base::CableId cable = in.network.snapped.sections[check.section.index()].cable;
    const base::CableTypeId type = in.layers.cables[cable.index()].type.type;
    if (!type.is_valid()) {
        return "earth path";
    }
    switch (in.catalogue.cable(type).earth_path) {
    case EarthPath::armour:
        return "armour (earth path)";
    case EarthPath::cpc:
    case EarthPath::armour_and_cpc:
        return "protective core";
    case EarthPath::neutral:
        return "combined neutral and earth";
    case EarthPath::none:
        break;
    }
    return "earth path";
}

class HeatReporter : Reporter {
  public:
    explicit HeatReporter(const CheckContext& context) : Reporter(context) {
        for (const auto& [section, column] : m_review.overheated) {
            m_behind.add(m_in.network.snapped.sections[section.index()].cable,
                         static_cast<std::uint32_t>(column.index()));
        }
        m_behind.freeze();
    }

    void run() {
        for (std::size_t s = 0; s < m_in.figures.sections.size(); ++s) {
            const SectionId id(s);
            const protection::SectionHeat heat = m_judge.heat().of_section(id, m_problems);
            if (worse(heat.cores, heat.earth_path) < Verdict::meets) {
                sort_in(id);
            }
        }
        for (const auto& [key, worst] : m_failing) {
            report_failing(worst);
        }
        for (const auto& [key, worst] : m_open) {
            report_open(worst);
        }
    }

  private:
    struct Worst {
        HeatCheck check;
        std::vector<DeviceId> devices; ///< that let the heat pass
        std::set<base::CableId> cables;
    };

    void sort_in(SectionId id);
    void note(Worst& worst, const HeatCheck& check, const std::vector<DeviceId>& devices) const;
    [[nodiscard]] std::string devices_text(const Worst& worst) const;
    void report_failing(const Worst& worst);
    void report_open(const Worst& worst);

    base::Grouped<base::CableId> m_behind; ///< columns whose path a failing section of it is on
    std::vector<HeatCheck> m_problems;     ///< of the section at hand
    std::map<std::pair<Rule, base::CableId>, Worst> m_failing;
    std::map<std::pair<Rule, DeviceId>, Worst> m_open;
};

void HeatReporter::note(Worst& worst, const HeatCheck& check,
                        const std::vector<DeviceId>& devices) const {
    const bool is_first = worst.cables.empty();
    worst.cables.insert(m_in.network.snapped.sections[check.section.index()].cable);
    if (is_first || check.ratio() > worst.check.ratio()) {
        worst.check = check;
        worst.devices = devices;
    }
}

/// "BS 88-2 16 A of P/1"; of several devices their names.
std::string HeatReporter::devices_text(const Worst& worst) const {
    if (worst.devices.size() > 1) {
        return m_explain.device_names(worst.devices);
    }
    const DeviceId device = worst.devices.front();
    return m_explain.fuse_text(m_in.network.devices[device.index()].fuse) + " of " +
           m_explain.device_name(device);
}

void HeatReporter::sort_in(SectionId id) {
    const std::vector<DeviceId> devices = devices_of(m_in.figures, id);
    if (devices.empty() || !devices.front().is_valid()) {
        return; // what no device protects is told elsewhere
    }
    const bool clears = m_judge.covers().of(id).cover == protection::Cover::clears;
    for (const HeatCheck& check : m_problems) {
        const Rule rule = rule_of(check.core);
        const base::CableId cable = m_in.network.snapped.sections[check.section.index()].cable;
        const bool told_elsewhere = check.reason == Reason::assumed_source ||
                                    check.reason == Reason::ze_missing ||
                                    check.reason == Reason::earth_unknown;
        if (check.verdict == Verdict::fails) {
            note(m_failing[{rule, cable}], check, devices);
        } else if (clears && !told_elsewhere) {
            note(m_open[{rule, devices.front()}], check, devices);
        }
    }
}

std::string current_text(const HeatCheck& check) {
    return check.is_largest ? "largest" : "smallest";
}

void HeatReporter::report_failing(const Worst& worst) {
    const HeatCheck& check = worst.check;
    const Rule rule = rule_of(check.core);
    Finding f = m_build.at_section(rule, check.section);
    f.value = check.ratio();
    f.limit = 1.0;
    f.message = "The " + core_text(m_in, check) + " of cable " + f.asset_id + " survives " +
                short_text(check.survived.value(), 3) + " A2s, but " + devices_text(worst) +
                " lets " + short_text(check.passed.value(), 3) + " A2s through at the " +
                current_text(check) + " fault current.";
    for (const std::uint32_t column :
         m_behind.of(m_in.network.snapped.sections[check.section.index()].cable)) {
        f.concerns.push_back({base::AssetLayer::columns, column});
    }
    m_build.advise(f, check.section, "Candidates: a smaller or quicker fuse, or a larger cable.");
    m_findings.add(std::move(f));
}

void HeatReporter::report_open(const Worst& worst) {
    const HeatCheck& check = worst.check;
    const Rule rule = rule_of(check.core);
    if (m_failing.contains({rule, m_in.network.snapped.sections[check.section.index()].cable})) {
        return; // one finding for each rule and asset: the failure says more
    }
    Finding f = m_build.at_section(rule, check.section, base::Certainty::possible);
    if (std::isfinite(check.ratio())) {
        f.value = check.ratio();
        f.limit = 1.0;
    }
    f.count = static_cast<std::int64_t>(worst.cables.size());
    f.message = "It cannot be judged whether the " + core_text(m_in, check) + " of cable " +
                f.asset_id + " survives a fault that " + devices_text(worst) +
                (worst.devices.size() > 1 ? " clear one after the other"
                                          : " clears, at the " + current_text(check) + " current") +
                ": " + Explainer::reason(check.reason) + ".";
    base::settle(f, m_explain.settles_heat(check, worst.devices.front()));
    m_findings.add(std::move(f));
}

} // namespace

void report_heat(const CheckContext& context) {
    HeatReporter(context).run();
}

} // namespace loopwalk::checks
