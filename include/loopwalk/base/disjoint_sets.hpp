// Small numbers in disjoint sets, joined two by two: what conducts without impedance, what lies in
// one loop, what hangs together (boost::disjoint_sets, with union by rank and shortened ways).
#pragma once

#include <cstdint>
#include <vector>

namespace loopwalk::base {

/// Sets that grow together (boost::disjoint_sets): near-constant cost for each call.
class DisjointSets {
  public:
    /// The numbers from 0 to `count` - 1, each in a set of its own.
    explicit DisjointSets(std::size_t count);

    /// A member that stands for the set of `member`. Which one it is means nothing.
    [[nodiscard]] std::uint32_t find(std::uint32_t member);
    /// Makes one set of the two that hold `a` and `b`; both below the count.
    void join(std::uint32_t a, std::uint32_t b);

    /// Number of each member's set, from 0 in the order of their smallest members.
    struct Numbered {
        std::vector<std::uint32_t> set_of; ///< by member
        std::uint32_t sets = 0;            ///< how many there are
    };
    /// Numbers of the sets as they are now; one pass over all members.
    [[nodiscard]] Numbered numbered();

  private:
    std::vector<std::uint32_t> m_parent;
    std::vector<std::uint8_t> m_rank; ///< at most the logarithm of the count
};

} // namespace loopwalk::base
