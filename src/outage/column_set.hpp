// A set of the columns looked at, one bit each.
#pragma once

#include <bit>
#include <cstdint>
#include <vector>

namespace loopwalk::outage {

class ColumnSet {
  public:
    ColumnSet() = default;
    explicit ColumnSet(std::size_t columns) : m_words((columns + kBits - 1) / kBits) {}

    void add(std::size_t column) { m_words[column / kBits] |= bit(column); }
    void remove(std::size_t column) { m_words[column / kBits] &= ~bit(column); }
    [[nodiscard]] bool has(std::size_t column) const {
        return (m_words[column / kBits] & bit(column)) != 0;
    }
    ColumnSet& operator|=(const ColumnSet& other) {
        for (std::size_t w = 0; w < m_words.size(); ++w) {
            m_words[w] |= other.m_words[w];
        }
        return *this;
    }
    ColumnSet& operator&=(const ColumnSet& other) {
        for (std::size_t w = 0; w < m_words.size(); ++w) {
            m_words[w] &= other.m_words[w];
        }
        return *this;
    }
    ColumnSet& operator-=(const ColumnSet& other) {
        for (std::size_t w = 0; w < m_words.size(); ++w) {
            m_words[w] &= ~other.m_words[w];
        }
        return *this;
    }
    [[nodiscard]] std::size_t count() const {
        std::size_t bits = 0;
        for (const std::uint64_t word : m_words) {
            bits += static_cast<std::size_t>(std::popcount(word));
        }
        return bits;
    }
    [[nodiscard]] bool is_empty() const { return count() == 0; }
    [[nodiscard]] bool meets(const ColumnSet& other) const {
        for (std::size_t w = 0; w < m_words.size(); ++w) {
            if ((m_words[w] & other.m_words[w]) != 0) {
                return true;
            }
        }
        return false;
    }
    /// Whether all of `other` is in it.
    [[nodiscard]] bool holds(const ColumnSet& other) const {
        for (std::size_t w = 0; w < m_words.size(); ++w) {
            if ((other.m_words[w] & ~m_words[w]) != 0) {
                return false;
            }
        }
        return true;
    }
    friend auto operator<=>(const ColumnSet&, const ColumnSet&) = default;

  private:
    static constexpr std::size_t kBits = 64;
    static std::uint64_t bit(std::size_t column) { return std::uint64_t{1} << (column % kBits); }

    std::vector<std::uint64_t> m_words;
};

/// What a loss does to the columns: some go out for certain, some may.
struct Effect {
    ColumnSet certain, possible; ///< no column is in both
    friend auto operator<=>(const Effect&, const Effect&) = default;
};

} // namespace loopwalk::outage
