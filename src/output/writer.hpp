// What the writers of the single layers share.
#pragma once

#include "loopwalk/figures/section_ohms.hpp"
#include "loopwalk/output/write.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loopwalk::output {

[[nodiscard]] std::string_view cover_name(protection::Cover cover) noexcept;

/// Leads the copying of a layer: which asset each feature is. The second reading of a database or
/// of a file that someone works on need not find what the first one found.
class CopyGuide {
  public:
    CopyGuide(const input::ReadResult& read, base::AssetLayer layer);
    [[nodiscard]] std::size_t count() const noexcept { return m_fids.size(); }
    /// Position of the next feature among the records; none if it is no input, where only a part
    /// was read. Throws InputError if it is not the one that was read.
    [[nodiscard]] std::optional<std::uint32_t> next(std::int64_t fid);
    /// Throws InputError if features are missing.
    void finish() const;

  private:
    [[noreturn]] void fail() const;
    const std::vector<std::uint32_t>& m_positions;
    const std::vector<std::int64_t>& m_fids;
    base::AssetLayer m_layer;
    bool m_is_part;
    std::size_t m_next = 0;
};

class Writer {
  public:
    Writer(const Results& all, input::Source& source, protection::Judge& judge_again,
           gis::OutputDataset& out, base::Progress& progress);

    void run();

    const Results& results;
    const model::Layers& layers;
    const network::Network& net;
    protection::Judge& judge;
    checks::Explainer explain;

    [[nodiscard]] std::string node_name(base::NodeId node) const;
    /// Supply and way that a component hangs on; empty where there are several.
    [[nodiscard]] std::string supply_of(const trace::Component& component) const;
    [[nodiscard]] std::string way_of(const trace::Component& component) const;

  private:
    void copy_columns();
    void copy_cables();
    void copy_supplies();
    void copy_ways();
    void copy_others();
    void write_sections();
    void write_circuits();
    void write_fuse_cover();
    void write_cable_ends();
    void write_findings();
    void write_gaps();
    void write_moves();
    void write_survey();
    void write_completeness();
    void write_run();

    /// A section as drawn and led to its nodes, in the cables' coordinate system.
    [[nodiscard]] base::Polyline line_of(base::SectionId id) const;
    [[nodiscard]] std::vector<base::Polyline>
    lines_of(std::span<const std::uint32_t> sections) const;
    [[nodiscard]] base::Point2 place(base::Point2 working) const;
    [[nodiscard]] base::Polyline in_output_crs(base::Polyline line) const;

    input::Source& m_source;
    gis::OutputDataset& m_out;
    base::Progress& m_progress;
    gis::Transform m_to_cables;
    figures::SectionOhms m_ohms;
};

} // namespace loopwalk::output
