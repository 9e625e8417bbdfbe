#include "loopwalk/protection/clearing_sequence.hpp"

#include <algorithm>
#include <cmath>
#include <unordered_map>

namespace loopwalk::protection {

using base::DeviceId;
using figures::FedPoint;
using impedance::EarthPathState;
using impedance::Source;
using solution::MultiFeed;

namespace {

using base::Ampere;
using base::Maybe;
using base::Number;
using base::Ohm;
using base::Second;
using catalogue::TimeState;

/// More devices than this around one place (up to MultiFeed::kMostFollowed) are followed in the
/// order of their times only.
constexpr std::size_t kMostOrders = 6;

bool never(const catalogue::OperatingTime& time) {
    return time.state == TimeState::not_within_table;
}

/// Shortest slow-edge time over what a device may be; nothing: it may not clear at all.
Maybe<Second> least_time(const DeviceChoices& device, Ampere current) {
    Maybe<Second> least;
    for (const DeviceChoice& choice : device.any_of) {
        if (choice.edges.early == nullptr) {
            return Second(0.0);
        }
        const auto time = catalogue::slow_time(*choice.edges.early, current);
        if (!never(time) && (!least.has_value() || time.time < *least)) {
            least = time.time;
        }
    }
    return least;
}

/// What opens after a fault at one place, and when.
class Sequence {
  public:
    Sequence(const MultiFeed& feed, const MultiFeed::Point& point,
             std::vector<const DeviceChoices*> devices, double cmin)
        : m_feed(feed), m_point(point), m_devices(std::move(devices)), m_cmin(cmin) {}

    /// Time until nothing feeds the place, with every current divided by `by`; none: never.
    [[nodiscard]] Maybe<Second> time(double by) {
        return m_feed.is_exact() ? followed(by) : bounded(0, by);
    }

    /// Smallest current that each device carries while it is closed, over all sets of the others
    /// that may have opened before. Precondition: the record is complete.
    [[nodiscard]] std::vector<Maybe<Ampere>> least_currents() {
        std::vector<Maybe<Ampere>> least(m_devices.size());
        if (m_devices.size() > kMostOrders) {
            return least;
        }
        for (std::uint64_t opened = 0; opened < (std::uint64_t{1} << m_devices.size()); ++opened) {
            const State& now = state(opened);
            if (!now.loop.is_fed || !now.loop.zs_high.has_value()) {
                continue;
            }
            for (std::size_t d = 0; d < m_devices.size(); ++d) {
                const Ampere current = now.loop.u0 * m_cmin / *now.loop.zs_high * now.shares[d];
                const bool carries = ((opened >> d) & 1U) == 0 && current > Ampere(0.0);
                if (carries && (!least[d].has_value() || current < *least[d])) {
                    least[d] = current;
                }
            }
        }
        return least;
    }

    /// True if no completion clears within the limit. For records that leave anything open only
    /// what each device does as the last one is looked at: the whole takes no less.
    [[nodiscard]] bool is_certainly_longer(Second limit) {
        if (m_feed.is_exact() && is_single_valued()) {
            const Maybe<Second> t = followed(1.0);
            return !t.has_value() || *t > limit;
        }
        bool any = false;
        const std::uint64_t all = (std::uint64_t{1} << m_devices.size()) - 1;
        for (std::size_t d = 0; d < m_devices.size(); ++d) {
            const MultiFeed::Loop& loop = state(all & ~(std::uint64_t{1} << d)).loop;
            if (!loop.is_fed || !loop.zs_low.has_value()) {
                continue;
            }
            any = true;
            const auto t = least_time(*m_devices[d], loop.u0 * m_cmin / *loop.zs_low);
            if (t.has_value() && *t <= limit) {
                return false;
            }
        }
        return any;
    }

  private:
    struct State {
        MultiFeed::Loop loop;
        std::vector<double> shares;
    };

    [[nodiscard]] bool is_single_valued() {
        const MultiFeed::Loop& loop = state(0).loop;
        const bool devices = std::ranges::all_of(m_devices, [](const DeviceChoices* d) {
            return d->any_of.size() == 1 && d->any_of[0].edges.is_own;
        });
        return devices && loop.zs_low == loop.zs_high;
    }

    const State& state(std::uint64_t opened) {
        const auto [at, is_new] = m_states.try_emplace(opened);
        if (is_new) {
            MultiFeed::Opened open(m_devices.size(), 0);
            for (std::size_t d = 0; d < open.size(); ++d) {
                open[d] = ((opened >> d) & 1U) != 0 ? 1 : 0;
            }
            at->second.loop = m_feed.loop(open, m_point);
            for (std::size_t d = 0; d < open.size() && m_feed.is_exact(); ++d) {
                at->second.shares.push_back(m_feed.share(open, d, m_point));
            }
        }
        return at->second;
    }

    [[nodiscard]] Maybe<Second> followed(double by) {
        std::uint64_t opened = 0;
        Second total{};
        while (true) {
            const State& now = state(opened);
            if (!now.loop.is_fed) {
                return total;
            }
            if (!now.loop.zs_high.has_value()) {
                return {};
            }
            const Ampere current = now.loop.u0 * m_cmin / *now.loop.zs_high / by;
            Maybe<Second> first;
            std::size_t device = 0;
            for (std::size_t d = 0; d < m_devices.size(); ++d) {
                if (((opened >> d) & 1U) != 0) {
                    continue;
                }
                const auto t = longest_time(*m_devices[d], current * now.shares[d]);
                if (!never(t) && (!first.has_value() || t.time < *first)) {
                    first = t.time;
                    device = d;
                }
            }
            if (!first.has_value()) {
                return {};
            }
            total += *first;
            opened |= std::uint64_t{1} << device;
        }
    }

    /// Longest over every split of the current and every order: some device carries at least its
    /// even share. Calls itself no deeper than there are devices, at most kMostOrders.
    // NOLINTNEXTLINE(misc-no-recursion)
    [[nodiscard]] Maybe<Second> bounded(std::uint64_t opened, double by) {
        const MultiFeed::Loop& loop = state(opened).loop;
        if (!loop.is_fed) {
            return Second(0.0);
        }
        if (!loop.zs_high.has_value() || m_devices.size() > kMostOrders) {
            return {};
        }
        std::size_t closed = 0;
        for (std::size_t d = 0; d < m_devices.size(); ++d) {
            closed += ((opened >> d) & 1U) == 0 ? 1U : 0U;
        }
        if (closed == 0) {
            return {};
        }
        const Ampere even = loop.u0 * m_cmin / *loop.zs_high / (by * static_cast<double>(closed));
        Second first{};
        Second rest{};
        for (std::size_t d = 0; d < m_devices.size(); ++d) {
            const std::uint64_t bit = std::uint64_t{1} << d;
            if ((opened & bit) != 0) {
                continue;
            }
            const auto t = longest_time(*m_devices[d], even);
            const Maybe<Second> after = bounded(opened | bit, by);
            if (never(t) || !after.has_value()) {
                return {};
            }
            first = std::max(first, t.time);
            rest = std::max(rest, *after);
        }
        return first + rest;
    }

    const MultiFeed& m_feed;
    MultiFeed::Point m_point;
    std::vector<const DeviceChoices*> m_devices;
    double m_cmin;
    std::unordered_map<std::uint64_t, State> m_states;
};

/// How many times smaller every current could be and still clear within the limit.
/// None where no current, however large, is known to clear in time: a number would stand in for it.
Maybe<Number> margin_of(Sequence& sequence, Second limit) {
    constexpr double kMost = 1e5;
    constexpr int kHalvings = 60;
    const auto clears = [&](double by) {
        const Maybe<Second> t = sequence.time(by);
        return t.has_value() && *t <= limit;
    };
    double low = 1.0 / kMost;
    double high = kMost;
    if (!clears(low)) {
        return {};
    }
    for (int i = 0; i < kHalvings; ++i) {
        const double middle = std::sqrt(low * high);
        (clears(middle) ? low : high) = middle;
    }
    return Number(low);
}

} // namespace

/// With several supplies joined: smallest current from each alone, smallest impedance from all.
MultiFeed::Loop ClearingSequences::loop(const FedPoint& place) const {
    const MultiFeed& feed = *m_figures.feeds[place.feed];
    MultiFeed::Loop loop = feed.loop({}, place.point);
    if (feed.feeds().size() < 2) {
        return loop;
    }
    loop.zs_high = {};
    if (feed.is_beyond_following()) {
        return loop;
    }
    for (std::size_t f = 0; f < feed.feeds().size(); ++f) {
        const MultiFeed::Loop alone = feed.loop_alone(f, place.point);
        loop.earth = std::max(loop.earth, alone.earth);
        if (!alone.zs_high.has_value()) {
            loop.zs_high = {};
            return loop;
        }
        if (!loop.zs_high.has_value() || *alone.zs_high > *loop.zs_high) {
            loop.zs_high = alone.zs_high;
            loop.u0 = alone.u0;
        }
    }
    return loop;
}

/// What keeps the devices of a feed from being judged; `none` if nothing does.
Reason ClearingSequences::why_unjudged(const MultiFeed& feed) {
    if (feed.is_beyond_following()) {
        return Reason::too_many_devices;
    }
    for (const DeviceId id : feed.devices()) {
        if (!id.is_valid()) {
            return Reason::no_device;
        }
        if (m_devices.is_distributors(id)) {
            return Reason::partly_distributors;
        }
        if (m_devices.choices(id).any_of.empty()) {
            return Reason::rating_missing;
        }
    }
    return Reason::none;
}

/// Why a place that clears at one bound and not at the other is left open.
Reason ClearingSequences::why_straddling(const MultiFeed& feed) {
    const auto any = [&](bool DeviceChoices::*flag) {
        return std::ranges::any_of(feed.devices(),
                                   [&](DeviceId id) { return m_devices.choices(id).*flag; });
    };
    return any(&DeviceChoices::type_missing)    ? Reason::type_missing
           : any(&DeviceChoices::curve_missing) ? Reason::curve_missing
                                                : Reason::bounds_straddle;
}

std::vector<const DeviceChoices*> ClearingSequences::choices(const MultiFeed& feed) {
    std::vector<const DeviceChoices*> devices;
    for (const DeviceId id : feed.devices()) {
        devices.push_back(&m_devices.choices(id));
    }
    return devices;
}

std::vector<Maybe<Ampere>> ClearingSequences::least_currents(const FedPoint& place) {
    const MultiFeed& feed = *m_figures.feeds[place.feed];
    return Sequence(feed, place.point, choices(feed), m_rules.cmin).least_currents();
}

bool ClearingSequences::is_assumed(const MultiFeed& feed) const {
    return m_rules.assumed_source == config::AssumedSource::undecided &&
           std::ranges::any_of(feed.feeds(), [this](base::InfeedId infeed) {
               const Source* from = m_facts.source_of_infeed(infeed);
               return from == nullptr || from->ze_basis == model::Basis::assumed;
           });
}

Side ClearingSequences::judge(const FedPoint& place, Second limit, Margin margin) {
    const MultiFeed& feed = *m_figures.feeds[place.feed];
    const MultiFeed::Loop seen = loop(place);
    Side side;
    side.is_multi_fed = true;
    side.limit = limit;
    side.zs_low = seen.zs_low;
    side.zs_high = seen.zs_high;
    side.verdict = Verdict::undecided;
    side.reason = why_unjudged(feed);
    if (side.reason != Reason::none) {
        return side;
    }
    if (seen.earth == EarthPathState::broken) {
        side.verdict = Verdict::fails;
        side.reason = Reason::earth_broken;
        return side;
    }
    if (!seen.zs_low.has_value()) {
        side.reason = Reason::ze_missing;
        return side;
    }
    Sequence sequence(feed, place.point, choices(feed), m_rules.cmin);
    Maybe<Second> time;
    if (seen.zs_high.has_value()) {
        time = sequence.time(1.0);
        side.state = time.has_value() ? ClearState::clears : ClearState::not_within_table;
        side.clear = time;
        if (margin == Margin::yes) {
            side.margin = margin_of(sequence, limit);
            if (side.margin.has_value()) {
                side.zs_limit = *seen.zs_high * (*side.margin).value();
            }
        }
    }
    if (sequence.is_certainly_longer(limit)) {
        side.verdict = Verdict::fails;
        side.reason = Reason::too_slow;
    } else if (seen.earth == EarthPathState::unknown) {
        side.reason = Reason::earth_unknown;
    } else if (time.has_value() && *time <= limit) {
        side.verdict = is_assumed(feed) ? Verdict::undecided : Verdict::meets;
        side.reason = is_assumed(feed) ? Reason::assumed_source : Reason::none;
    } else {
        side.reason = why_straddling(feed);
    }
    return side;
}

} // namespace loopwalk::protection
