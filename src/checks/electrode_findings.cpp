// Electrodes of TT supplies and columns that may not stay as they are.
#include "loopwalk/base/text.hpp"

#include "network_findings.hpp"

namespace loopwalk::checks {

namespace {

using base::Finding;
using base::Rule;
using base::short_text;

class ElectrodeReporter : Reporter {
  public:
    explicit ElectrodeReporter(const CheckContext& context) : Reporter(context) {}

    void run() {
        for (const model::Supply& supply : m_in.layers.supplies) {
            if (supply.earthing == model::Earthing::tt && model::conducts(supply.status)) {
                look_at(supply);
            }
        }
        for (std::size_t c = 0; c < m_in.layers.columns.size(); ++c) {
            const auto state = m_in.figures.columns[c].state;
            if (model::conducts(m_in.layers.columns[c].status) && figures::has_figures(state) &&
                m_judge.facts().is_tt(ColumnId(c))) {
                look_at(ColumnId(c));
            }
        }
    }

  private:
    [[nodiscard]] bool is_high(const base::Maybe<base::Ohm>& electrode) const {
        return electrode.has_value() && *electrode > m_in.rules.electrode_steady;
    }

    void look_at(const model::Supply& supply) {
        if (is_high(supply.electrode)) {
            Finding f = base::finding_of(Rule::electrode_high);
            f.layer = base::AssetLayer::supplies;
            f.asset_id = m_in.layers.id_text(supply.id);
            f.supply_id = f.asset_id;
            f.place = supply.has_place ? std::optional(supply.place) : std::nullopt;
            add(std::move(f), "Supply ", *supply.electrode);
        }
    }

    void look_at(ColumnId id) {
        const auto& electrode = m_in.layers.columns[id.index()].electrode;
        if (is_high(electrode)) {
            Finding f = m_build.at_column(Rule::electrode_high, id);
            m_build.advise(f, id, "Candidates: a deeper or a second electrode, after a test.");
            add(std::move(f), "Column ", *electrode);
        }
    }

    void add(Finding f, const char* kind, base::Ohm electrode) {
        f.value = electrode.value();
        f.limit = m_in.rules.electrode_steady.value();
        f.message = kind + f.asset_id + " has an electrode of " + short_text(*f.value) +
                    " ohm: above " + short_text(*f.limit) + " ohm it may not stay as it is.";
        m_findings.add(std::move(f));
    }
};

} // namespace

void report_electrodes(const CheckContext& context) {
    ElectrodeReporter(context).run();
}

} // namespace loopwalk::checks
