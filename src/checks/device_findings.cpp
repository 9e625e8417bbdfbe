#include "loopwalk/base/text.hpp"

#include "device_finding.hpp"
#include "network_findings.hpp"

namespace loopwalk::checks {

using protection::DevicePlace;

namespace {

using base::AssetLayer;
using base::Finding;
using base::Rule;
using base::Severity;
using base::short_text;
using network::DeviceKind;

class DeviceReporter {
  public:
    DeviceReporter(const ReviewInput& input, const Review& review, Judge& judge,
                   base::FindingSink& findings)
        : m_in(input), m_review(review), m_judge(judge), m_findings(findings),
          m_explain(input.layers, input.catalogue, input.network, input.trace, input.figures) {}

    void run() {
        for (std::size_t d = 0; d < m_in.network.devices.size(); ++d) {
            if (m_in.network.devices[d].kind != DeviceKind::distributor) {
                overload(DeviceId(d));
                breaking(DeviceId(d));
            }
        }
    }

  private:
    void overload(DeviceId id);
    void breaking(DeviceId id);
    [[nodiscard]] std::string settles(const Judge::Breaking& breaking) const;

    const ReviewInput& m_in;
    const Review& m_review;
    Judge& m_judge;
    base::FindingSink& m_findings;
    Explainer m_explain;
};

void DeviceReporter::overload(DeviceId id) {
    const network::Device& device = m_in.network.devices[id.index()];
    const auto current = m_review.devices[id.index()].current;
    if (!current.has_value() || !device.fuse.rating.has_value() ||
        *current <= *device.fuse.rating) {
        return;
    }
    const auto low = m_review.devices[id.index()].current_low;
    const bool sure = low.has_value() && *low > *device.fuse.rating;
    Finding f = device_finding(m_in, m_explain, m_judge, id);
    f.rule = Rule::overload;
    f.severity = sure ? Severity::fail : Severity::warning;
    f.value = (*current).value();
    f.limit = (*device.fuse.rating).value();
    f.unit = "A";
    f.message = m_explain.fuse_text(device.fuse) + " of " + m_explain.device_name(id) +
                (sure ? " carries " : " may carry ") + short_text(*f.value) +
                " A, more than its rating.";
    f.clause = "BS 7671:2018+A2 reg 433.1.1";
    f.fix = "Check the recorded loads and the rating of the fuse.";
    m_findings.add(std::move(f));
}

std::string DeviceReporter::settles(const Judge::Breaking& breaking) const {
    std::string text = " It would be settled by the fuse's type and rating";
    if (breaking.supply.has_value()) {
        text += " and by pscc_ka of " +
                m_in.layers.id_text(m_in.layers.supplies[breaking.supply->index()].id);
    }
    return text + ".";
}

void DeviceReporter::breaking(DeviceId id) {
    const Judge::Breaking breaking = m_judge.device_breaking(id);
    if (breaking.verdict != Verdict::fails && breaking.verdict != Verdict::undecided) {
        return;
    }
    const network::Device& device = m_in.network.devices[id.index()];
    const bool fails = breaking.verdict == Verdict::fails;
    Finding f = device_finding(m_in, m_explain, m_judge, id);
    f.rule = Rule::breaking_capacity;
    f.severity = fails ? Severity::danger : Severity::warning;
    f.unit = "kA";
    f.value = (*breaking.current_ka).value();
    if (breaking.device_ka.has_value()) {
        f.limit = (*breaking.device_ka).value();
    }
    f.message = m_explain.fuse_text(device.fuse) +
                (device.kind == DeviceKind::joint ? " of joint " : " of way ") +
                m_explain.device_name(id) +
                (fails ? " can break less than" : " may be unable to break") +
                " the prospective current of " + short_text(*f.value) + " kA there.";
    f.message += fails ? "" : settles(breaking);
    f.clause = "BS 7671:2018+A2 reg 434.5.1";
    f.fix = fails ? "Candidate: a fuse of higher breaking capacity; check what is fitted."
                  : "Record the fuse, and the prospective current the distributor states.";
    m_findings.add(std::move(f));
}

} // namespace

base::Finding device_finding(const ReviewInput& input, const Explainer& explain, const Judge& judge,
                             DeviceId id) {
    const network::Device& device = input.network.devices[id.index()];
    Finding f;
    f.asset_id = explain.device_name(id);
    if (device.kind == DeviceKind::way || device.kind == DeviceKind::distributor) {
        const network::Way& way = input.network.ways[device.owner];
        const model::Supply& supply = input.layers.supplies[way.supply.index()];
        f.layer = AssetLayer::supplies;
        f.asset_id = input.layers.id_text(supply.id);
        f.supply_id = f.asset_id;
        f.way = input.layers.id_text(way.name);
        f.place = supply.place;
        return f;
    }
    const bool is_joint = device.kind == DeviceKind::joint;
    f.layer = is_joint ? AssetLayer::joints : AssetLayer::columns;
    f.place = is_joint ? input.layers.joints[device.owner].place
                       : input.layers.columns[device.owner].place;
    if (const DevicePlace& place = judge.place(id); place.is_reached) {
        f.supply_id = explain.supply_name(place.infeed);
        f.way = explain.way_name(place.infeed);
    }
    return f;
}

void report_devices(const ReviewInput& input, const Review& review, Judge& judge,
                    base::FindingSink& findings) {
    DeviceReporter(input, review, judge, findings).run();
}

} // namespace loopwalk::checks
