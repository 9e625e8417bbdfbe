// Sockets, festive lights and chargers: things held in the hand out of doors.
#include "loopwalk/base/text.hpp"

#include "network_findings.hpp"

namespace loopwalk::checks {

namespace {

using base::Finding;
using base::Maybe;
using base::Number;
using base::Rule;

/// Residual current that protects a hand (BS 7671:2018+A2 reg 415.1.1).
constexpr double kForHandsMa = 30.0;

} // namespace

void report_sockets(const CheckContext& context) {
    const ReviewInput& in = context.in;
    for (std::size_t c = 0; c < in.layers.columns.size(); ++c) {
        const ColumnId id(c);
        const model::Column& column = in.layers.columns[c];
        if (!model::conducts(column.status)) {
            continue;
        }
        for (const std::uint32_t row : context.judge.loads().rows(id)) {
            const model::Load& load = in.layers.loads[row];
            if (!figures::is_hand_held_use(in.layers.text.view(load.use))) {
                continue;
            }
            Maybe<Number> rcd = load.rcd_ma.has_value() ? load.rcd_ma : column.rcd_ma;
            if (!rcd.has_value() && in.figures.columns[c].infeed.is_valid()) {
                rcd = context.judge.facts().way_rcd(id);
            }
            const double ma = rcd.has_value() ? (*rcd).value() : 0.0;
            if (rcd.has_value() && ma > 0.0 && ma <= kForHandsMa) {
                continue;
            }
            Finding f = context.build.at_column(Rule::sockets_without_rcd, id,
                                                base::certain_if(rcd.has_value()));
            f.limit = kForHandsMa;
            if (ma > 0.0) {
                f.value = ma;
            }
            f.message = "The load '" + in.layers.id_text(load.use) + "' in column " + f.asset_id;
            f.message += !rcd.has_value() ? " has no RCD on record. It would be settled by rcd_ma."
                         : ma > 0.0 ? " is behind an RCD of " + base::short_text(ma) + " mA only."
                                    : " is recorded as having no RCD before it.";
            context.build.advise(f, id, "Candidate: an RCD of 30 mA for this load, after a test.");
            context.findings.add(std::move(f));
            break; // one finding for each column
        }
    }
}

} // namespace loopwalk::checks
