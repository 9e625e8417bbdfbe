#include "order.hpp"

#include <algorithm>
#include <numeric>
#include <string>

namespace loopwalk::input {

namespace {

using base::TextId;

/// The id's text beside the feature: sorting a million of them then stays in the cache.
struct Entry {
    std::string_view id;
    std::uint32_t feature = 0;
};

std::vector<Entry> entries_of(const std::vector<TextId>& ids, const base::TextPool& text) {
    std::vector<Entry> entries(ids.size());
    for (std::uint32_t i = 0; i < entries.size(); ++i) {
        entries[i] = {text.view(ids[i]), i};
    }
    return entries;
}

void sort_entries(std::vector<Entry>& entries, const std::vector<std::int64_t>& fids,
                  const Tie& tie) {
    std::sort(entries.begin(), entries.end(), [&](const Entry& a, const Entry& b) {
        if (const int order = a.id.compare(b.id); order != 0) {
            return order < 0;
        }
        if (const int order = tie(a.feature, b.feature); order != 0) {
            return order < 0;
        }
        return fids[a.feature] < fids[b.feature];
    });
}

/// Runs of equal ids; an empty text is no id.
void find_repeated(const std::vector<Entry>& entries, const std::vector<TextId>& ids,
                   Order& order) {
    for (std::size_t first = 0, next = 0; first < entries.size(); first = next) {
        for (next = first; next < entries.size() && entries[next].id == entries[first].id;) {
            ++next;
        }
        std::vector<std::uint32_t> features;
        if (entries[first].id.empty() || next - first > 1) {
            for (std::size_t i = first; i < next; ++i) {
                features.push_back(entries[i].feature);
            }
        }
        if (entries[first].id.empty()) {
            order.nameless = std::move(features);
        } else if (!features.empty()) {
            order.repeated.push_back({ids[features.front()], std::move(features)});
        }
    }
}

/// Gives out "fid:<n>" names that no feature of the layer has as its own id.
class FidNames {
  public:
    FidNames(const std::vector<TextId>& ids, base::TextPool& text)
        : m_text(text), m_taken(text.size(), false) {
        for (const TextId id : ids) {
            if (id.is_valid()) {
                m_taken[id.index()] = true;
            }
        }
    }
    [[nodiscard]] TextId name(std::int64_t fid) {
        const std::string plain = "fid:" + std::to_string(fid);
        std::string name = plain;
        for (int n = 2; is_taken(name); ++n) {
            name = plain + ":" + std::to_string(n);
        }
        const TextId id = m_text.add(name);
        if (m_taken.size() <= id.index()) {
            m_taken.resize(id.index() + 1, false);
        }
        m_taken[id.index()] = true;
        return id;
    }

  private:
    [[nodiscard]] bool is_taken(const std::string& name) const {
        const auto id = m_text.find(name);
        return id && id->index() < m_taken.size() && m_taken[id->index()];
    }
    base::TextPool& m_text;
    std::vector<bool> m_taken;
};

void rename(const Order& order, const std::vector<std::int64_t>& fids, std::vector<TextId>& ids,
            base::TextPool& text) {
    FidNames names(ids, text);
    for (const RepeatedId& repeated : order.repeated) {
        for (std::size_t i = 1; i < repeated.features.size(); ++i) {
            ids[repeated.features[i]] = names.name(fids[repeated.features[i]]);
        }
    }
    for (const std::uint32_t feature : order.nameless) {
        ids[feature] = names.name(fids[feature]);
    }
}

void set_positions(Order& order) {
    order.positions.resize(order.features.size());
    for (std::uint32_t i = 0; i < order.features.size(); ++i) {
        order.positions[order.features[i]] = i;
    }
}

} // namespace

Order order_by_id(std::vector<TextId>& ids, const std::vector<std::int64_t>& fids, const Tie& tie,
                  base::TextPool& text) {
    Order order;
    std::vector<Entry> entries = entries_of(ids, text);
    sort_entries(entries, fids, tie);
    find_repeated(entries, ids, order);
    if (!order.repeated.empty() || !order.nameless.empty()) {
        rename(order, fids, ids, text);
        entries = entries_of(ids, text);
        sort_entries(entries, fids, tie);
    }
    order.features.reserve(entries.size());
    for (const Entry& entry : entries) {
        order.features.push_back(entry.feature);
    }
    set_positions(order);
    return order;
}

Order order_by(std::size_t count, const Tie& tie) {
    Order order;
    order.features.resize(count);
    std::iota(order.features.begin(), order.features.end(), 0U);
    std::stable_sort(order.features.begin(), order.features.end(),
                     [&](std::uint32_t a, std::uint32_t b) { return tie(a, b) < 0; });
    set_positions(order);
    return order;
}

} // namespace loopwalk::input
