// Canonical order of a layer and the names of features without an id of their own.
#pragma once

#include "loopwalk/base/text_pool.hpp"

#include <cstdint>
#include <functional>
#include <vector>

namespace loopwalk::input {

/// Features that were recorded under one id, in canonical order; the first kept it.
struct RepeatedId {
    base::TextId id;
    std::vector<std::uint32_t> features;
};

struct Order {
    std::vector<std::uint32_t> features;  ///< the feature at each canonical position
    std::vector<std::uint32_t> positions; ///< the canonical position of each feature
    std::vector<RepeatedId> repeated;     ///< by recorded id
    std::vector<std::uint32_t> nameless;  ///< features without an id, in canonical order
};

/// Order of two features (negative, zero, positive) that have the same id: geometry, then
/// attributes.
using Tie = std::function<int(std::uint32_t, std::uint32_t)>;

/// Orders features by (id text, tie). Those without an id and all but the first of a repeated one
/// become "fid:<n>" in `ids`; the order is by these final ids. Features that are alike in all that
/// is read are told apart by their FID alone.
[[nodiscard]] Order order_by_id(std::vector<base::TextId>& ids,
                                const std::vector<std::int64_t>& fids, const Tie& tie,
                                base::TextPool& text);

/// Orders features that have no id; equal ones stay as in the file.
[[nodiscard]] Order order_by(std::size_t count, const Tie& tie);

/// Puts rows, which are in the order of the file, into canonical order.
template <class T>
void arrange(std::vector<T>& rows, const Order& order) {
    std::vector<bool> done(rows.size(), false);
    for (std::uint32_t start = 0; start < rows.size(); ++start) {
        if (done[start]) {
            continue;
        }
        T first = std::move(rows[start]);
        std::uint32_t hole = start;
        for (std::uint32_t from = order.features[hole]; from != start;
             from = order.features[hole]) {
            rows[hole] = std::move(rows[from]);
            done[hole] = true;
            hole = from;
        }
        rows[hole] = std::move(first);
        done[hole] = true;
    }
}

} // namespace loopwalk::input
