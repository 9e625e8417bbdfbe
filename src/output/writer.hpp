// What the writers of the single layers share.
#pragma once

#include "loopwalk/figures/section_ohms.hpp"
#include "loopwalk/output/write.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loopwalk::output {

[[nodiscard]] std::string_view cover_name(protection::Cover cover) noexcept;

/// Copies a layer, told which asset each feature is. The second reading of a database or of a file
/// that someone works on need not find what the first one found. Where the job names several
/// sources for the layer, each row gets the one that it comes from.
class AssetCopy {
  public:
    /// The layer is there.
    AssetCopy(input::Source& source, gis::OutputDataset& out, const input::ReadResult& read,
              base::AssetLayer layer, std::vector<gis::OutputField> added);
    [[nodiscard]] std::size_t count() const noexcept { return m_fids.size(); }
    /// On to the next feature that is input; false at the end. Throws InputError if it is not the
    /// one that was read, or if features are missing.
    [[nodiscard]] bool next();
    /// Of the current feature among the records.
    [[nodiscard]] std::uint32_t position() const noexcept { return m_position; }
    [[nodiscard]] gis::Row& row() { return m_copier.row(); } ///< the added fields
    void write();

  private:
    [[nodiscard]] bool is_input(std::int64_t fid);
    [[noreturn]] void fail() const;
    const std::vector<std::uint32_t>& m_positions;
    const std::vector<std::int64_t>& m_fids;
    const std::vector<input::SourcePart>& m_parts;
    base::AssetLayer m_layer;
    bool m_is_part;
    std::size_t m_added; ///< fields of the caller
    gis::LayerCopier m_copier;
    std::size_t m_next = 0;
    std::uint32_t m_position = 0;
};

/// Fields that name the source of a row, where a layer has several.
[[nodiscard]] const std::vector<gis::OutputField>& source_fields();
void fill_source(gis::Row& row, std::size_t first_field, const input::SourcePart& part,
                 std::int64_t fid);

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
    void write_suspects();
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
