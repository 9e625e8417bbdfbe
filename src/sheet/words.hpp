// What the sheets of all kinds of assets have in common, in words.
#pragma once

#include "loopwalk/sheet/sheet.hpp"

#include "places.hpp"

namespace loopwalk::sheet {

/// What the parts of one sheet are written from.
struct Maker {
    Maker(const output::Results& results, protection::Judge& judge);

    const output::Results& results;
    protection::Judge& judge;
    checks::Explainer explain;

    [[nodiscard]] const model::Layers& layers() const noexcept { return results.layers(); }
    [[nodiscard]] const network::Network& net() const noexcept { return results.network; }
    [[nodiscard]] std::string text(base::TextId id) const { return layers().id_text(id); }
    [[nodiscard]] std::string node_name(base::NodeId node) const;
    [[nodiscard]] std::string way_name(base::WayId way) const;
    /// "P/1: BS 88-2 16 A"
    [[nodiscard]] std::string device(base::DeviceId id) const;
    /// "a, b and 7 more: see explain"
    [[nodiscard]] std::string columns(const std::vector<base::ColumnId>& ids) const;
};

[[nodiscard]] std::string owner_large(model::Owner owner);
[[nodiscard]] std::string control_words(model::Control control);
[[nodiscard]] std::string earthing_words(model::Earthing earthing);
/// "12.3 m"
[[nodiscard]] std::string metres(base::Metre length);
/// "A 0 m, B 30 m"
[[nodiscard]] std::string stops_words(const Maker& m, const std::vector<Stop>& stops);

/// What an end goes by when somebody draws or opens something.
struct Switches {
    std::string fuse, way, supply; ///< as headings of lines: "This column's fuse drawn"
};
void add_ends(const Maker& m, Sheet& sheet, base::NodeId asset, const Switches& switches);
void add_others(const Maker& m, Sheet& sheet, base::NodeId asset);
void add_findings(const Maker& m, Sheet& sheet, base::Concern asset,
                  std::vector<std::string> first);
/// Both ways along the cable.
void add_route(const Maker& m, Sheet& sheet, base::VertexId vertex);
/// Columns behind something, or that it is not simple.
[[nodiscard]] std::string dark_words(const Maker& m, const std::string& what, base::VertexId first);
void add_blanks(Sheet& sheet);

void fill_column(Maker& m, Sheet& sheet, base::ColumnId id);
void fill_supply(Maker& m, Sheet& sheet, base::SupplyId id);
void fill_way(Maker& m, Sheet& sheet, base::WayId id);
void fill_joint(Maker& m, Sheet& sheet, base::JointId id);

} // namespace loopwalk::sheet
