// Union-find over small numbers: what no impedance keeps apart.
#pragma once

#include <cstdint>
#include <limits>
#include <vector>

namespace loopwalk::solution {

class JoinedVertices {
  public:
    explicit JoinedVertices(std::size_t count) : m_up(count) {
        for (std::uint32_t v = 0; v < count; ++v) {
            m_up[v] = v;
        }
    }
    [[nodiscard]] std::uint32_t find(std::uint32_t v) {
        while (m_up[v] != v) {
            m_up[v] = m_up[m_up[v]];
            v = m_up[v];
        }
        return v;
    }
    void join(std::uint32_t a, std::uint32_t b) { m_up[find(a)] = find(b); }
    /// Number of each one's group, from 0 in the order of their first members.
    [[nodiscard]] std::vector<std::uint32_t> numbers(std::uint32_t& count) {
        constexpr std::uint32_t kUnseen = std::numeric_limits<std::uint32_t>::max();
        std::vector<std::uint32_t> of_group(m_up.size(), kUnseen);
        std::vector<std::uint32_t> result(m_up.size());
        count = 0;
        for (std::uint32_t v = 0; v < m_up.size(); ++v) {
            std::uint32_t& number = of_group[find(v)];
            if (number == kUnseen) {
                number = count++;
            }
            result[v] = number;
        }
        return result;
    }

  private:
    std::vector<std::uint32_t> m_up;
};

} // namespace loopwalk::solution
