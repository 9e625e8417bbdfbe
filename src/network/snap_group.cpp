// Rule 2 within one group. A group where joining could change what a second run would do (labels
// in conflict beside a missing one, or a part so short that both its ends are in the group) is
// frozen: nothing in it moves. docs/snapping.md says why.
#include "snap_cluster.hpp"
#include <algorithm>
#include <limits>
#include <utility>

namespace loopwalk::network::snapping {

namespace {

constexpr std::uint32_t kNoSeed = std::numeric_limits<std::uint32_t>::max();

/// Two seeds.
using Pair = std::pair<std::uint32_t, std::uint32_t>;

struct Group {
    Work& work;
    std::vector<Member>& members;
    std::span<const std::uint32_t> of; ///< ascending
    bool is_contested = false;         ///< labels contradict each other
    bool is_frozen = false;
    std::vector<Pair> spurs; ///< members joined by a part with both ends in the group
};

struct Cluster {
    std::uint32_t seed = 0;
    std::uint32_t size = 0;
    std::uint32_t rival = kNoSeed; ///< seed of the cluster that this one could not join
    double distance = 0.0;
};

bool is_short(const Work& work, EndId end) {
    const double planar = work.part(Work::part_of(end)).planar.value();
    return planar <= 2.0 * work.snap + kSlack;
}

void find_spurs(Group& group) {
    for (const std::uint32_t m : group.of) {
        const Member& member = group.members[m];
        if (!is_short(group.work, member.end)) {
            continue;
        }
        for (const std::uint32_t other : group.of) {
            if (other > m && group.members[other].end == Work::other_end(member.end) &&
                group.members[other].place != member.place) {
                group.spurs.emplace_back(m, other);
            }
        }
    }
}

void classify(Group& group) {
    TextId label;
    bool has_unlabelled = false;
    for (const std::uint32_t m : group.of) {
        const TextId circuit = group.members[m].circuit;
        group.is_contested = group.is_contested || contradict(label, circuit);
        has_unlabelled = has_unlabelled || !circuit.is_valid();
        label = label.is_valid() ? label : circuit;
    }
    group.is_frozen = (group.is_contested && has_unlabelled) || !group.spurs.empty();
}

/// Whether labels contradict each other in just this place.
bool is_mixed(const Group& group, Point2 place) {
    TextId label;
    for (const std::uint32_t m : group.of) {
        const Member& member = group.members[m];
        if (member.place != place) {
            continue;
        }
        if (contradict(label, member.circuit)) {
            return true;
        }
        label = label.is_valid() ? label : member.circuit;
    }
    return false;
}

void gather(Group& group, std::uint32_t seed, std::span<const std::uint32_t> later) {
    const Member& centre = group.members[seed];
    const bool same_label = group.is_frozen ? is_mixed(group, centre.place) : group.is_contested;
    for (const std::uint32_t m : later) {
        Member& member = group.members[m];
        const bool is_here =
            group.is_frozen ? member.place == centre.place
                            : group.work.within_snap(base::distance(member.place, centre.place));
        if (member.seed == kNoSeed && is_here &&
            (!same_label || member.circuit == centre.circuit)) {
            member.seed = seed;
        }
    }
}

std::vector<Cluster> clusters_of(const Group& group) {
    std::vector<Cluster> clusters;
    for (const std::uint32_t m : group.of) {
        const std::uint32_t seed = group.members[m].seed;
        if (seed == m) {
            clusters.push_back({seed, 0});
        }
        const auto mine = std::lower_bound(
            clusters.begin(), clusters.end(), seed,
            [](const Cluster& c, std::uint32_t wanted) { return c.seed < wanted; });
        ++mine->size;
    }
    return clusters;
}

bool are_joined_by_spur(const Group& group, std::uint32_t a, std::uint32_t b) {
    return std::any_of(group.spurs.begin(), group.spurs.end(), [&](const Pair& spur) {
        const Pair seeds(group.members[spur.first].seed, group.members[spur.second].seed);
        return seeds == Pair(a, b) || seeds == Pair(b, a);
    });
}

void note_rival(Cluster& cluster, std::uint32_t rival, double distance) {
    if (cluster.rival == kNoSeed) {
        cluster = {cluster.seed, cluster.size, rival, distance};
    }
}

/// Of two clusters that lie close together the later one is reported; an end that is alone in its
/// cluster always is, for it must not be joined to anything else either.
void find_rivals(const Group& group, std::vector<Cluster>& clusters) {
    for (std::size_t b = 0; b < clusters.size(); ++b) {
        for (std::size_t a = 0; a < b; ++a) {
            Cluster& early = clusters[a];
            Cluster& late = clusters[b];
            const double distance =
                base::distance(group.members[early.seed].place, group.members[late.seed].place);
            if (!group.work.within_snap(distance) ||
                are_joined_by_spur(group, early.seed, late.seed)) {
                continue;
            }
            note_rival(late, early.seed, distance);
            if (early.size == 1) {
                note_rival(early, late.seed, distance);
            }
        }
    }
}

/// If anything in a frozen group is in kind, no single end may leave it: that would thaw it.
void hold_singles(const Group& group, std::vector<Cluster>& clusters) {
    const auto in_doubt = std::find_if(clusters.begin(), clusters.end(),
                                       [](const Cluster& c) { return c.rival != kNoSeed; });
    if (!group.is_frozen || in_doubt == clusters.end()) {
        return;
    }
    const std::uint32_t seed = in_doubt->seed;
    for (Cluster& cluster : clusters) {
        if (cluster.size == 1) {
            note_rival(
                cluster, seed,
                base::distance(group.members[cluster.seed].place, group.members[seed].place));
        }
    }
}

void report(Group& group, const Cluster& cluster) {
    Work& work = group.work;
    const Member& rival = group.members[cluster.rival];
    for (const std::uint32_t m : group.of) {
        const Member& member = group.members[m];
        if (member.seed != cluster.seed) {
            continue;
        }
        const AmbiguityKind kind = contradict(member.circuit, rival.circuit)
                                       ? AmbiguityKind::other_circuit
                                       : AmbiguityKind::close_ends;
        work.ambiguities.push_back({work.cable_of(member.end),
                                    kind,
                                    member.place,
                                    cluster.distance,
                                    {},
                                    work.cable_of(rival.end)});
        if (cluster.size == 1) {
            work.end(member.end).outcome = EndOutcome::ambiguous;
        }
    }
}

} // namespace

void settle_group(Work& work, std::vector<Member>& members, std::span<const std::uint32_t> of) {
    Group group{work, members, of, false, false, {}};
    find_spurs(group);
    classify(group);
    for (const std::uint32_t m : of) {
        members[m].seed = kNoSeed;
    }
    for (std::size_t i = 0; i < of.size(); ++i) {
        if (members[of[i]].seed == kNoSeed) {
            gather(group, of[i], of.subspan(i));
        }
    }
    if (!group.is_contested && !group.is_frozen) {
        return; // all seeds lie further apart than snap
    }
    std::vector<Cluster> clusters = clusters_of(group);
    find_rivals(group, clusters);
    hold_singles(group, clusters);
    for (const Cluster& cluster : clusters) {
        if (cluster.rival != kNoSeed) {
            report(group, cluster);
        }
    }
}

} // namespace loopwalk::network::snapping
