#include "loopwalk/solution/multi_feed.hpp"

#include "loopwalk/solution/block_network.hpp"
#include "loopwalk/solution/peak.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <unordered_map>

namespace loopwalk::solution {

using impedance::loop_impedance;

namespace {

using base::Ohm;
using Opened = MultiFeed::Opened;

Complex hot_loop(const Conductors& c) {
    return c.line + c.earth;
}

Complex source_ohms(const Source& source, Ohm magnitude, const Conductors& mains) {
    return source.complex_ze.value_or(Complex(magnitude.value())) + hot_loop(mains);
}

EarthPathState worst(EarthPathState a, EarthPathState b) {
    return std::max(a, b);
}

} // namespace

struct MultiFeed::Impl {
    /// The block solved with some links open and some supplies off.
    struct Stage {
        Driving line, earth;
        std::vector<Along> line_along, earth_along;
        Switching switching;                              ///< at the high bound
        mutable std::vector<std::vector<Complex>> shares; ///< by link; empty until asked for
        /// The one terminal that feeds; with several their impedances lie inside `line`.
        std::optional<std::size_t> only;
        base::Volt u0;
        bool has_ze = true;
    };

    Block block;
    BlockNetwork network;
    std::vector<const Source*> sources;
    std::vector<base::DeviceId> devices;
    std::vector<base::InfeedId> infeeds;
    static constexpr std::size_t kNoNumber = std::numeric_limits<std::size_t>::max();
    std::vector<std::size_t> link_device, link_terminal;       ///< by link; kNoNumber: none
    mutable std::map<std::pair<Opened, Opened>, Stage> stages; ///< by links open, terminals off
    /// All supplies connected at their strongest, cold.
    struct Strongest {
        std::vector<Driving> line;       ///< every source at 0, every source at 90 degrees
        std::vector<Driving> line_phase; ///< the same for a phase's share of a three-phase fault
        Driving earth, neutral;
        base::Volt u0;
        bool is_three_phase = true;
    };
    mutable std::optional<Strongest> strongest;

    Impl(Block b, std::vector<PieceOhms> ohms, std::vector<const Source*> s)
        : block(std::move(b)), network(block, std::move(ohms)), sources(std::move(s)) {
        number_links();
    }

    /// Finds the devices, and which link holds which and leaves which terminal.
    void number_links() {
        std::unordered_map<LocalVertex, std::size_t> terminals;
        for (std::size_t t = 0; t < block.terminals.size(); ++t) {
            terminals.emplace(block.terminals[t].vertex, t);
            infeeds.push_back(block.terminals[t].infeed);
        }
        std::unordered_map<base::DeviceId, std::size_t> numbers;
        for (const Block::Link& link : block.links) {
            const auto terminal = terminals.find(link.a);
            const bool is_feed = terminal != terminals.end();
            link_terminal.push_back(is_feed ? terminal->second : kNoNumber);
            if (link.device.is_valid() || is_feed) {
                const auto [at, is_new] = numbers.try_emplace(link.device, devices.size());
                if (is_new) {
                    devices.push_back(link.device);
                }
                link_device.push_back(link.device.is_valid() ? at->second : kNoNumber);
            } else {
                link_device.push_back(kNoNumber);
            }
        }
    }

    [[nodiscard]] Opened links_of(const Opened& opened) const {
        Opened links(block.links.size(), 0);
        for (std::size_t l = 0; l < links.size(); ++l) {
            links[l] = link_device[l] < opened.size() ? opened[link_device[l]] : 0;
        }
        return links;
    }

    /// Terminals whose every way has opened feed no more.
    [[nodiscard]] Opened switched_off(const Opened& links) const {
        Opened has_link(block.terminals.size(), 0);
        Opened has_closed(block.terminals.size(), 0);
        for (std::size_t l = 0; l < links.size(); ++l) {
            if (link_terminal[l] == kNoNumber) {
                continue;
            }
            has_link[link_terminal[l]] = 1;
            if (links[l] == 0) {
                has_closed[link_terminal[l]] = 1;
            }
        }
        Opened off(block.terminals.size(), 0);
        for (std::size_t t = 0; t < off.size(); ++t) {
            off[t] = has_link[t] != 0 && has_closed[t] == 0 ? 1 : 0;
        }
        return off;
    }

    [[nodiscard]] const Stage& stage(const Opened& links, const Opened& off) const {
        const auto [at, is_new] = stages.try_emplace({links, off});
        if (is_new) {
            at->second = make_stage(links, off);
        }
        return at->second;
    }

    [[nodiscard]] Stage make_stage(const Opened& links, const Opened& off) const {
        Stage stage;
        Switching low{links, off, {}};
        Switching high = low;
        std::size_t feeding = 0;
        for (std::size_t t = 0; t < sources.size(); ++t) {
            low.source.push_back(
                source_ohms(*sources[t], sources[t]->ze.low, sources[t]->mains.hot_low));
            high.source.push_back(
                source_ohms(*sources[t], sources[t]->ze.high, sources[t]->mains.hot_high));
            if (off[t] != 0) {
                continue;
            }
            stage.only = t;
            stage.has_ze = stage.has_ze && sources[t]->has_ze;
            stage.u0 = feeding == 0 ? sources[t]->u0 : std::min(stage.u0, sources[t]->u0);
            ++feeding;
        }
        if (feeding < 2) {
            low.source.clear();
            high.source.clear();
        } else {
            stage.only.reset();
        }
        stage.line = network.drive(Conductor::line, Condition::hot, high);
        if (feeding > 1) {
            stage.line.low = network.drive(Conductor::line, Condition::hot, low).low;
        }
        stage.earth = network.drive(Conductor::earth, Condition::hot, high);
        stage.line_along = network.along(Conductor::line, high);
        stage.earth_along = network.along(Conductor::earth, high);
        stage.switching = std::move(high);
        return stage;
    }

    [[nodiscard]] const Strongest& at_strongest() const {
        if (strongest.has_value()) {
            return *strongest;
        }
        Strongest s;
        const auto drive = [&](Ohm Source::*magnitude, Complex angle) {
            Switching all;
            for (const Source* source : sources) {
                const Conductors& mains = source->mains.cold_low;
                all.source.push_back(angle * (source->*magnitude).value() + mains.line +
                                     mains.neutral);
            }
            return network.drive(Conductor::line, Condition::cold, all);
        };
        for (const Complex angle : {Complex(1.0, 0.0), Complex(0.0, 1.0)}) {
            s.line.push_back(drive(&Source::strongest, angle));
            s.line_phase.push_back(drive(&Source::strongest_phase, angle));
        }
        s.earth = network.drive(Conductor::earth, Condition::cold, {});
        s.neutral = network.drive(Conductor::neutral, Condition::cold, {});
        for (const Source* source : sources) {
            s.u0 = std::max(s.u0, source->u0);
            s.is_three_phase = s.is_three_phase && source->is_three_phase;
        }
        strongest = std::move(s);
        return *strongest;
    }

    [[nodiscard]] EarthPathState earth_at(const Stage& stage, const Point& p) const {
        const auto of_vertex = [&stage](LocalVertex v) {
            return stage.earth.sure[v] != 0       ? EarthPathState::intact
                   : stage.earth.possible[v] != 0 ? EarthPathState::unknown
                                                  : EarthPathState::broken;
        };
        EarthPathState state = worst(of_vertex(p.vertex), p.beyond_earth);
        if (p.section != Point::kNone) {
            state = worst(state, of_vertex(block.sections[p.section].b));
            state = worst(state, network.ohms(p.section).earth);
        }
        return state;
    }

    [[nodiscard]] Loop loop(const Stage& stage, const Point& p) const {
        Loop result;
        const bool is_along = p.section != Point::kNone;
        const LocalVertex b = is_along ? block.sections[p.section].b : p.vertex;
        result.is_fed = stage.line.sure[p.vertex] != 0 || stage.line.sure[b] != 0;
        if (!result.is_fed) {
            return result;
        }
        result.u0 = stage.u0;
        result.earth = earth_at(stage, p);
        if (!stage.has_ze || result.earth == EarthPathState::broken) {
            return result;
        }
        // Along a section the higher of its ends: no less than that is met somewhere in it.
        const auto low_at = [&](LocalVertex v) {
            return with_source(stage, stage.line.low[v] + stage.earth.low[v] + p.beyond_low,
                               Bound::low);
        };
        result.zs_low = std::max(low_at(p.vertex), low_at(b));
        if (result.earth == EarthPathState::intact) {
            const Complex block_high = is_along
                                           ? stage.line_along[p.section].at(p.share) +
                                                 stage.earth_along[p.section].at(p.share)
                                           : stage.line.high[p.vertex] + stage.earth.high[p.vertex];
            result.zs_high = with_source(stage, block_high + p.beyond_high, Bound::high);
            if (is_along && is_single_valued(stage, p.vertex) && is_single_valued(stage, b)) {
                result.zs_low = result.zs_high;
            }
        }
        return result;
    }

    [[nodiscard]] static bool is_single_valued(const Stage& stage, LocalVertex v) {
        return stage.only.has_value() && stage.line.low[v] == stage.line.high[v] &&
               stage.earth.low[v] == stage.earth.high[v];
    }

    enum class Bound : bool { low, high };
    [[nodiscard]] Ohm with_source(const Stage& stage, Complex ohms, Bound bound) const {
        if (!stage.only.has_value()) {
            return Ohm(std::abs(ohms));
        }
        const Source& source = *sources[*stage.only];
        const bool low = bound == Bound::low;
        // With one supply its mains are part of the path; of several each brings its own.
        const Complex mains = sources.size() > 1
                                  ? hot_loop(low ? source.mains.hot_low : source.mains.hot_high)
                                  : Complex();
        return loop_impedance(source, low ? source.ze.low : source.ze.high, mains + ohms);
    }
};

MultiFeed::MultiFeed(Block block, std::vector<PieceOhms> ohms, std::vector<const Source*> sources)
    : m_impl(std::make_unique<Impl>(std::move(block), std::move(ohms), std::move(sources))) {}

MultiFeed::~MultiFeed() = default;

const std::vector<base::DeviceId>& MultiFeed::devices() const noexcept {
    return m_impl->devices;
}

const std::vector<base::InfeedId>& MultiFeed::feeds() const noexcept {
    return m_impl->infeeds;
}

bool MultiFeed::is_exact() const noexcept {
    return m_impl->network.is_complete();
}

bool MultiFeed::is_beyond_following() const noexcept {
    return m_impl->devices.size() > kMostFollowed || m_impl->infeeds.size() > kMostFollowed;
}

MultiFeed::Loop MultiFeed::loop(const Opened& opened, const Point& point) const {
    const Opened links = m_impl->links_of(opened);
    return m_impl->loop(m_impl->stage(links, m_impl->switched_off(links)), point);
}

MultiFeed::Loop MultiFeed::loop_alone(std::size_t feed, const Point& point) const {
    Opened off(m_impl->block.terminals.size(), 1);
    off[feed] = 0;
    return m_impl->loop(m_impl->stage(Opened(m_impl->block.links.size(), 0), off), point);
}

MultiFeed::Largest MultiFeed::largest(std::uint32_t vertex, const Beyond& beyond,
                                      double cmax) const {
    const Impl::Strongest& s = m_impl->at_strongest();
    double least = 0.0; // highest admittances of the loops, at either bound
    double most = 0.0;
    const auto fault = [&](const std::vector<Driving>& line, const Driving* back, Complex low,
                           Complex high, bool is_sure) {
        double sure = 0.0;
        for (const Driving& d : line) {
            const Complex back_low = back != nullptr ? back->low[vertex] : Complex();
            const Complex back_high = back != nullptr ? back->high[vertex] : Complex();
            most = std::max(most, 1.0 / std::abs(d.low[vertex] + back_low + low));
            sure = std::max(sure, 1.0 / std::abs(d.high[vertex] + back_high + high));
        }
        least = is_sure ? std::max(least, sure) : least;
    };
    if (s.earth.possible[vertex] != 0 && beyond.earth != EarthPathState::broken) {
        fault(s.line, &s.earth, beyond.low.line + beyond.low.earth,
              beyond.high.line + beyond.high.earth,
              s.earth.sure[vertex] != 0 && beyond.earth == EarthPathState::intact);
    }
    if (s.neutral.possible[vertex] != 0 && beyond.neutral != Presence::no) {
        fault(s.line, &s.neutral, beyond.low.line + beyond.low.neutral,
              beyond.high.line + beyond.high.neutral,
              s.neutral.sure[vertex] != 0 && beyond.neutral == Presence::yes);
    }
    if (s.is_three_phase) {
        fault(s.line_phase, nullptr, beyond.low.line, beyond.high.line, true);
    }
    Largest result;
    const double volts = s.u0.value() * cmax;
    if (most > 0.0) {
        result.high = base::Ampere(volts * most);
    }
    if (least > 0.0) {
        result.low = base::Ampere(volts * least);
    }
    return result;
}

double MultiFeed::share(const Opened& opened, std::size_t device, const Point& point) const {
    const Opened links = m_impl->links_of(opened);
    const Impl::Stage& stage = m_impl->stage(links, m_impl->switched_off(links));
    if (stage.shares.empty()) {
        stage.shares = m_impl->network.shares(stage.switching);
    }
    Complex sum;
    for (std::size_t l = 0; l < links.size(); ++l) {
        if (m_impl->block.links[l].device != m_impl->devices[device] ||
            !m_impl->devices[device].is_valid()) {
            continue;
        }
        const std::vector<Complex>& share = stage.shares[l];
        const LocalVertex b =
            point.section == Point::kNone ? point.vertex : m_impl->block.sections[point.section].b;
        sum += (1.0 - point.share) * share[point.vertex] + point.share * share[b];
    }
    return std::abs(sum);
}

double MultiFeed::highest_along(std::uint32_t section) const {
    const Opened links(m_impl->block.links.size(), 0);
    const Impl::Stage& stage = m_impl->stage(links, Opened(m_impl->block.terminals.size(), 0));
    return highest_at([&](double share) {
        return std::abs(stage.line_along[section].at(share) + stage.earth_along[section].at(share));
    });
}

std::vector<std::uint32_t> MultiFeed::ends_of(const Point& place) const {
    if (place.section == Point::kNone) {
        return {place.vertex};
    }
    const Block::Section& section = m_impl->block.sections[place.section];
    return {section.a, section.b};
}

std::uint32_t MultiFeed::section_start(std::uint32_t section) const {
    return m_impl->block.sections[section].a;
}

} // namespace loopwalk::solution
