// Cut-out fuses that are larger than a device before them: that one opens first, and with it every
// other column behind it.
#include "loopwalk/base/text.hpp"

#include "network_findings.hpp"

namespace loopwalk::checks {

namespace {

using base::Finding;
using base::Rule;
using base::short_text;
using model::FuseRecord;

class SeriesReporter : Reporter {
  public:
    explicit SeriesReporter(const CheckContext& context) : Reporter(context) {}

    void run() {
        for (std::size_t c = 0; c < m_in.layers.columns.size(); ++c) {
            const auto& figures = m_in.figures.columns[c];
            if (model::conducts(m_in.layers.columns[c].status) &&
                figures::has_figures(figures.state) && !figures.is_multi_fed) {
                look_at(ColumnId(c));
            }
        }
    }

  private:
    void look_at(ColumnId id) {
        const FuseRecord& own = m_in.layers.columns[id.index()].fuse;
        if (own.word == FuseRecord::Word::none || !own.rating.has_value()) {
            return;
        }
        DeviceId smallest;
        DeviceId device = m_in.figures.columns[id.index()].device;
        while (device.is_valid()) {
            const auto& rating = m_in.network.devices[device.index()].fuse.rating;
            if (rating.has_value() && *rating < *own.rating &&
                (!smallest.is_valid() ||
                 *rating < *m_in.network.devices[smallest.index()].fuse.rating)) {
                smallest = device;
            }
            const protection::DevicePlace& place = m_judge.devices().place(device);
            device = place.is_reached ? place.upstream : DeviceId{};
        }
        if (smallest.is_valid()) {
            report(id, smallest);
        }
    }

    void report(ColumnId id, DeviceId smaller) {
        const FuseRecord& own = m_in.layers.columns[id.index()].fuse;
        const FuseRecord& before = m_in.network.devices[smaller.index()].fuse;
        Finding f = m_build.at_column(Rule::fuse_larger_than_upstream, id);
        f.value = (*own.rating).value();
        f.limit = (*before.rating).value();
        f.message = "The cut-out fuse of column " + f.asset_id + " is rated " +
                    short_text(*f.value) + " A, more than the " + m_explain.fuse_text(before) +
                    " before it (" + m_explain.device_name(smaller) +
                    "): that one opens first, with all that it feeds.";
        m_build.advise(f, id, "Candidate: a cut-out fuse smaller than what stands before it.");
        m_findings.add(std::move(f));
    }
};

} // namespace

void report_series(const CheckContext& context) {
    SeriesReporter(context).run();
}

} // namespace loopwalk::checks
