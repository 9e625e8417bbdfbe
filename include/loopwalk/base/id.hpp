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

    [[nodiscard]] constexpr bool is_valid() const noexcept { return m_index != kInvalid; }
    constexpr explicit operator bool() const noexcept { return is_valid(); }
    /// For use as a vector subscript.
    [[nodiscard]] constexpr std::size_t index() const noexcept { return m_index; }
    friend constexpr auto operator<=>(Id, Id) noexcept = default;

  private:
    static constexpr std::uint32_t kInvalid = std::numeric_limits<std::uint32_t>::max();
    std::uint32_t m_index = kInvalid;
};

using TextId = Id<struct TextTag>; // a text in a TextPool; invalid = null
using ColumnId = Id<struct ColumnTag>;
using CableId = Id<struct CableTag>;
using PartId = Id<struct PartTag>; // one line of a multi-part cable
using SupplyId = Id<struct SupplyTag>;
using WayRowId = Id<struct WayRowTag>; // a row of the `ways` layer
using JointId = Id<struct JointTag>;
using MainId = Id<struct MainTag>;
using NodeId = Id<struct NodeTag>;
using VertexId = Id<struct VertexTag>; // of the graph
using EdgeId = Id<struct EdgeTag>;     // a section or a link
using InfeedId = Id<struct InfeedTag>; // where tracing starts
using ComponentId = Id<struct ComponentTag>;
using SectionId = Id<struct SectionTag>;
using WayId = Id<struct WayTag>; // a way of a supply, with or without a row
using DeviceId = Id<struct DeviceTag>;
using CableTypeId = Id<struct CableTypeTag>; // row of the catalogue's cables
using FuseTypeId = Id<struct FuseTypeTag>;   // a device type (standard) of the catalogue

static_assert(sizeof(NodeId) == 4 && std::is_trivially_copyable_v<NodeId>);

} // namespace loopwalk::base

template <class Tag>
struct std::hash<loopwalk::base::Id<Tag>> {
    std::size_t operator()(loopwalk::base::Id<Tag> id) const noexcept { return id.index(); }
};
