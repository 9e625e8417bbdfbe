// Every cable that is drawn or recorded at a column, supply or joint: where its other end is, what
// feeds it, and what it takes to have no supply in it, as far as the records tell.
// docs/method.md section 1.
#pragma once

#include "loopwalk/figures/figures.hpp"

#include <optional>
#include <string_view>
#include <vector>

namespace loopwalk::ends {

using base::CableId;
using base::ComponentId;
using base::InfeedId;
using base::NodeId;
using base::SectionId;
using base::VertexId;

/// What a cable does at an asset. The order is that in which ends of one asset are listed.
enum class EndState : std::uint8_t {
    brings_in,             ///< current comes over it
    carries_on,            ///< current goes on over it
    open_here,             ///< recorded as open at this asset
    open_elsewhere,        ///< connected here, recorded as open at its other end
    at_nothing,            ///< connected here, its other end at no asset and no other cable
    recorded_disconnected, ///< not used in the calculation; it may be live all the same
    recorded_removed,      ///< likewise
    not_drawn,             ///< recorded at this asset, drawn elsewhere
    not_traced,            ///< no source was found in the records
};
/// "brings in": the word of the `cable_ends` layer.
[[nodiscard]] std::string_view end_state_name(EndState state) noexcept;

/// Whether an end stays live when something is drawn or switched off, as far as the records tell.
enum class StaysLive : std::uint8_t {
    no,
    yes,
    unknown,
    not_asked, ///< there is no such fuse, way or supply
};
/// "no", "yes", "unknown"; "" for not_asked.
[[nodiscard]] std::string_view stays_live_name(StaysLive stays) noexcept;

/// One end of a cable at an asset. A cable that loops through has two.
struct CableEnd {
    CableId cable;              ///< whose end it is
    SectionId section;          ///< the stretch that ends here; invalid: recorded, not drawn here
    EndState state{};           ///< what it does here
    NodeId other;               ///< next asset along it, or where it ends
    bool is_open_other = false; ///< recorded as open there
    /// What is joined to it, or for what is recorded as removed or disconnected what is joined to
    /// the asset at its other end; invalid: no source was found.
    ComponentId fed_by;
    StaysLive with_fuse_out = StaysLive::not_asked;   ///< of this column or joint
    StaysLive with_way_out = StaysLive::not_asked;    ///< of the way that feeds this asset
    StaysLive with_supply_off = StaysLive::not_asked; ///< the supply that feeds this asset
};

/// Finds the ends of one asset after the other; nothing is kept.
class CableEnds {
  public:
    /// All outlive it. Cost: linear in sections.
    CableEnds(const model::Layers& layers, const network::Network& network,
              const trace::Trace& trace, const figures::Figures& figures);

    /// Ends at a column, supply or joint, by state, cable and section.
    [[nodiscard]] std::vector<CableEnd> at(NodeId asset) const;
    /// What feeds an asset itself; null if nothing does, or it is a supply.
    [[nodiscard]] const trace::Component* own_feed(NodeId asset) const;
    /// Whether more than one component ends at an asset, or one that does not feed it: a quick look
    /// before at().
    [[nodiscard]] bool may_have_second(NodeId asset) const;
    /// What a cable's end at a node is joined to; invalid: no source was found.
    [[nodiscard]] ComponentId fed_by(CableId cable, NodeId end) const;
    /// Whether a cable's end at a node is joined to any source on record.
    [[nodiscard]] bool is_fed(CableId cable, NodeId end) const {
        return fed_by(cable, end).is_valid();
    }
    /// Main that a derived node lies on; none elsewhere.
    [[nodiscard]] std::optional<base::MainId> main_at(NodeId node) const;

  private:
    struct Place;
    [[nodiscard]] CableEnd end_of(const Place& place, SectionId section, VertexId vertex) const;
    void follow(CableEnd& end, NodeId from) const;
    [[nodiscard]] EndState state_of(const CableEnd& end, const Place& place, VertexId vertex) const;
    [[nodiscard]] bool brings_in(SectionId section, VertexId vertex) const;
    [[nodiscard]] bool is_open(VertexId vertex) const;
    [[nodiscard]] ComponentId component_of(VertexId vertex) const;
    [[nodiscard]] ComponentId feed_of_asset(NodeId node, CableId cable) const;
    void fill_live(CableEnd& end, const Place& place, VertexId vertex) const;
    [[nodiscard]] StaysLive with_fuse_out(const Place& place, SectionId section,
                                          VertexId vertex) const;
    [[nodiscard]] StaysLive with_way_out(const Place& place, const CableEnd& end,
                                         VertexId vertex) const;
    [[nodiscard]] StaysLive with_supply_off(const Place& place, const CableEnd& end) const;
    [[nodiscard]] StaysLive without_link(base::WayId way, VertexId vertex) const;
    [[nodiscard]] Place place_of(NodeId asset) const;
    void add_not_drawn(std::vector<CableEnd>& ends, const Place& place) const;
    [[nodiscard]] VertexId vertex_at(SectionId section, NodeId node) const;

    const model::Layers& m_layers;
    const network::Network& m_net;
    const trace::Trace& m_trace;
    const figures::Figures& m_figures;
    std::vector<std::uint32_t> m_first;       ///< by node: stretch of m_sections; one more at last
    std::vector<SectionId> m_sections;        ///< those that end at a node, ascending
    std::vector<std::uint8_t> m_is_inside;    ///< by vertex: part of its asset, not an open end
    std::vector<std::uint8_t> m_is_unclear;   ///< by component: a status that nobody explained
    std::vector<base::EdgeId> m_way_link;     ///< by way; invalid unless of a section pillar
    std::vector<base::EdgeId> m_cut_out_link; ///< by column; empty if no column has one
};

} // namespace loopwalk::ends
