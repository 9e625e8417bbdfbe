// Findings with everything that is said of an asset everywhere: where it is, its id, supply and
// way.
#pragma once

#include "loopwalk/checks/review.hpp"

namespace loopwalk::checks {

class FindingBuilder {
  public:
    FindingBuilder(const ReviewInput& input, const protection::Devices& devices)
        : m_in(input), m_devices(devices),
          m_explain(input.layers, input.catalogue, input.network, input.trace, input.figures) {}

    [[nodiscard]] const Explainer& explain() const noexcept { return m_explain; }

    /// At a column, with supply and way of what feeds it.
    [[nodiscard]] base::Finding
    at_column(base::Rule rule, ColumnId id,
              base::Certainty certainty = base::Certainty::certain) const;
    /// At the supply of an infeed's way. Precondition: not an infeed on a main.
    [[nodiscard]] base::Finding at_way(base::Rule rule, InfeedId infeed,
                                       base::Certainty certainty = base::Certainty::certain) const;
    /// About a way, at one of its columns.
    [[nodiscard]] base::Finding
    at_column_of_way(base::Rule rule, InfeedId infeed, ColumnId column,
                     base::Certainty certainty = base::Certainty::certain) const;
    [[nodiscard]] base::Finding
    at_cable(base::Rule rule, base::CableId id,
             base::Certainty certainty = base::Certainty::certain) const;
    /// At the cable of a traced section, with its supply and way.
    [[nodiscard]] base::Finding
    at_section(base::Rule rule, base::SectionId id,
               base::Certainty certainty = base::Certainty::certain) const;
    /// At the asset that holds a device: its supply with the way, joint or column.
    [[nodiscard]] base::Finding
    at_device(base::Rule rule, DeviceId id,
              base::Certainty certainty = base::Certainty::certain) const;

    /// Whether one of several ways that are joined around a vertex has a label: then nothing
    /// differs.
    [[nodiscard]] bool is_also_fed_by(VertexId vertex, base::TextId circuit) const;

    /// Sets the cure where the column or the section's cable is the council's: no advice is given
    /// on what is not.
    void advise(base::Finding& finding, ColumnId column, std::string_view cure) const;
    void advise(base::Finding& finding, base::SectionId section, std::string_view cure) const;

    /// Sets supply and way; of a main the supply stays empty. Nothing for an invalid infeed.
    void name_infeed(base::Finding& finding, InfeedId infeed) const;

  private:
    const ReviewInput& m_in;
    const protection::Devices& m_devices;
    Explainer m_explain;
};

/// What every check looks at, and where its findings go.
struct CheckContext {
    const ReviewInput& in;
    const Review& review; ///< the sums over all columns and sections
    Judge& judge;
    const FindingBuilder& build;
    base::FindingSink& findings;
};

/// What a check keeps of its context.
class Reporter {
  protected:
    /// Advice is given, and voltages are estimated, on the council's own cables only.
    [[nodiscard]] bool is_councils(base::SectionId id) const {
        const base::CableId cable = m_in.network.snapped.sections[id.index()].cable;
        return m_in.layers.cables[cable.index()].owner == model::Owner::council;
    }
    explicit Reporter(const CheckContext& context)
        : m_in(context.in), m_review(context.review), m_judge(context.judge),
          m_build(context.build), m_explain(context.build.explain()), m_findings(context.findings) {
    }

    const ReviewInput& m_in;       // NOLINT(misc-non-private-member-variables-in-classes)
    const Review& m_review;        // NOLINT(misc-non-private-member-variables-in-classes)
    Judge& m_judge;                // NOLINT(misc-non-private-member-variables-in-classes)
    const FindingBuilder& m_build; // NOLINT(misc-non-private-member-variables-in-classes)
    const Explainer& m_explain;    // NOLINT(misc-non-private-member-variables-in-classes)
    base::FindingSink& m_findings; // NOLINT(misc-non-private-member-variables-in-classes)
};

} // namespace loopwalk::checks
