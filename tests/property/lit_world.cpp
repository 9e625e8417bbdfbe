// Who is dark when something is lost: by plain search, a column at a time.
#include "lit_world.hpp"

#include <algorithm>
#include <set>

namespace loopwalk::test {
namespace {

/// What a column lives on, and whether it finds a source.
class Search {
  public:
    Search(const World& world, const std::vector<Fault>& faults) : m_world(world) {
        for (const Fault& fault : faults) {
            m_faults.push_back(&fault);
        }
    }

    [[nodiscard]] bool is_dark(int column) {
        m_column = column;
        if (is_lost(Part::lamp, column)) {
            return true;
        }
        const World::Node& self = m_world.nodes[static_cast<std::size_t>(column)];
        if (self.on_main) {
            return is_lost(Part::main, 0) || is_lost(Part::tap, column);
        }
        return !finds_source(column);
    }

    /// All columns that hang together with one, by its fused and loop sides.
    [[nodiscard]] std::set<int> together_with(int column) {
        m_column = column;
        (void)finds_source(column);
        std::set<int> columns;
        for (const auto& [node, side] : m_seen) {
            if (m_world.nodes[static_cast<std::size_t>(node)].site == Site::column) {
                columns.insert(node);
            }
        }
        return columns;
    }
    [[nodiscard]] bool has_source() const { return m_has_source; }

  private:
    /// A point of a node: the loop side or busbar ("P"), the fused side ("F"), or a way's label.
    using Spot = std::pair<int, std::string>;

    [[nodiscard]] bool is_lost(Part part, int at, const std::string& label = {}) const {
        return std::ranges::any_of(m_faults, [&](const Fault* fault) {
            return fault->part == part && fault->at == at && fault->label == label &&
                   is_touched(*fault);
        });
    }

    [[nodiscard]] bool is_touched(const Fault& fault) const {
        const World::Node& column = m_world.nodes[static_cast<std::size_t>(m_column)];
        switch (fault.of) {
        case Of::whole:
            return true;
        case Of::switching:
            return fault.part == Part::cable || fault.part == Part::joint ||
                           fault.part == Part::terminals || fault.part == Part::meeting
                       ? column.control == model::Control::switch_core
                       : m_world.is_group_switched ||
                             column.control == model::Control::group_switched ||
                             column.control == model::Control::switch_core;
        case Of::l1:
            return column.phase == 1;
        case Of::l2:
            return column.phase == 2;
        case Of::l3:
            return column.phase == 3;
        }
        return false;
    }

    [[nodiscard]] bool finds_source(int column) {
        m_seen.clear();
        m_todo.clear();
        m_has_source = false;
        const bool has_fused = std::ranges::any_of(
            m_world.cables, [&](const World::Cable& c) { return c.fused_at == column; });
        reach({column, has_fused ? "F" : "P"});
        while (!m_todo.empty()) {
            const Spot spot = m_todo.back();
            m_todo.pop_back();
            leave(spot);
        }
        return m_has_source;
    }

    void reach(const Spot& spot) {
        const auto& [node, side] = spot;
        const bool is_lost_here =
            side == "P" && (is_lost(Part::terminals, node) || is_lost(Part::joint, node) ||
                            is_lost(Part::meeting, node) || is_lost(Part::busbar, node));
        if (!is_lost_here && m_seen.insert(spot).second) {
            m_todo.push_back(spot);
        }
    }

    void leave(const Spot& spot) {
        const auto& [node, side] = spot;
        const World::Node& at = m_world.nodes[static_cast<std::size_t>(node)];
        if (at.site == Site::pillar) {
            m_has_source =
                m_has_source || (!is_lost(Part::way, node, side) && !is_lost(Part::pillar, node));
        } else if (at.site == Site::tap) {
            m_has_source = m_has_source || (!is_lost(Part::tap, node) && !is_lost(Part::main, 0));
        } else if (at.site == Site::column && !is_lost(Part::cut_out, node)) {
            reach({node, side == "P" ? "F" : "P"});
        } else if (at.site == Site::section_pillar) {
            pass_busbar(spot);
        }
        for (std::size_t c = 0; c < m_world.cables.size(); ++c) {
            const World::Cable& cable = m_world.cables[c];
            if (!cable.conducts || is_lost(Part::cable, static_cast<int>(c))) {
                continue;
            }
            for (const auto& [from, to] :
                 {std::pair(cable.a, cable.b), std::pair(cable.b, cable.a)}) {
                if (spot_of(cable, from) == spot && spot_of(cable, to).has_value()) {
                    reach(*spot_of(cable, to));
                }
            }
        }
    }

    void pass_busbar(const Spot& spot) {
        const auto& [node, side] = spot;
        if (side != "P") {
            if (!is_lost(Part::way, node, side)) {
                reach({node, "P"});
            }
            return;
        }
        for (const World::Cable& cable : m_world.cables) {
            if ((cable.a == node || cable.b == node) && !is_lost(Part::way, node, cable.label)) {
                reach({node, cable.label});
            }
        }
    }

    /// Where a cable ends at a node; none where it is open.
    [[nodiscard]] std::optional<Spot> spot_of(const World::Cable& cable, int node) const {
        if (cable.open_at == node) {
            return std::nullopt;
        }
        if (m_world.is_supply(node)) {
            return Spot(node, cable.label);
        }
        return Spot(node, cable.fused_at == node ? "F" : "P");
    }

    const World& m_world;
    std::vector<const Fault*> m_faults;
    int m_column = 0;
    std::set<Spot> m_seen;
    std::vector<Spot> m_todo;
    bool m_has_source = false;
};

/// First column of the part that a column without a source on record belongs to; -1: it has one.
int first_without_source(const World& world, int column) {
    if (world.nodes[static_cast<std::size_t>(column)].on_main) {
        return -1;
    }
    Search search(world, {});
    const std::set<int> together = search.together_with(column);
    return search.has_source() ? -1 : *together.begin();
}

} // namespace

std::vector<int> World::columns() const {
    std::vector<int> columns;
    for (std::size_t n = 0; n < nodes.size(); ++n) {
        if (nodes[n].site == Site::column) {
            columns.push_back(static_cast<int>(n));
        }
    }
    return columns;
}

std::string text_of(const World& world, const Fault& fault) {
    const std::string at = fault.part == Part::cable ? "K" + std::to_string(100 + fault.at)
                           : fault.part == Part::main
                               ? "M"
                               : world.nodes[static_cast<std::size_t>(fault.at)].id;
    return std::to_string(static_cast<int>(fault.part)) + " " + at + " " + fault.label + " of " +
           std::to_string(static_cast<int>(fault.of));
}

std::uint64_t dark_columns(const World& world, const std::vector<Fault>& faults) {
    Search search(world, faults);
    std::uint64_t dark = 0;
    const std::vector<int> columns = world.columns();
    for (std::size_t n = 0; n < columns.size(); ++n) {
        const int first = first_without_source(world, columns[n]);
        const bool has_lost_unrecorded =
            first >= 0 && std::ranges::any_of(faults, [&](const Fault& fault) {
                return (fault.part == Part::unrecorded && fault.at == first) ||
                       (fault.part == Part::lamp && fault.at == columns[n]);
            });
        const bool is_dark = first >= 0 ? has_lost_unrecorded : search.is_dark(columns[n]);
        dark |= is_dark ? std::uint64_t{1} << n : 0;
    }
    return dark;
}

std::vector<Fault> all_faults(const World& world) {
    std::set<Fault> faults;
    const auto add = [&](Part part, int at, const std::string& label = {}) {
        faults.insert({part, at, label, Of::whole});
        if (part == Part::lamp || part == Part::unrecorded ||
            (part == Part::tap && world.nodes[static_cast<std::size_t>(at)].on_main)) {
            return;
        }
        if (part != Part::cut_out && part != Part::tap && part != Part::main) {
            faults.insert({part, at, label, Of::switching});
        }
        if (world.is_three_phase) {
            for (const Of of : {Of::l1, Of::l2, Of::l3}) {
                faults.insert({part, at, label, of});
            }
        }
    };
    std::set<int> fed; // columns with a source on record
    for (const int column : world.columns()) {
        add(Part::lamp, column);
        if (const int first = first_without_source(world, column); first >= 0) {
            add(Part::unrecorded, first);
        } else if (world.nodes[static_cast<std::size_t>(column)].on_main) {
            add(Part::tap, column);
            add(Part::main, 0);
        } else {
            add(Part::terminals, column);
        }
    }
    for (std::size_t c = 0; c < world.cables.size(); ++c) {
        const World::Cable& cable = world.cables[c];
        if (cable.fused_at >= 0 && first_without_source(world, cable.fused_at) < 0) {
            add(Part::cut_out, cable.fused_at);
        }
        if (!cable.conducts) {
            continue;
        }
        add(Part::cable, static_cast<int>(c));
        for (const int end : {cable.a, cable.b}) {
            switch (world.nodes[static_cast<std::size_t>(end)].site) {
            case Site::pillar:
                add(Part::pillar, end);
                add(Part::way, end, cable.label);
                break;
            case Site::section_pillar:
                add(Part::busbar, end);
                add(Part::way, end, cable.label);
                break;
            case Site::joint:
            case Site::fused_joint:
                add(Part::joint, end);
                break;
            case Site::bare:
                add(Part::meeting, end);
                break;
            case Site::tap:
                add(Part::tap, end);
                add(Part::main, 0);
                break;
            case Site::column:
                break;
            }
        }
    }
    return {faults.begin(), faults.end()};
}

} // namespace loopwalk::test
