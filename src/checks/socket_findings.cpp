// Sockets, festive lights and chargers: things held in the hand out of doors.
#include "loopwalk/base/text.hpp"

#include "network_findings.hpp"
#include <algorithm>

namespace loopwalk::checks {

namespace {

using base::Finding;
using base::Maybe;
using base::Number;
using base::Rule;

/// Residual current that protects a hand (BS 7671:2018+A2 reg 415.1.1).
constexpr double kForHandsMa = 30.0;

class SocketReporter : Reporter {
  public:
    explicit SocketReporter(const CheckContext& context) : Reporter(context) {}

    /// One finding for each column.
    void run() {
        for (std::size_t c = 0; c < m_in.layers.columns.size(); ++c) {
            if (!model::conducts(m_in.layers.columns[c].status)) {
                continue;
            }
            const auto rows = m_judge.loads().rows(ColumnId(c));
            const auto at = std::ranges::find_if(
                rows, [&](std::uint32_t row) { return lacks_rcd(ColumnId(c), row); });
            if (at != rows.end()) {
                report(ColumnId(c), *at);
            }
        }
    }

  private:
    /// Of the load, else of its column, else of the way.
    [[nodiscard]] Maybe<Number> rcd_before(ColumnId id, const model::Load& load) const {
        const model::Column& column = m_in.layers.columns[id.index()];
        const Maybe<Number> rcd = load.rcd_ma.has_value() ? load.rcd_ma : column.rcd_ma;
        return rcd.has_value() || !m_in.figures.columns[id.index()].infeed.is_valid()
                   ? rcd
                   : m_judge.facts().way_rcd(id);
    }

    [[nodiscard]] bool lacks_rcd(ColumnId id, std::uint32_t row) const {
        const model::Load& load = m_in.layers.loads[row];
        const double ma = rcd_before(id, load).value_or(Number(0.0)).value();
        return figures::is_hand_held_use(m_in.layers.text.view(load.use)) &&
               !(ma > 0.0 && ma <= kForHandsMa);
    }

    void report(ColumnId id, std::uint32_t row) {
        const model::Load& load = m_in.layers.loads[row];
        const Maybe<Number> rcd = rcd_before(id, load);
        const double ma = rcd.value_or(Number(0.0)).value();
        Finding f =
            m_build.at_column(Rule::sockets_without_rcd, id, base::certain_if(rcd.has_value()));
        f.limit = kForHandsMa;
        if (ma > 0.0) {
            f.value = ma;
        }
        f.message = "The load '" + m_in.layers.id_text(load.use) + "' in column " + f.asset_id;
        f.message += !rcd.has_value() ? " has no RCD on record. It would be settled by rcd_ma."
                     : ma > 0.0       ? " is behind an RCD of " + base::short_text(ma) + " mA only."
                                      : " is recorded as having no RCD before it.";
        m_build.advise(f, id, "Candidate: an RCD of 30 mA for this load, after a test.");
        m_findings.add(std::move(f));
    }
};

} // namespace

void report_sockets(const CheckContext& context) {
    SocketReporter(context).run();
}

} // namespace loopwalk::checks
