#include "loopwalk/solution/nodal.hpp"

#include "loopwalk/base/error.hpp"

#include <algorithm>
#include <functional>
#include <limits>
#include <queue>

namespace loopwalk::solution {
namespace {

using Complex = NodalNetwork::Complex;
using Branch = std::pair<std::uint32_t, Complex>;

constexpr std::uint32_t kNever = std::numeric_limits<std::uint32_t>::max();

auto find_branch(std::vector<Branch>& branches, std::uint32_t node) {
    return std::ranges::lower_bound(branches, node, {}, &Branch::first);
}

} // namespace

NodalNetwork::NodalNetwork(std::uint32_t nodes)
    : m_branches(nodes), m_links(nodes), m_rank(nodes, kNever), m_sum(nodes), m_own(nodes),
      m_is_held(nodes, 0), m_reaches(nodes, 0) {}

void NodalNetwork::connect(std::uint32_t a, std::uint32_t b, Complex ohms) {
    LW_ASSERT(ohms != Complex());
    if (a != b) {
        const Complex siemens = 1.0 / ohms;
        add_branch(a, b, siemens);
        add_branch(b, a, siemens);
    }
}

void NodalNetwork::add_branch(std::uint32_t a, std::uint32_t b, Complex siemens) {
    const auto at = find_branch(m_branches[a], b);
    if (at != m_branches[a].end() && at->first == b) {
        at->second += siemens;
    } else {
        m_branches[a].emplace(at, b, siemens);
    }
}

void NodalNetwork::hold(std::uint32_t node) {
    m_is_held[node] = 1;
}

void NodalNetwork::solve() {
    using Entry = std::pair<std::size_t, std::uint32_t>; // neighbours, node
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
    for (std::uint32_t n = 0; n < m_branches.size(); ++n) {
        if (m_is_held[n] == 0) {
            queue.emplace(m_branches[n].size(), n);
        }
    }
    while (!queue.empty()) {
        const auto [degree, node] = queue.top();
        queue.pop();
        if (m_rank[node] != kNever || degree != m_branches[node].size()) {
            continue; // eliminated, or its neighbours have changed since: a later entry is right
        }
        eliminate(node);
        for (const Link& link : m_links[node]) {
            if (m_is_held[link.node] == 0) {
                queue.emplace(m_branches[link.node].size(), link.node);
            }
        }
    }
    trace_back();
}

void NodalNetwork::eliminate(std::uint32_t node) {
    const std::vector<Branch> branches = std::move(m_branches[node]);
    m_branches[node].clear();
    m_rank[node] = static_cast<std::uint32_t>(m_order.size());
    m_order.push_back(node);
    Complex sum;
    for (const auto& [other, siemens] : branches) {
        sum += siemens;
    }
    m_sum[node] = sum;
    for (const auto& [other, siemens] : branches) {
        m_links[node].push_back({other, siemens / sum, {}});
        std::vector<Branch>& theirs = m_branches[other];
        theirs.erase(find_branch(theirs, node));
    }
    for (std::size_t i = 0; i < branches.size(); ++i) {
        for (std::size_t j = i + 1; j < branches.size(); ++j) {
            const Complex siemens = branches[i].second * m_links[node][j].weight;
            add_branch(branches[i].first, branches[j].first, siemens);
            add_branch(branches[j].first, branches[i].first, siemens);
        }
    }
}

/// Last eliminated first: with the potential v = sum(weight_j * v_j) + current / sum(y),
/// Z_kj = sum_i(weight_i * Z_ij) and Z_kk = 1 / sum(y) + sum_j(weight_j * Z_kj).
void NodalNetwork::trace_back() {
    for (std::size_t n = 0; n < m_is_held.size(); ++n) {
        m_reaches[n] = m_is_held[n];
    }
    for (std::size_t o = m_order.size(); o-- > 0;) {
        const std::uint32_t node = m_order[o];
        std::vector<Link>& links = m_links[node];
        const bool reaches = std::ranges::any_of(
            links, [this](const Link& link) { return m_reaches[link.node] != 0; });
        if (!reaches) {
            continue;
        }
        m_reaches[node] = 1;
        Complex own = 1.0 / m_sum[node];
        for (Link& link : links) {
            for (const Link& other : links) {
                link.transfer += other.weight * transfer(other.node, link.node);
            }
            own += link.weight * link.transfer;
        }
        m_own[node] = own;
    }
}

Complex NodalNetwork::transfer(std::uint32_t a, std::uint32_t b) const {
    if (m_is_held[a] != 0 || m_is_held[b] != 0) {
        return {};
    }
    if (a == b) {
        return m_own[a];
    }
    if (m_rank[a] > m_rank[b]) {
        std::swap(a, b);
    }
    const auto at = std::ranges::lower_bound(m_links[a], b, {}, &Link::node);
    LW_ASSERT(at != m_links[a].end() && at->node == b);
    return at->transfer;
}

void NodalNetwork::potentials(std::span<Complex> currents) const {
    LW_ASSERT(currents.size() == m_own.size());
    for (const std::uint32_t node : m_order) {
        for (const Link& link : m_links[node]) {
            currents[link.node] += link.weight * currents[node];
        }
    }
    for (std::size_t n = 0; n < m_is_held.size(); ++n) {
        if (m_is_held[n] != 0) {
            currents[n] = {};
        }
    }
    for (std::size_t o = m_order.size(); o-- > 0;) {
        const std::uint32_t node = m_order[o];
        Complex volts;
        if (m_reaches[node] != 0) {
            volts = currents[node] / m_sum[node];
            for (const Link& link : m_links[node]) {
                volts += link.weight * currents[link.node];
            }
        }
        currents[node] = volts;
    }
}

} // namespace loopwalk::solution
