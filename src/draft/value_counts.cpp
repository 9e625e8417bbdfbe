#include "loopwalk/draft/value_counts.hpp"

#include "loopwalk/base/text.hpp"

#include <algorithm>
#include <limits>

namespace loopwalk::draft {

namespace {

/// FNV-1a, then the finaliser of SplitMix64: the same on every machine, spread evenly.
std::uint64_t hash_of(std::string_view text) noexcept {
    constexpr std::uint64_t kOffset = 0xcbf29ce484222325ULL;
    constexpr std::uint64_t kPrime = 0x100000001b3ULL;
    std::uint64_t hash = kOffset;
    for (const char c : text) {
        hash = (hash ^ static_cast<unsigned char>(c)) * kPrime;
    }
    hash = (hash ^ (hash >> 30U)) * 0xbf58476d1ce4e5b9ULL;
    hash = (hash ^ (hash >> 27U)) * 0x94d049bb133111ebULL;
    return hash ^ (hash >> 31U);
}

constexpr std::size_t kLongest = 200; ///< bytes of a value that are kept

} // namespace

void ValueCounts::add(std::string_view text) {
    text = base::trimmed(text);
    if (text.empty()) {
        return;
    }
    ++m_total;
    const std::uint64_t hash = hash_of(text);
    const auto found = m_kept.find(hash);
    if (found != m_kept.end()) {
        ++found->second.count;
        return;
    }
    const bool is_full = m_kept.size() == kMost;
    m_was_full = m_was_full || is_full;
    if (is_full && hash > m_hashes.top()) {
        return;
    }
    if (is_full) {
        m_kept.erase(m_hashes.top());
        m_hashes.pop();
    }
    m_hashes.push(hash);
    m_kept.emplace(hash, Entry{std::string(text.substr(0, kLongest)), 1});
}

double ValueCounts::distinct() const noexcept {
    const auto kept = static_cast<double>(m_kept.size());
    if (!m_was_full) {
        return kept;
    }
    // The k-th smallest of n even hashes lies near k/n of the whole range.
    const double part = static_cast<double>(m_hashes.top()) /
                        static_cast<double>(std::numeric_limits<std::uint64_t>::max());
    return std::min((kept - 1.0) / part, static_cast<double>(m_total));
}

std::vector<ValueCounts::Entry> ValueCounts::entries() const {
    std::vector<Entry> all;
    all.reserve(m_kept.size());
    for (const auto& [hash, entry] : m_kept) {
        all.push_back(entry);
    }
    std::sort(all.begin(), all.end(), [](const Entry& a, const Entry& b) {
        return a.count != b.count ? a.count > b.count : a.text < b.text;
    });
    return all;
}

double ValueCounts::share_found_in(const ValueCounts& other) const {
    constexpr std::uint64_t kAll = std::numeric_limits<std::uint64_t>::max();
    const std::uint64_t own = m_was_full ? m_hashes.top() : kAll;
    const std::uint64_t others = other.m_was_full ? other.m_hashes.top() : kAll;
    std::size_t compared = 0;
    std::size_t found = 0;
    for (const auto& [hash, entry] : m_kept) {
        if (hash > std::min(own, others)) {
            continue;
        }
        ++compared;
        found += other.m_kept.count(hash);
    }
    return compared == 0 ? 0.0 : static_cast<double>(found) / static_cast<double>(compared);
}

} // namespace loopwalk::draft
