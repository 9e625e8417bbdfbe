// Where the line of a piece runs within snap of an asset.
#pragma once

#include "piece_line.hpp"
#include "snap_work.hpp"

namespace loopwalk::network::snapping {

/// A piece of a part between two nodes.
struct Piece {
    PartId part;
    NodeId from_node, to_node;
    PieceEnd from, to;
};

/// A stretch of a piece that runs within snap of an asset at which the piece does not end there,
/// and that reaches the middle of the piece: all but the first and last snap metres.
struct Passing {
    NodeId asset;
    double distance = 0.0; ///< at its nearest
    double arc = 0.0;      ///< metres along the piece's line to there
    Point2 point;
    /// The nearest point is on the part as drawn and no end of it. Not so where it may lie on what
    /// leads the line to a node.
    bool can_cut = false;
    bool is_tie = false;         ///< another asset is equally near to the same point
    bool reaches_middle = false; ///< always, in what find() gives
};

class PassingFinder {
  public:
    explicit PassingFinder(const Work& work) : m_work(work) {}

    /// By asset, then along the piece. Valid until the next call.
    const std::vector<Passing>& find(const MeasuredLine& part, const Piece& piece);
    /// The piece of the last call, as drawn.
    [[nodiscard]] const PieceLine& line() const noexcept { return m_line; }

  private:
    /// A segment, or a bit of one, within snap of an asset.
    struct Contact {
        NodeId asset;
        std::size_t segment = 0;                 ///< of the piece's line
        double enter = 0.0, leave = 0.0;         ///< arcs
        bool from_start = false, to_end = false; ///< reaches the segment's ends
        double distance = 0.0, arc = 0.0;
        Point2 point;
    };
    using Contacts = std::span<const Contact>;

    [[nodiscard]] static bool is_nearer(const Contact& a, const Contact& b) noexcept {
        return a.distance < b.distance;
    }
    [[nodiscard]] static const Contact& first_nearest(Contacts stretch);
    void find_contacts(PartId part);
    void add_contact(NodeId asset, std::size_t segment);
    void add_stretch(const Piece& piece, Contacts stretch);
    [[nodiscard]] bool has_twin(PartId part, const Contact& contact) const;
    [[nodiscard]] bool ends_there(const Piece& piece, Contacts stretch) const;
    [[nodiscard]] bool reaches_middle(Contacts stretch) const;
    [[nodiscard]] bool is_clear_of_ends(double arc) const;
    void mark_ties();
    void mark_tie(std::size_t a, std::size_t b);

    const Work& m_work;
    PieceLine m_line;
    std::vector<Contact> m_contacts;
    std::vector<Passing> m_found;
    /// Where a stretch comes as near as it does at its nearest: arc, and position in m_found.
    std::vector<std::pair<double, std::size_t>> m_minima;
};

} // namespace loopwalk::network::snapping
