// Random streets.
#include "lit_world.hpp"
#include <algorithm>
#include <array>

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

/// Left out of the records only where the fused side is fed by way of its own cut-out.
void Maker::tell_strange_sides() {
    const std::vector<int> columns = m_world.columns();
    for (World::Cable& cable : m_world.cables) {
        if (cable.fused_at >= 0 && !cable.tells_side) {
            const std::uint64_t dark =
                dark_columns(m_world, {{Part::cut_out, cable.fused_at, "", Of::whole}});
            const auto number = std::ranges::find(columns, cable.fused_at) - columns.begin();
            cable.tells_side = ((dark >> number) & 1U) == 0;
        }
    }
}

} // namespace

World random_world(std::mt19937_64& random, Telling telling, int side) {
    return Maker(random, telling, side).run();
}

} // namespace loopwalk::test
