// The explanations of dark columns in words and as JSON.
#pragma once

#include "loopwalk/checks/why.hpp"
#include "loopwalk/outage/outage.hpp"
#include "loopwalk/output/results.hpp"

#include <string>

namespace loopwalk::output {

/// Names what may be lost, and what to do about it, in the words of the trade.
class LossWords {
  public:
    explicit LossWords(const Results& results);

    /// "way 1 of pillar P: fuse BS 88-2 25 A", "cable C7, A4 to A5 (21 m), and its ends".
    [[nodiscard]] std::string what(const outage::Loss& loss) const;
    /// "Go to pillar P: look at the fuse of way 1 (BS 88-2 25 A)."
    [[nodiscard]] std::string first_step(const outage::Loss& loss) const;
    /// Whether it is the distributor's by record: then nobody else works on it.
    [[nodiscard]] bool is_distributors(const outage::Loss& loss) const;
    /// Ends of a section, the one nearer to the source first where only one feed comes to it.
    struct Ends {
        base::NodeId from, to;    ///< nodes of the network
        bool is_directed = false; ///< `from` is nearer to the source
    };
    /// Of a section of the network.
    [[nodiscard]] Ends ends_of(base::SectionId id) const;
    /// An asset's id; of a place without one, what meets there.
    [[nodiscard]] std::string node_name(base::NodeId id, base::CableId seen_from) const;
    /// Its id.
    [[nodiscard]] std::string column(base::ColumnId id) const;

  private:
    /// With its road, to find it.
    [[nodiscard]] std::string at_road(base::ColumnId id) const;
    [[nodiscard]] std::string way_text(base::WayId id) const;
    [[nodiscard]] std::string supply_text(base::SupplyId id) const;
    [[nodiscard]] std::string fuse_of_way(base::WayId id) const;
    [[nodiscard]] std::string place_text(const outage::Loss& loss) const;
    [[nodiscard]] std::string switching_text(const outage::Loss& loss) const;
    [[nodiscard]] std::string section_text(base::SectionId id) const;
    [[nodiscard]] std::string section_step(base::SectionId id) const;
    [[nodiscard]] std::string place_step(const outage::Loss& loss) const;
    [[nodiscard]] std::string meeting_text(base::NodeId id) const;
    [[nodiscard]] std::string text(base::TextId id) const { return m_r.layers().id_text(id); }

    const Results& m_r;
    checks::Explainer m_explain;
};

/// One JSON object (RFC 8259, UTF-8) with everything that was found.
[[nodiscard]] std::string dark_json(const Results& results, const outage::Seen& seen,
                                    const outage::Diagnosis& diagnosis);

} // namespace loopwalk::output
