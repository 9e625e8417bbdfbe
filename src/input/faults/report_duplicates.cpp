// Features under one id, and cables drawn twice.
#include "loopwalk/base/text.hpp"

#include "read/nearest.hpp"
#include "report.hpp"
#include <algorithm>
#include <bit>
#include <map>

namespace loopwalk::input {

namespace {

using base::Rule;

/// Metres from each of some assets to the nearest other of them (between their ends); none for an
/// asset without a place or without another.
std::map<std::size_t, double> distances_within(const Assets& assets,
                                               const std::vector<std::size_t>& positions) {
    std::vector<NearestSearch::Item> items;
    std::vector<base::Point2> ends;
    for (const std::size_t position : positions) {
        ends.clear();
        if (assets.ends) {
            assets.ends(position, ends);
        }
        for (const base::Point2 end : ends) {
            items.push_back({end, static_cast<std::uint32_t>(position)});
        }
    }
    const NearestSearch search(std::move(items));
    std::map<std::size_t, double> distances;
    for (std::size_t i = 0; i < search.items().size(); ++i) {
        const auto found = search.distance(i);
        if (!found) {
            continue;
        }
        const auto [entry, is_new] = distances.try_emplace(search.items()[i].owner, *found);
        if (!is_new) {
            entry->second = std::min(entry->second, *found);
        }
    }
    return distances;
}

void report_repeated(Context& context, const Assets& assets, const RepeatedId& repeated) {
    const Order& order = context.record(assets.layer).order;
    std::vector<std::size_t> positions;
    for (const std::uint32_t feature : repeated.features) {
        positions.push_back(order.positions[feature]);
    }
    const auto distances = distances_within(assets, positions);
    const std::string first = assets.id(positions.front()); // kept the id
    for (const std::size_t position : positions) {
        std::string message =
            std::to_string(positions.size()) + " features of layer " +
            std::string(base::layer_name(assets.layer)) + " have the id " + quoted(first) +
            "; this one " +
            (position == positions.front() ? "keeps it."
                                           : "is called " + assets.id(position) + " here.");
        base::Finding finding = finding_at(assets, position, Rule::duplicate_id, std::move(message),
                                           "Check which asset the id belongs to and give the "
                                           "others ids of their own");
        if (const auto found = distances.find(position); found != distances.end()) {
            finding.value = found->second;
            finding.unit = "m";
        }
        finding.count = static_cast<std::int64_t>(positions.size());
        context.findings.add(std::move(finding));
    }
}

/// FNV-1a over the bits of the vertices.
std::uint64_t hash_of(const model::Layers& layers, const model::Cable& cable) {
    std::uint64_t hash = 14695981039346656037ULL;
    const auto mix = [&hash](std::uint64_t bits) { hash = (hash ^ bits) * 1099511628211ULL; };
    for (const model::Part& part : layers.parts_of(cable)) {
        mix(part.vertex_count);
        for (const base::Point2 p : layers.line(part)) {
            mix(std::bit_cast<std::uint64_t>(p.x));
            mix(std::bit_cast<std::uint64_t>(p.y));
        }
    }
    return hash;
}

bool same_lines(const model::Layers& layers, const model::Cable& a, const model::Cable& b) {
    const auto left = layers.parts_of(a);
    const auto right = layers.parts_of(b);
    return std::equal(left.begin(), left.end(), right.begin(), right.end(),
                      [&](const model::Part& x, const model::Part& y) {
                          const auto p = layers.line(x);
                          const auto q = layers.line(y);
                          return std::equal(p.begin(), p.end(), q.begin(), q.end());
                      });
}

struct Hashed {
    std::uint64_t hash = 0;
    std::uint32_t position = 0;
    friend auto operator<=>(const Hashed&, const Hashed&) noexcept = default;
};

/// Cables with the same hash, ascending; told apart exactly.
void report_equal_hashes(Context& context, const Assets& assets, std::vector<Hashed> cables) {
    const model::Layers& layers = context.result.layers;
    while (!cables.empty()) {
        const model::Cable& first = layers.cables[cables.front().position];
        const auto other =
            std::stable_partition(cables.begin(), cables.end(), [&](const Hashed& cable) {
                return same_lines(layers, first, layers.cables[cable.position]);
            });
        const auto count = other - cables.begin();
        for (auto cable = cables.begin(); count > 1 && cable != other; ++cable) {
            report_same_place(context, assets, cable->position,
                              assets.id(cable == cables.begin() ? (cable + 1)->position
                                                                : cables.front().position),
                              count);
        }
        cables.erase(cables.begin(), other);
    }
}

/// What a ratio of recorded to drawn length looks like.
std::string length_cure(double ratio) {
    struct Slip {
        double ratio;
        const char* text;
    };
    constexpr double kAlike = 0.08; // of the ratio: cables are laid with some slack
    constexpr std::array<Slip, 6> kSlips{{{1.0 / 0.3048, "of feet to metres: is it in feet?"},
                                          {0.3048, "of metres to feet: is the drawing in feet?"},
                                          {10.0, "ten: is a digit too many?"},
                                          {0.1, "a tenth: is a digit missing?"},
                                          {1000.0, "a thousand: is it in millimetres?"},
                                          {0.001, "a thousandth: is it in kilometres?"}}};
    for (const Slip& slip : kSlips) {
        if (ratio > slip.ratio * (1.0 - kAlike) && ratio < slip.ratio * (1.0 + kAlike)) {
            return std::string("Check the recorded length: the ratio is about ") + slip.text;
        }
    }
    return "Check the recorded length, its unit, and that the cable is drawn to its ends";
}

} // namespace

void report_same_place(Context& context, const Assets& assets, std::size_t position,
                       const std::string& other, std::int64_t count) {
    const std::string more =
        count > 2 ? " and " + std::to_string(count - 2) + " more" : std::string();
    base::Finding finding = finding_at(assets, position, Rule::duplicate_geometry,
                                       asset_name(assets, position) + " is drawn exactly where " +
                                           other + more + (count > 2 ? " are." : " is."),
                                       "Check whether one asset was recorded twice");
    finding.value = 0.0;
    finding.unit = "m";
    finding.count = count;
    context.findings.add(std::move(finding));
}

void report_repeated_ids(Context& context, const Assets& assets) {
    for (const RepeatedId& repeated : context.record(assets.layer).order.repeated) {
        report_repeated(context, assets, repeated);
    }
}

void report_equal_cables(Context& context, const Assets& assets) {
    const model::Layers& layers = context.result.layers;
    std::vector<Hashed> cables;
    for (std::uint32_t i = 0; i < layers.cables.size(); ++i) {
        if (layers.cables[i].part_count > 0) {
            cables.push_back({hash_of(layers, layers.cables[i]), i});
        }
    }
    std::sort(cables.begin(), cables.end());
    for (std::size_t first = 0, next = 0; first < cables.size(); first = next) {
        for (next = first + 1; next < cables.size() && cables[next].hash == cables[first].hash;) {
            ++next;
        }
        if (next - first > 1) {
            report_equal_hashes(context, assets,
                                {cables.begin() + static_cast<std::ptrdiff_t>(first),
                                 cables.begin() + static_cast<std::ptrdiff_t>(next)});
        }
    }
}

void report_lengths(Context& context, const Assets& assets) {
    constexpr double kShortest = 0.5; // of the drawn length, rules.md
    constexpr double kLongest = 2.0;
    const model::Layers& layers = context.result.layers;
    for (std::size_t i = 0; i < layers.cables.size(); ++i) {
        const model::Cable& cable = layers.cables[i];
        base::Metre drawn;
        for (const model::Part& part : layers.parts_of(cable)) {
            drawn += part.drawn;
        }
        if (!cable.laid || cable.part_count == 0) {
            continue;
        }
        const double ratio = *cable.laid / drawn;
        if (ratio >= kShortest && ratio <= kLongest) {
            continue;
        }
        base::Finding finding = finding_at(assets, i, Rule::length_differs,
                                           "Cable " + assets.id(i) + " is recorded as " +
                                               base::short_text((*cable.laid).value()) +
                                               " m but drawn " + base::short_text(drawn.value()) +
                                               " m long; the recorded length is used.",
                                           length_cure(ratio));
        finding.value = ratio;
        finding.limit = ratio < kShortest ? kShortest : kLongest;
        context.findings.add(std::move(finding));
    }
}

} // namespace loopwalk::input
