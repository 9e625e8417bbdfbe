#include "context.hpp"
#include <algorithm>

namespace loopwalk::input {

std::size_t LayerRecord::part_of(std::uint32_t feature) const noexcept {
    std::size_t part = 0;
    while (part + 1 < parts.size() && parts[part + 1].first <= feature) {
        ++part;
    }
    return part;
}

void KnownCounts::Count::add(const Count& other) {
    total += other.total;
    for (std::size_t i = 0; i < known.size(); ++i) {
        known[i] += other.known[i];
    }
}

void KnownCounts::add(base::TextId area, std::uint32_t known) {
    Count& count = m_areas[area];
    ++count.total;
    for (std::size_t i = 0; known != 0; ++i, known >>= 1U) {
        count.known[i] += known & 1U;
    }
}

KnownCounts::Count KnownCounts::sum() const {
    Count all;
    for (const auto& [area, count] : m_areas) {
        all.add(count);
    }
    return all;
}

void KnownCounts::report(base::AssetLayer layer, const base::TextPool& text,
                         std::vector<Completeness>& rows) const {
    std::vector<std::pair<std::string, Count>> areas;
    if (m_areas.empty() || has_too_many_areas()) {
        areas.emplace_back(std::string(), sum());
    } else {
        for (const auto& [area, count] : m_areas) {
            areas.emplace_back(std::string(text.view(area)), count);
        }
    }
    std::sort(areas.begin(), areas.end(),
              [](const auto& a, const auto& b) { return a.first < b.first; });
    const auto& fields = contract_fields(layer);
    for (std::size_t i = 0; i < fields.size(); ++i) {
        if (!fields[i].needed) {
            for (const auto& [area, count] : areas) {
                rows.push_back({layer, fields[i].name, area, count.known[i], count.total});
            }
        }
    }
}

} // namespace loopwalk::input
