#include "loopwalk/base/disjoint_sets.hpp"

#include <boost/pending/disjoint_sets.hpp>

#include <limits>

namespace loopwalk::base {
namespace {

using Sets = boost::disjoint_sets<std::uint8_t*, std::uint32_t*>;

} // namespace

DisjointSets::DisjointSets(std::size_t count) : m_parent(count), m_rank(count) {
    Sets sets(m_rank.data(), m_parent.data());
    for (std::uint32_t member = 0; member < count; ++member) {
        sets.make_set(member);
    }
}

std::uint32_t DisjointSets::find(std::uint32_t member) {
    return Sets(m_rank.data(), m_parent.data()).find_set(member);
}

void DisjointSets::join(std::uint32_t a, std::uint32_t b) {
    Sets(m_rank.data(), m_parent.data()).union_set(a, b);
}

DisjointSets::Numbered DisjointSets::numbered() {
    constexpr std::uint32_t kUnseen = std::numeric_limits<std::uint32_t>::max();
    std::vector<std::uint32_t> number_of(m_parent.size(), kUnseen);
    Numbered result;
    result.set_of.resize(m_parent.size());
    for (std::uint32_t member = 0; member < m_parent.size(); ++member) {
        std::uint32_t& number = number_of[find(member)];
        if (number == kUnseen) {
            number = result.sets++;
        }
        result.set_of[member] = number;
    }
    return result;
}

} // namespace loopwalk::base
