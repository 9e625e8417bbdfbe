// What the parts of a page share: the results, and the page they write on.
#pragma once

#include "loopwalk/figures/section_ohms.hpp"
#include "loopwalk/output/results.hpp"
#include "loopwalk/report/page.hpp"

#include "trail.hpp"
#include <string>
#include <vector>

namespace loopwalk::report {

struct Context {
    Context(const output::Results& results, protection::Judge& judge);

    const output::Results& results;
    protection::Judge& judge;
    checks::Explainer explain;
    figures::SectionOhms ohms;
    Page page;

    [[nodiscard]] const model::Layers& layers() const noexcept { return results.layers(); }
    [[nodiscard]] const network::Network& net() const noexcept { return results.network; }
    [[nodiscard]] const config::Rules& rules() const noexcept { return results.job.rules; }

    [[nodiscard]] std::string text(base::TextId id) const { return layers().id_text(id); }
    [[nodiscard]] std::string node_name(base::NodeId node) const;
    [[nodiscard]] std::string vertex_name(base::VertexId vertex) const;
    /// "cable/part"
    [[nodiscard]] std::string section_name(base::SectionId id) const;
    [[nodiscard]] const network::Section& section(base::SectionId id) const {
        return net().snapped.sections[id.index()];
    }
    [[nodiscard]] const model::Cable& cable_of(base::SectionId id) const {
        return layers().cables[section(id).cable.index()];
    }
    [[nodiscard]] Trail trail_to(base::VertexId vertex) const {
        return find_trail(net(), results.trace, vertex);
    }
    /// Precondition: the vertex is part of the network.
    [[nodiscard]] const trace::Component& component_of(base::VertexId vertex) const;
    /// Sections that all of the current passes, in its order.
    [[nodiscard]] std::vector<base::SectionId> sections_of(const Trail& trail) const;
    /// The source of an infeed; null at a main that no substation is recorded for.
    [[nodiscard]] const impedance::Source* source_of(base::InfeedId infeed) const {
        return results.figures.source_of(net(), infeed);
    }
    /// A infeed that is a way of a three-phase supply and is not on one phase by record.
    [[nodiscard]] bool is_three_phase(base::InfeedId infeed) const;
};

/// "measured", "declared", "assumed"
/// "predicted to meet its limit" and the like.
[[nodiscard]] std::string verdict_text(protection::Verdict verdict);

} // namespace loopwalk::report
