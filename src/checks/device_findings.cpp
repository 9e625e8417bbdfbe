#include "loopwalk/base/grouped.hpp"
#include "loopwalk/base/text.hpp"

#include "network_findings.hpp"
#include <optional>

namespace loopwalk::checks {

using protection::DevicePlace;

namespace {

using base::AssetLayer;
using base::Finding;
using base::Rule;
using base::Severity;
using base::short_text;
using network::DeviceKind;

class DeviceReporter : Reporter {
  public:
    explicit DeviceReporter(const CheckContext& context) : Reporter(context) {}

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
    void add_columns_behind(Finding& finding, DeviceId id);
    [[nodiscard]] std::string settles(const protection::DeviceBreaking& breaking) const;

    std::optional<base::Grouped<DeviceId>> m_behind; ///< columns; made when first asked for
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
    Finding f = m_build.at_device(Rule::overload, id, base::certain_if(sure));
    f.value = (*current).value();
    f.limit = (*device.fuse.rating).value();
    f.message = m_explain.fuse_text(device.fuse) + " of " + m_explain.device_name(id) +
                (sure ? " carries " : " may carry ") + short_text(*f.value) +
                " A, more than its rating.";
    f.fix = "Check the recorded loads and the rating of the fuse.";
    m_findings.add(std::move(f));
}

/// Columns that one device protects; those that several feed have findings enough.
void DeviceReporter::add_columns_behind(Finding& finding, DeviceId id) {
    if (!m_behind.has_value()) {
        m_behind.emplace();
        for (std::size_t c = 0; c < m_in.figures.columns.size(); ++c) {
            const figures::ColumnFigures& figures = m_in.figures.columns[c];
            if (figures.device.is_valid() && !figures.is_multi_fed) {
                m_behind->add(figures.device, static_cast<std::uint32_t>(c));
            }
        }
        m_behind->freeze();
    }
    for (const std::uint32_t column : m_behind->of(id)) {
        finding.concerns.push_back({AssetLayer::columns, column});
    }
}

std::string DeviceReporter::settles(const protection::DeviceBreaking& breaking) const {
    std::string text = " It would be settled by the fuse's type and rating";
    if (breaking.supply.has_value()) {
        text += " and by pscc_ka of " +
                m_in.layers.id_text(m_in.layers.supplies[breaking.supply->index()].id);
    }
    return text + ".";
}

void DeviceReporter::breaking(DeviceId id) {
    const protection::DeviceBreaking breaking = m_judge.breaking().of_device(id);
    if (breaking.verdict != Verdict::fails && breaking.verdict != Verdict::undecided) {
        return;
    }
    const network::Device& device = m_in.network.devices[id.index()];
    const bool fails = breaking.verdict == Verdict::fails;
    Finding f = m_build.at_device(Rule::breaking_capacity, id, base::certain_if(fails));
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
    if (fails) {
        add_columns_behind(f, id);
    }
    f.fix = fails ? "Candidate: a fuse of higher breaking capacity; check what is fitted."
                  : "Record the fuse, and the prospective current the distributor states.";
    m_findings.add(std::move(f));
}

} // namespace

void report_devices(const CheckContext& context) {
    DeviceReporter(context).run();
}

} // namespace loopwalk::checks
