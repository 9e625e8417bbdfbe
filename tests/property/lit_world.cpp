#include "lit_world.hpp"

#include <algorithm>
#include <array>
#include <set>

namespace loopwalk::test {
namespace {

constexpr double kStep = 40.0;
constexpr double kMainAt = -20.0; ///< y of the main, below the first row

class Maker {
  public:
    Maker(std::mt19937_64& random, Telling telling, int side)
        : m_random(random), m_telling(telling), m_side(side) {}

    World run() {
        m_world.is_three_phase = chance(0.3);
        m_switching = pick(3);
        m_world.is_group_switched = m_switching == 1;
        make_sites();
        make_cables();
        make_services();
        tell_strange_sides();
        name_all();
        return std::move(m_world);
    }

  private:
    int pick(int below) { return std::uniform_int_distribution<int>(0, below - 1)(m_random); }
    bool chance(double of) {
        return std::uniform_real_distribution<double>(0.0, 1.0)(m_random) < of;
    }
    World::Node& node(int n) { return m_world.nodes[static_cast<std::size_t>(n)]; }

    void make_sites() {
        const int count = m_side * m_side;
        std::vector<Site> sites{Site::pillar, chance(0.3) ? Site::pillar : Site::column,
                                chance(0.3) ? Site::section_pillar : Site::column, Site::column};
        while (sites.size() < static_cast<std::size_t>(count)) {
            const int of = pick(20);
            sites.push_back(of == 0   ? Site::joint
                            : of == 1 ? Site::fused_joint
                            : of == 2 ? Site::bare
                                      : Site::column);
        }
        std::ranges::shuffle(sites, m_random);
        for (int n = 0; n < count; ++n) {
            World::Node made;
            made.site = sites[static_cast<std::size_t>(n)];
            made.x = kStep * (n % m_side);
            made.y = kStep * (n / m_side);
            fill_column(made);
            m_world.nodes.push_back(made);
        }
    }

    void fill_column(World::Node& made) {
        made.phase = m_world.is_three_phase ? 1 + pick(3) : 1;
        if (m_switching == 2) {
            constexpr std::array kControls{model::Control::group_switched,
                                           model::Control::own_photocell, model::Control::permanent,
                                           model::Control::switch_core};
            made.control = kControls[static_cast<std::size_t>(pick(4))];
        }
        made.tells_phase = m_telling == Telling::all || chance(0.6);
        made.tells_control = m_telling == Telling::all || chance(0.5);
    }

    /// Neighbours are joined: always to what was joined before, so that most hang together, and now
    /// and then once more.
    void make_cables() {
        const double more = m_side <= 3 ? 0.6 : 0.25; // small streets have loops, too
        for (int n = 0; n < m_side * m_side; ++n) {
            const bool has_left = n % m_side != 0;
            const bool has_below = n >= m_side;
            const bool to_left = has_left && chance(has_below ? 0.55 : 0.9);
            if (to_left) {
                add_cable(n - 1, n);
            }
            if (has_below && chance(to_left ? more : 0.9)) {
                add_cable(n - m_side, n);
            }
        }
    }

    void add_cable(int a, int b) {
        World::Cable cable;
        cable.a = chance(0.5) ? a : b;
        cable.b = cable.a == a ? b : a;
        if (m_world.is_supply(a) || m_world.is_supply(b)) {
            cable.label = std::string(1, static_cast<char>('A' + pick(3)));
            for (const int end : {a, b}) { // two labels that meet at nothing contradict each other
                node(end).site = node(end).site == Site::bare ? Site::joint : node(end).site;
            }
        }
        cable.conducts = !chance(0.04);
        if (chance(0.08) && node(a).site != Site::bare) {
            cable.open_at = a;
        } else if (chance(0.12) && node(a).site == Site::column) {
            cable.fused_at = a;
            cable.tells_side = m_telling == Telling::all || chance(0.7);
        }
        m_world.cables.push_back(cable);
    }

    /// Some columns of the first row hang on the main, some stand beside it without a cable.
    void make_services() {
        if (!chance(0.35)) {
            return;
        }
        for (int n = 0; n < m_side; ++n) {
            const bool may_be_fed = !m_world.is_group_switched && !m_world.is_three_phase;
            if (node(n).site == Site::column && may_be_fed && chance(0.3)) {
                World::Node tap;
                tap.site = Site::tap;
                tap.x = node(n).x;
                tap.y = kMainAt;
                m_world.nodes.push_back(tap);
                World::Cable service;
                service.a = static_cast<int>(m_world.nodes.size()) - 1;
                service.b = n;
                m_world.cables.push_back(service);
            }
            if (chance(0.3)) {
                World::Node beside;
                beside.site = Site::column;
                beside.x = kStep * n + 12.0;
                beside.y = kMainAt - 2.0;
                fill_column(beside);
                beside.control = model::Control::own_photocell;
                beside.tells_control = true;
                beside.on_main = true;
                m_world.nodes.push_back(beside);
            }
        }
    }

    void tell_strange_sides();

    void name_all() {
        for (std::size_t n = 0; n < m_world.nodes.size(); ++n) {
            m_world.nodes[n].id = "N" + std::to_string(100 + n);
        }
    }

    std::mt19937_64& m_random;
    Telling m_telling;
    int m_side;
    int m_switching = 0; ///< 0: photocells, 1: contactors of the ways, 2: each column its own
    World m_world;
};

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
    [[nodiscard]] bool is_fed(int column) { return !is_dark(column); }
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

/// Left out of the records only where the fused side is fed by way of its own cut-out.
void Maker::tell_strange_sides() {
    for (World::Cable& cable : m_world.cables) {
        if (cable.fused_at >= 0 && !cable.tells_side) {
            const std::vector<Fault> faults{{Part::cut_out, cable.fused_at, "", Of::whole}};
            cable.tells_side = !Search(m_world, faults).is_dark(cable.fused_at) ||
                               !Search(m_world, {}).is_fed(cable.fused_at);
        }
    }
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

World random_world(std::mt19937_64& random, Telling telling, int side) {
    return Maker(random, telling, side).run();
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
