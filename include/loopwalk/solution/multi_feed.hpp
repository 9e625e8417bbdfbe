// A looped block that several devices feed or divide: what a fault in it sees while its devices are
// closed, and after some of them have opened (docs/method.md section 5).
//
// Exact where the records are complete; otherwise outer bounds of the loop, and no shares.
#pragma once

#include "loopwalk/base/id.hpp"
#include "loopwalk/impedance/impedance.hpp"
#include "loopwalk/impedance/source.hpp"
#include "loopwalk/trace/block.hpp"

#include <cstdint>
#include <memory>
#include <vector>

namespace loopwalk::solution {

using impedance::Complex;
using impedance::Conductors;
using impedance::EarthPathState;
using impedance::Presence;
using impedance::Source;

class BlockNetwork;
struct PieceOhms;

/// A looped block, or joined supplies, with the devices that feed it: what a fault does to them.
class MultiFeed {
  public:
    /// A place of a fault: at a vertex of the block or behind it, or along one of its sections.
    struct Point {
        static constexpr std::uint32_t kNone = 0xffffffffU; ///< not along a section
        std::uint32_t vertex = 0;                           ///< of the block
        std::uint32_t section = kNone;   ///< of the block: the place lies along it
        double share = 0.0;              ///< 0 at the section's `from`, 1 at its `to`
        Complex beyond_low, beyond_high; ///< hot loop (line + earth) in series with the block's
        /// what lies in series with the block's
        EarthPathState beyond_earth = EarthPathState::intact;
    };
    /// Devices or supplies beyond this number around one block are not followed: the orders in
    /// which they may open, and the loops from each alone, would cost more than the records are
    /// worth (docs/method.md section 5).
    static constexpr std::size_t kMostFollowed = 16;
    /// Which devices, by their position in devices(), have opened.
    using Opened = std::vector<std::uint8_t>;

    /// The loop from a place back to whatever still feeds it, smallest current.
    struct Loop {
        bool is_fed = false; ///< false: every device that feeds it has opened
        EarthPathState earth = EarthPathState::intact; ///< back to what feeds it
        base::Maybe<base::Ohm> zs_low, zs_high; ///< with the source; high only with an intact earth
        base::Volt u0;                          ///< lowest of the sources that feed it
    };

    /// `sources`: by terminal of the block; they outlive this object.
    MultiFeed(trace::Block block, std::vector<PieceOhms> ohms, std::vector<const Source*> sources);
    ~MultiFeed();
    MultiFeed(const MultiFeed&) = delete;
    MultiFeed& operator=(const MultiFeed&) = delete;

    /// Devices that stand in the block or before it, each once. An invalid id among them stands
    /// for a feed without a device: it never opens.
    [[nodiscard]] const std::vector<base::DeviceId>& devices() const noexcept;
    /// First infeed of each supply that feeds it.
    [[nodiscard]] const std::vector<base::InfeedId>& feeds() const noexcept;
    /// Type and length of all sections are on record, so shares and currents have one value.
    [[nodiscard]] bool is_exact() const noexcept;
    /// More than kMostFollowed devices or supplies.
    [[nodiscard]] bool is_beyond_following() const noexcept;

    /// `opened`: by position in devices(); empty means all closed.
    [[nodiscard]] Loop loop(const Opened& opened, const Point& point) const;
    /// The same from one supply alone, all devices closed.
    [[nodiscard]] Loop loop_alone(std::size_t feed, const Point& point) const;
    /// Behind a vertex of the block, cold.
    struct Beyond {
        Conductors low, high;                          ///< in series, at the bounds, ohm
        EarthPathState earth = EarthPathState::intact; ///< of what is in series
        Presence neutral = Presence::yes;              ///< of what is in series
    };
    /// Largest prospective current at a place, of any kind of fault that its conductors allow.
    struct Largest {
        base::Maybe<base::Ampere> low, high; ///< over the completions of the record
    };
    /// Largest prospective current with all supplies connected, each at its strongest and all at
    /// the same angle between 0 and 90 degrees (docs/method.md section 4).
    [[nodiscard]] Largest largest(std::uint32_t vertex, const Beyond& beyond, double cmax) const;
    /// Magnitude of a device's part of the line current at a place. Precondition: is_exact().
    [[nodiscard]] double share(const Opened& opened, std::size_t device, const Point& point) const;
    /// Where along a section the loop is highest, 0 to 1, all devices closed.
    [[nodiscard]] double highest_along(std::uint32_t section) const;
    /// The vertices between which a place lies; one where it lies at a vertex or beyond it.
    [[nodiscard]] std::vector<std::uint32_t> ends_of(const Point& place) const;
    /// Local vertex at its `from`.
    [[nodiscard]] std::uint32_t section_start(std::uint32_t section) const;

  private:
    struct Impl;
    std::unique_ptr<Impl> m_impl;
};

} // namespace loopwalk::solution
