// The values of a field and how often each occurs, in bounded memory and whatever the order of the
// features: beyond a number of different values, those with the smallest hashes stand for all.
#pragma once

#include <cstdint>
#include <queue>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace loopwalk::draft {

/// Different values of a field and how often each occurs, in bounded memory.
class ValueCounts {
  public:
    /// Different values that are kept.
    static constexpr std::size_t kMost = 4096;

    /// A value.
    struct Entry {
        std::string text;        ///< without outer blanks
        std::uint64_t count = 0; ///< how often it occurs
    };

    /// Counts a value; outer blanks do not matter, a blank one is none.
    void add(std::string_view text);

    /// Values that were counted.
    [[nodiscard]] std::uint64_t total() const noexcept { return m_total; }
    /// Different values: exact up to kMost, beyond that an estimate (standard error about 1.6 %).
    [[nodiscard]] double distinct() const noexcept;
    /// Whether every value is kept.
    [[nodiscard]] bool is_complete() const noexcept { return !m_was_full; }
    /// Values that are kept, the most frequent first, then by text. Counts are exact.
    [[nodiscard]] std::vector<Entry> entries() const;
    /// Share of the different values that occur among those of `other` too, as far as what both
    /// keep tells.
    [[nodiscard]] double share_found_in(const ValueCounts& other) const;

  private:
    std::unordered_map<std::uint64_t, Entry> m_kept; ///< by hash
    std::priority_queue<std::uint64_t> m_hashes;     ///< of what is kept, the largest on top
    std::uint64_t m_total = 0;
    bool m_was_full = false;
};

} // namespace loopwalk::draft
