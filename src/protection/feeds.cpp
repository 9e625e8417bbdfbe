#include "loopwalk/protection/feeds.hpp"

#include "loopwalk/gis/box_index.hpp"

#include <algorithm>

namespace loopwalk::protection {

using base::ColumnId;
using figures::ColumnFigures;
using figures::FigureState;
using model::Owner;
using model::StatedFeed;

Feeds::Feeds(const figures::Inputs& inputs, const figures::Figures& figures)
    : m_layers(inputs.layers), m_net(inputs.network), m_trace(inputs.trace), m_figures(figures) {
    mark_near_mains(inputs.job.network.reach);
}

void Feeds::mark_near_mains(base::Metre reach) {
    std::vector<base::Box> boxes;
    std::vector<std::pair<base::Point2, base::Point2>> segments;
    for (const model::Main& main : m_layers.mains) {
        for (const base::Polyline& line : main.lines) {
            for (std::size_t i = 1; i < line.size(); ++i) {
                segments.emplace_back(line[i - 1], line[i]);
                boxes.push_back(base::box_of(std::span(line).subspan(i - 1, 2)));
            }
        }
    }
    if (boxes.empty()) {
        return;
    }
    m_near_main.resize(m_layers.columns.size());
    const gis::BoxIndex index(boxes);
    std::vector<std::uint32_t> found;
    for (std::size_t c = 0; c < m_layers.columns.size(); ++c) {
        const model::Column& column = m_layers.columns[c];
        if (!column.has_place || m_figures.columns[c].state != FigureState::not_traced) {
            continue;
        }
        const double r = reach.value();
        const base::Point2 p = column.place;
        index.query({p.x - r, p.y - r, p.x + r, p.y + r}, found);
        m_near_main[c] = std::ranges::any_of(found, [&](std::uint32_t s) {
            return base::nearest_on_segment(p, segments[s].first, segments[s].second).distance <= r;
        });
    }
}

/// By the infeed of the path; where no path was found, by what is stated or lies near.
Feed Feeds::of(ColumnId id) const {
    const model::Column& column = m_layers.columns[id.index()];
    const ColumnFigures& figures = m_figures.columns[id.index()];
    if (figures.state == FigureState::several) {
        return {FeedKind::several, FeedBasis::traced};
    }
    if (figures.state != FigureState::not_traced) {
        const auto supply = m_net.supply_of(figures.infeed);
        if (supply.has_value() &&
            !model::is_distributors(m_layers.supplies[supply->index()].kind)) {
            return {FeedKind::pillar, FeedBasis::traced};
        }
        return {figures.through_column ? FeedKind::column : FeedKind::main, FeedBasis::traced};
    }
    const bool has_cable = figures.vertex.is_valid() && m_trace.find(figures.vertex) != nullptr;
    if (!has_cable && (column.owner == Owner::distributor || column.feed == StatedFeed::main)) {
        return {FeedKind::main, FeedBasis::stated};
    }
    if (!has_cable && column.feed == StatedFeed::none && column.owner != Owner::council &&
        !m_near_main.empty() && m_near_main[id.index()] != 0) {
        return {FeedKind::main, FeedBasis::nearest_main};
    }
    return {};
}

} // namespace loopwalk::protection
