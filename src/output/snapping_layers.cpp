// What snapping altered, and what it left open.
#include "fields.hpp"
#include "writer.hpp"
#include <algorithm>
#include <tuple>

namespace loopwalk::output {
namespace {

/// A move shorter than a record can mean is none.
constexpr double kNoMove = 1e-6;

std::string_view move_name(network::MoveKind kind) {
    switch (kind) {
    case network::MoveKind::end_to_asset:
        return "end to asset";
    case network::MoveKind::end_to_end:
        return "end to end";
    case network::MoveKind::cut_at_asset:
        return "cut at asset";
    case network::MoveKind::tee_assumed:
        return "tee assumed";
    }
    return {};
}

} // namespace

void Writer::write_gaps() {
    auto writer = m_out.create_layer({"gaps",
                                      gis::GeometryKind::line,
                                      gis::SpatialIndex::yes,
                                      {{"from_id", kText},
                                       {"to_id", kText},
                                       {"distance_m", kReal},
                                       {"would_feed", kInteger},
                                       {"rank", kInteger}}},
                                     results.read.cables);
    std::int64_t rank = 0;
    for (const trace::RankedGap& ranked : trace::rank_gaps(layers, net, results.trace)) {
        const network::Gap& gap = net.snapped.gaps[ranked.gap];
        const std::string to = gap.to.is_valid()
                                   ? node_name(gap.to)
                                   : layers.id_text(layers.cables[gap.to_cable.index()].id);
        gis::Row& row = writer.row();
        Cell(row, 0).set(std::string_view(node_name(gap.from)));
        Cell(row, 1).set(std::string_view(to));
        Cell(row, 2).set(gap.distance_m);
        Cell(row, 3).set(std::int64_t{ranked.would_feed});
        Cell(row, 4).set(++rank);
        writer.write({in_output_crs({gap.from_place, gap.to_place})});
    }
}

void Writer::write_moves() {
    auto writer = m_out.create_layer({"moves",
                                      gis::GeometryKind::line,
                                      gis::SpatialIndex::no,
                                      {{"asset_layer", kText},
                                       {"asset_id", kText},
                                       {"kind", kText},
                                       {"to_id", kText},
                                       {"moved_m", kReal}}},
                                     results.read.cables);
    std::vector<const network::Move*> order;
    for (const network::Move& move : net.snapped.moves) {
        if (move.moved_m > kNoMove) {
            order.push_back(&move);
        }
    }
    std::ranges::sort(order, [](const network::Move* a, const network::Move* b) {
        return std::tie(a->cable, a->from, a->kind, a->to) <
               std::tie(b->cable, b->from, b->kind, b->to);
    });
    for (const network::Move* move : order) {
        gis::Row& row = writer.row();
        Cell(row, 0).set(std::string_view("cables"));
        Cell(row, 1).set(layers.text.view(layers.cables[move->cable.index()].id));
        Cell(row, 2).set(move_name(move->kind));
        Cell(row, 3).set(std::string_view(node_name(move->node)));
        Cell(row, 4).set(move->moved_m);
        writer.write({in_output_crs({move->from, move->to})});
    }
}

} // namespace loopwalk::output
