// Ids are tagged 32-bit integers: no arithmetic, no conversion from one kind to another.
#pragma once

#include <compare>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <limits>
#include <type_traits>

namespace loopwalk::base {

/// Position of an element in the vector of its kind. The default is invalid (all ones).
template <class Tag>
class Id {
  public:
    constexpr Id() noexcept = default;
    constexpr explicit Id(std::size_t index) noexcept
        : m_index(static_cast<std::uint32_t>(index)) {}

    /// False of a default id: it stands for "none".
    [[nodiscard]] constexpr bool is_valid() const noexcept { return m_index != kInvalid; }
    /// Likewise, for use in conditions.
    constexpr explicit operator bool() const noexcept { return is_valid(); }
    /// For use as a vector subscript.
    [[nodiscard]] constexpr std::size_t index() const noexcept { return m_index; }
    friend constexpr auto operator<=>(Id, Id) noexcept = default;

  private:
    static constexpr std::uint32_t kInvalid = std::numeric_limits<std::uint32_t>::max();
    std::uint32_t m_index = kInvalid;
};

using TextId = Id<struct TextTag>;     ///< in a TextPool; invalid = null
using ColumnId = Id<struct ColumnTag>; ///< a row of `columns`, in the order of model::Layers
using CableId = Id<struct CableTag>;   ///< a row of `cables`
using PartId = Id<struct PartTag>;     ///< one line of a multi-part cable
using SupplyId = Id<struct SupplyTag>; ///< a row of `supplies`
using WayRowId = Id<struct WayRowTag>; ///< a row of the `ways` layer
using JointId = Id<struct JointTag>;   ///< a row of `joints`
using MainId = Id<struct MainTag>;     ///< a row of `mains`
/// a place of the snapped network: an asset or where cable ends meet
using NodeId = Id<struct NodeTag>;
using VertexId = Id<struct VertexTag>;       ///< of the graph
using EdgeId = Id<struct EdgeTag>;           ///< a section or a link
using InfeedId = Id<struct InfeedTag>;       ///< where tracing starts: a way of a supply, or a main
using ComponentId = Id<struct ComponentTag>; ///< a connected part of the graph
using SectionId = Id<struct SectionTag>;     ///< a piece of cable between two nodes
using WayId = Id<struct WayTag>;             ///< a way of a supply, with or without a row
using DeviceId = Id<struct DeviceTag>; ///< a device of the network: fuse of a way, joint or cut-out
using CableTypeId = Id<struct CableTypeTag>; ///< row of the catalogue's cables
using FuseTypeId = Id<struct FuseTypeTag>;   ///< a device type (standard) of the catalogue

static_assert(sizeof(NodeId) == 4 && std::is_trivially_copyable_v<NodeId>);

} // namespace loopwalk::base

/// Hash of an id: its position, since ids are dense.
template <class Tag>
struct std::hash<loopwalk::base::Id<Tag>> {
    /// Never throws.
    std::size_t operator()(loopwalk::base::Id<Tag> id) const noexcept { return id.index(); }
};
