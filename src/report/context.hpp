// What the parts of a page share: the results, and the page they write on.
#pragma once

#include "loopwalk/assess/section_ohms.hpp"
#include "loopwalk/output/results.hpp"
#include "loopwalk/report/page.hpp"

#include <string>
#include <vector>

namespace loopwalk::report {

/// One edge of the network on the way from the source.
struct Step {
    base::EdgeId edge;
    base::VertexId from, to;
};

/// The way from a root to a vertex.
struct Trail {
    base::RootId root;
    base::VertexId end;
    std::vector<Step> steps; ///< from the source on
};

struct Context {
    Context(const output::Results& results, assess::Judge& judge);

    const output::Results& results;
    assess::Judge& judge;
    assess::Explainer explain;
    assess::SectionOhms ohms;
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
    [[nodiscard]] Trail trail_to(base::VertexId vertex) const;
    /// Sections of a trail in the order of the current.
    [[nodiscard]] std::vector<base::SectionId> sections_of(const Trail& trail) const;
    /// The source of a root that is a way; null at a main.
    [[nodiscard]] const assess::Source* source_of(base::RootId root) const;
    [[nodiscard]] const model::Supply& supply_of(base::RootId root) const;
};

/// "measured", "declared", "assumed"
[[nodiscard]] std::string basis_text(model::Basis basis);
/// "predicted to meet its limit" and the like.
[[nodiscard]] std::string verdict_text(assess::Verdict verdict);

} // namespace loopwalk::report
