#include "nearest.hpp"

#include <algorithm>
#include <cmath>

namespace loopwalk::input {

NearestSearch::NearestSearch(std::vector<Item> items) : m_items(std::move(items)) {
    if (m_items.empty()) {
        return;
    }
    base::Box box{m_items[0].place.x, m_items[0].place.y, m_items[0].place.x, m_items[0].place.y};
    for (const Item& item : m_items) {
        box.min_x = std::min(box.min_x, item.place.x);
        box.max_x = std::max(box.max_x, item.place.x);
        box.min_y = std::min(box.min_y, item.place.y);
        box.max_y = std::max(box.max_y, item.place.y);
    }
    m_by_x = box.max_x - box.min_x >= box.max_y - box.min_y;
    std::sort(m_items.begin(), m_items.end(), [this](const Item& a, const Item& b) {
        const double left = along(a.place);
        const double right = along(b.place);
        return left != right ? left < right : a.owner < b.owner;
    });
}

std::optional<double> NearestSearch::distance(std::size_t i, double limit) const {
    const Item own = m_items[i];
    double best = limit;
    const auto look = [&](const Item& other) { // false: nothing nearer lies beyond
        if (std::abs(along(other.place) - along(own.place)) >= best) {
            return false;
        }
        if (std::abs(across(other.place) - across(own.place)) < best && other.owner != own.owner) {
            best = std::min(best, base::distance(own.place, other.place));
        }
        return true;
    };
    for (std::size_t j = i + 1; j < m_items.size() && look(m_items[j]);) {
        ++j;
    }
    for (std::size_t j = i; j > 0 && look(m_items[j - 1]);) {
        --j;
    }
    return best < limit ? std::optional(best) : std::nullopt;
}

} // namespace loopwalk::input
