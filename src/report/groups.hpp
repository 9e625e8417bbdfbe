// Vertices that something without impedance joins.
#pragma once

#include <cstdint>
#include <map>
#include <vector>

namespace loopwalk::report {

/// Groups of vertices that something without impedance joins, by a number from 0.
class Groups {
  public:
    explicit Groups(std::size_t count) : m_up(count) {
        for (std::uint32_t v = 0; v < count; ++v) {
            m_up[v] = v;
        }
    }
    void join(std::uint32_t a, std::uint32_t b) { m_up[find(a)] = find(b); }
    [[nodiscard]] std::vector<std::uint32_t> numbers() {
        std::map<std::uint32_t, std::uint32_t> known;
        std::vector<std::uint32_t> result;
        for (std::uint32_t v = 0; v < m_up.size(); ++v) {
            const auto next = static_cast<std::uint32_t>(known.size());
            result.push_back(known.try_emplace(find(v), next).first->second);
        }
        return result;
    }

  private:
    [[nodiscard]] std::uint32_t find(std::uint32_t v) const {
        while (m_up[v] != v) {
            v = m_up[v];
        }
        return v;
    }
    std::vector<std::uint32_t> m_up;
};

} // namespace loopwalk::report
