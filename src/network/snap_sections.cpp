// From parts and cuts to sections, moves and the names of derived nodes.
#include "snap_steps.hpp"

namespace loopwalk::network::snapping {

namespace {

class SectionBuilder {
  public:
    explicit SectionBuilder(Work& work) : m_work(work), m_cut(work.cuts.begin()) {}
    void add_cable(CableId id);

  private:
    void add_part(PartId id);
    void add_section(PartId id, NodeId to, double measure);
    void name_node(NodeId id, CableId cable, double metres);

    Work& m_work;
    std::vector<Cut>::const_iterator m_cut;
    std::uint32_t m_number = 0;
    double m_base = 0.0;  // drawn metres of the cable's parts so far
    double m_scale = 1.0; // laid metres for each drawn one
    NodeId m_from;
    double m_from_measure = 0.0;
};

void SectionBuilder::add_cable(CableId id) {
    const model::Cable& cable = m_work.cable(id);
    double drawn = 0.0;
    for (const model::Part& part : m_work.layers.parts_of(cable)) {
        drawn += part.drawn.value();
    }
    m_number = 0;
    m_base = 0.0;
    m_scale = cable.laid.has_value() ? (*cable.laid).value() / drawn : 1.0;
    for (std::uint32_t i = 0; i < cable.part_count; ++i) {
        add_part(PartId(cable.first_part + i));
    }
}

void SectionBuilder::add_part(PartId id) {
    const model::Part& part = m_work.part(id);
    m_from = m_work.end(Work::first_end(id)).node;
    m_from_measure = 0.0;
    for (; m_cut != m_work.cuts.end() && m_cut->part == id; ++m_cut) {
        add_section(id, m_cut->node, m_cut->measure);
    }
    add_section(id, m_work.end(Work::last_end(id)).node, part.planar.value());
    m_base += part.drawn.value();
}

void SectionBuilder::add_section(PartId id, NodeId to, double measure) {
    const model::Part& part = m_work.part(id);
    const double ground = part.drawn / part.planar; // ground metres for each planar one
    m_work.out.sections.push_back({part.cable, id, ++m_number, m_from, to, m_from_measure, measure,
                                   base::Metre((measure - m_from_measure) * ground)});
    name_node(m_from, part.cable, (m_base + m_from_measure * ground) * m_scale);
    name_node(to, part.cable, (m_base + measure * ground) * m_scale);
    m_from = to;
    m_from_measure = measure;
}

/// Cables come in order, so the first to reach a node has the smallest id.
void SectionBuilder::name_node(NodeId id, CableId cable, double metres) {
    Node& node = m_work.out.nodes[id.index()];
    if (node.kind != NodeKind::derived) {
        return;
    }
    if (!node.named_by.is_valid()) {
        node.named_by = cable;
        node.named_at_m = metres;
    } else if (node.named_by == cable) {
        node.named_at_m = std::min(node.named_at_m, metres);
    }
}

void list_move(Work& work, EndId id) {
    const End& end = work.end(id);
    const Point2 from = work.drawn_place(id);
    const Point2 to = work.place(end.node);
    const double moved = base::distance(from, to);
    if (moved <= kSlack) {
        return;
    }
    const MoveKind kind = end.outcome == EndOutcome::at_asset ? MoveKind::end_to_asset
                          : end.outcome == EndOutcome::teed   ? MoveKind::tee_assumed
                                                              : MoveKind::end_to_end;
    work.out.moves.push_back({work.cable_of(id), kind, end.node, from, to, moved});
}

} // namespace

void build_sections(Work& work) {
    Snapped& out = work.out;
    out.sections.reserve(work.layers.parts.size() + work.cuts.size());
    out.first_section.reserve(work.layers.cables.size() + 1);
    SectionBuilder builder(work);
    for (std::size_t i = 0; i < work.layers.cables.size(); ++i) {
        out.first_section.push_back(static_cast<std::uint32_t>(out.sections.size()));
        builder.add_cable(CableId(i));
    }
    out.first_section.push_back(static_cast<std::uint32_t>(out.sections.size()));
}

void list_moves(Work& work) {
    work.out.moves.reserve(work.ends.size() + work.cuts.size());
    auto cut = work.cuts.begin();
    for (std::size_t p = 0; p < work.layers.parts.size(); ++p) {
        const PartId part(p);
        list_move(work, Work::first_end(part));
        for (; cut != work.cuts.end() && cut->part == part; ++cut) {
            if (cut->kind == MoveKind::cut_at_asset && cut->moved > kSlack) {
                work.out.moves.push_back({work.cable_of(part), cut->kind, cut->node, cut->from,
                                          work.place(cut->node), cut->moved});
            }
        }
        list_move(work, Work::last_end(part));
    }
}

} // namespace loopwalk::network::snapping
