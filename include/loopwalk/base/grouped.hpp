// Numbers by a key, packed: which rows of one layer belong to each asset of another.
#pragma once

#include <algorithm>
#include <cstdint>
#include <span>
#include <utility>
#include <vector>

namespace loopwalk::base {

/// Numbers kept by key, in two vectors: filled first, then read. Keys need `<`.
template <class Key>
class Grouped {
  public:
    /// Before freeze() only.
    void add(Key key, std::uint32_t value) { m_pairs.emplace_back(key, value); }

    /// To be called once, after the last add() and before the first of().
    void freeze() {
        std::sort(m_pairs.begin(), m_pairs.end());
        for (const auto& [key, value] : m_pairs) {
            m_values.push_back(value);
        }
    }

    /// Values of a key, ascending; empty if there are none.
    [[nodiscard]] std::span<const std::uint32_t> of(Key key) const {
        const auto first = std::lower_bound(
            m_pairs.begin(), m_pairs.end(), key,
            [](const std::pair<Key, std::uint32_t>& pair, Key k) { return pair.first < k; });
        const auto last = std::upper_bound(
            first, m_pairs.end(), key,
            [](Key k, const std::pair<Key, std::uint32_t>& pair) { return k < pair.first; });
        return std::span<const std::uint32_t>{m_values}.subspan(
            static_cast<std::size_t>(first - m_pairs.begin()),
            static_cast<std::size_t>(last - first));
    }

  private:
    std::vector<std::pair<Key, std::uint32_t>> m_pairs;
    std::vector<std::uint32_t> m_values;
};

} // namespace loopwalk::base
