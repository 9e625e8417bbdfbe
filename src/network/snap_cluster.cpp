// Rule 2: ends that no asset took cluster round a seed.
#include "snap_cluster.hpp"

#include "loopwalk/base/disjoint_sets.hpp"

#include "point_grid.hpp"
#include "snap_steps.hpp"
#include <algorithm>
#include <numeric>
#include <tuple>

namespace loopwalk::network::snapping {

namespace {

/// Ends that no asset took, by (cable, x, y).
std::vector<EndId> ends_left(const Work& work) {
    std::vector<EndId> left;
    for (std::size_t i = 0; i < work.ends.size(); ++i) {
        if (work.ends[i].outcome != EndOutcome::at_asset) {
            left.emplace_back(i);
        }
    }
    std::sort(left.begin(), left.end(), [&](EndId a, EndId b) {
        return std::tuple(work.cable_of(a), work.drawn_place(a), a) <
               std::tuple(work.cable_of(b), work.drawn_place(b), b);
    });
    return left;
}

std::vector<Member> members_of(const Work& work, const std::vector<EndId>& left) {
    std::vector<Member> members;
    for (const EndId id : left) {
        if (work.end(id).outcome == EndOutcome::derived) {
            members.push_back({id, work.drawn_place(id), work.circuit(work.cable_of(id))});
        }
    }
    return members;
}

/// Ends belong to one group if steps of at most `within` lead from one to the other.
void form_groups(std::vector<Member>& members, double within) {
    PointGrid grid(within, members.size());
    base::DisjointSets groups(members.size());
    for (std::uint32_t i = 0; i < members.size(); ++i) {
        const Point2 here = members[i].place;
        bool is_new = true; // of many ends in one place only the first is compared with others
        grid.visit_near(here, [&](Point2 place, std::uint32_t other) {
            if (base::distance(place, here) <= within) {
                groups.join(i, other);
            }
            is_new = is_new && place != here;
        });
        if (is_new) {
            grid.insert(here, i);
        }
    }
    const std::vector<std::uint32_t> numbers = groups.numbered().set_of;
    for (std::uint32_t i = 0; i < members.size(); ++i) {
        members[i].group = numbers[i];
    }
}

void settle_groups(Work& work, std::vector<Member>& members) {
    std::vector<std::uint32_t> order(members.size());
    std::iota(order.begin(), order.end(), 0U);
    std::sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
        return std::tie(members[a].group, a) < std::tie(members[b].group, b);
    });
    for (std::size_t from = 0; from < order.size();) {
        std::size_t to = from;
        while (to < order.size() && members[order[to]].group == members[order[from]].group) {
            ++to;
        }
        settle_group(work, members, {order.data() + from, to - from});
        from = to;
    }
}

void add_nodes(Work& work, const std::vector<EndId>& left, const std::vector<Member>& members) {
    std::size_t next = 0;
    for (const EndId id : left) {
        const bool is_member = next < members.size() && members[next].end == id;
        const EndId seed = is_member ? members[members[next].seed].end : id;
        next += is_member ? 1 : 0;
        work.end(id).node =
            seed == id ? work.add_derived_node(work.drawn_place(id)) : work.end(seed).node;
    }
}

} // namespace

std::vector<EndId> cluster_ends(Work& work) {
    std::vector<EndId> left = ends_left(work);
    std::vector<Member> members = members_of(work, left);
    form_groups(members, work.snap + kSlack);
    settle_groups(work, members);
    add_nodes(work, left, members);
    return left;
}

} // namespace loopwalk::network::snapping
