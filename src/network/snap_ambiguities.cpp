// The ambiguous-snap findings: one for each cable, with the number of places.
#include "loopwalk/base/text.hpp"

#include "snap_steps.hpp"
#include <algorithm>
#include <tuple>

namespace loopwalk::network::snapping {

namespace {

std::string candidate_words(const Work& work, const Ambiguity& found) {
    if (found.node.is_valid()) {
        return node_name(work.layers, work.out.nodes[found.node.index()]);
    }
    return "cable " + work.layers.id_text(work.cable(found.other).id);
}

std::string reason(AmbiguityKind kind, const std::string& id, const std::string& candidate) {
    const std::string cable = "able " + id; // with a capital or without
    switch (kind) {
    case AmbiguityKind::equal_assets:
        return "C" + cable + " comes equally near to " + candidate + " and to another asset";
    case AmbiguityKind::other_circuit:
        return "An end of c" + cable + " meets " + candidate +
               ", which carries another circuit label";
    case AmbiguityKind::close_ends:
        return "An end of c" + cable + " lies beside an end of " + candidate +
               " and they may be joined in more than one way";
    case AmbiguityKind::not_admitted:
        return "C" + cable + " is drawn past " + candidate +
               ", where other cables end and no label says that it belongs to them";
    case AmbiguityKind::beside_end:
        return "C" + cable + " is drawn past " + candidate +
               " just before it ends at something else";
    case AmbiguityKind::tee_circuit:
        return "An end of c" + cable + " lies at the middle of " + candidate +
               ", which carries another circuit label";
    case AmbiguityKind::tee_equal:
        return "An end of c" + cable + " lies equally near to the middle of " + candidate +
               " in another place or of another cable";
    case AmbiguityKind::tee_near_node:
        return "An end of c" + cable + " lies at the middle of " + candidate +
               ", beside where other cables end or an asset stands";
    case AmbiguityKind::tee_near_asset:
        return "An end of c" + cable + " lies at the middle of " + candidate +
               ", but led there it would pass an asset";
    }
    return {};
}

base::Finding finding_of(const Work& work, const Ambiguity& first, std::int64_t count) {
    base::Finding finding;
    finding.rule = base::Rule::ambiguous_snap;
    finding.severity = base::Severity::warning;
    finding.layer = base::AssetLayer::cables;
    finding.asset_id = work.layers.id_text(work.cable(first.cable).id);
    finding.place = first.place;
    finding.value = first.distance;
    finding.limit = work.snap;
    finding.unit = "m";
    finding.count = count;
    finding.message = reason(first.kind, finding.asset_id, candidate_words(work, first)) +
                      "; left unconnected there.";
    finding.fix = "Check on site and correct the cable's line or the circuit labels.";
    return finding;
}

} // namespace

void report_ambiguities(Work& work, base::FindingSink& findings) {
    std::vector<Ambiguity>& all = work.ambiguities;
    std::sort(all.begin(), all.end(), [](const Ambiguity& a, const Ambiguity& b) {
        return std::tie(a.cable, a.place, a.kind, a.distance, a.node, a.other) <
               std::tie(b.cable, b.place, b.kind, b.distance, b.node, b.other);
    });
    for (std::size_t from = 0; from < all.size();) {
        std::size_t to = from;
        while (to < all.size() && all[to].cable == all[from].cable) {
            ++to;
        }
        findings.add(finding_of(work, all[from], static_cast<std::int64_t>(to - from)));
        from = to;
    }
}

} // namespace loopwalk::network::snapping
