#include "loopwalk/compare/compare.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include "findings_file.hpp"
#include "result_file.hpp"
#include "shift.hpp"
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <tuple>

namespace loopwalk::compare {
namespace {

using base::AssetLayer;
using base::Point2;
using base::Polyline;

/// Worst first; what is not judged (not ours, none) has no rank.
std::optional<int> rank(const std::string& verdict) {
    constexpr std::array<std::string_view, 4> kWorstFirst{"not traced", "fails", "undecided",
                                                          "meets"};
    const auto* const at = std::ranges::find(kWorstFirst, verdict);
    return at == kWorstFirst.end() ? std::nullopt
                                   : std::optional(static_cast<int>(at - kWorstFirst.begin()));
}

bool is_worse(const std::string& before, const std::string& after) {
    const auto old_rank = rank(before);
    const auto new_rank = rank(after);
    return old_rank.has_value() && new_rank.has_value() && *new_rank < *old_rank;
}

/// To metres in a plane. Empty lines are left out.
class Plane {
  public:
    Plane(const gis::Crs& from, const gis::Crs& working) : m_transform(from, working) {}

    [[nodiscard]] Lines lines(const Asset& asset) const {
        Lines lines;
        for (Polyline line : asset.lines) {
            if (!line.empty() && m_transform.apply(line)) {
                lines.push_back(std::move(line));
            }
        }
        return lines;
    }

  private:
    gis::Transform m_transform;
};

class Comparer {
  public:
    Comparer(const Tolerances& tolerances, base::Progress& progress)
        : m_tolerances(tolerances), m_progress(progress) {}

    /// Findings are left out unless both have them.
    Comparison run(const std::vector<ResultLayer>& before, const std::vector<ResultLayer>& after,
                   const std::optional<ResultFindings>& old_findings,
                   const std::optional<ResultFindings>& new_findings) {
        m_result.crs = working(after);
        for (const AssetLayer kind :
             {AssetLayer::columns, AssetLayer::cables, AssetLayer::supplies}) {
            const ResultLayer nothing{kind, m_result.crs, {}};
            compare_layers(find(before, kind, nothing), find(after, kind, nothing));
        }
        if (old_findings.has_value() && new_findings.has_value()) {
            m_result.findings.emplace(old_findings->count, new_findings->count);
            compare_findings(*old_findings, *new_findings);
        }
        std::ranges::sort(m_result.changes, {}, [](const Change& c) {
            return std::tuple(!c.is_worse, c.kind, c.layer, std::string_view{c.asset_id},
                              std::string_view{c.before}, std::string_view{c.after},
                              std::string_view{c.why});
        });
        return std::move(m_result);
    }

  private:
    static const ResultLayer& find(const std::vector<ResultLayer>& layers, AssetLayer kind,
                                   const ResultLayer& otherwise) {
        const auto at = std::ranges::find(layers, kind, &ResultLayer::layer);
        return at == layers.end() ? otherwise : *at;
    }

    static gis::Crs working(const std::vector<ResultLayer>& after) {
        base::Box box{
            std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity(),
            -std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
        for (const auto& [id, asset] : after.front().assets) {
            for (const Polyline& line : asset.lines) {
                const base::Box one = base::box_of(line);
                box = {std::min(box.min_x, one.min_x), std::min(box.min_y, one.min_y),
                       std::max(box.max_x, one.max_x), std::max(box.max_y, one.max_y)};
            }
        }
        return box.min_x > box.max_x ? after.front().crs : gis::working_crs(after.front().crs, box);
    }

    void compare_layers(const ResultLayer& before, const ResultLayer& after) {
        m_layer = after.layer;
        m_progress.stage("compare " + std::string(base::layer_name(m_layer)), before.assets.size());
        m_done = 0;
        m_result.layers.push_back({m_layer, before.assets.size(), after.assets.size()});
        const Plane old_plane(before.crs, m_result.crs);
        const Plane new_plane(after.crs, m_result.crs);
        for (const auto& [id, asset] : before.assets) {
            m_progress.step(++m_done);
            const auto at = after.assets.find(id);
            if (at == after.assets.end()) {
                add(Kind::lost, id, old_plane.lines(asset)).is_worse = true;
            } else {
                compare_assets(id, asset, at->second, old_plane, new_plane);
            }
        }
        for (const auto& [id, asset] : after.assets) {
            if (!before.assets.contains(id)) {
                Change& change = add(Kind::added, id, new_plane.lines(asset));
                change.after = asset.verdict;
                change.why = asset.why;
            }
        }
    }

    void compare_assets(const std::string& id, const Asset& before, const Asset& after,
                        const Plane& old_plane, const Plane& new_plane) {
        const Lines lines = new_plane.lines(after);
        if (before.verdict != after.verdict) {
            Change& change = add(Kind::verdict_changed, id, lines);
            change.before = before.verdict;
            change.after = after.verdict;
            change.why = after.why;
            change.is_worse = is_worse(before.verdict, after.verdict);
        } else if (before.margin.has_value() && after.margin.has_value() &&
                   !is_alike(*before.margin, *after.margin)) {
            Change& change = add(Kind::margin_changed, id, lines);
            change.before = base::short_text(*before.margin);
            change.after = base::short_text(*after.margin);
            change.is_worse = *after.margin < *before.margin;
        }
        if (before.feed != after.feed) {
            Change& change = add(Kind::re_fed, id, lines);
            change.before = before.feed;
            change.after = after.feed;
        }
        const Lines old_lines = old_plane.lines(before);
        const double moved = lines.empty() || old_lines.empty()
                                 ? 0.0
                                 : shift(old_lines, lines, [this] { m_progress.step(m_done); });
        if (moved > m_tolerances.moved_m) {
            add(Kind::moved, id, lines).moved_m = moved;
        }
    }

    [[nodiscard]] bool is_alike(double a, double b) const {
        return std::abs(a - b) <= std::max(a, b) * m_tolerances.margin_pct / 100.0;
    }

    void compare_findings(const ResultFindings& before, const ResultFindings& after) {
        const gis::Transform old_plane(before.crs, m_result.crs);
        const gis::Transform new_plane(after.crs, m_result.crs);
        const std::vector<FindingRead> none;
        const auto of = [&none](const ResultFindings& all, const FindingKey& key) -> const auto& {
            const auto at = all.by_key.find(key);
            return at == all.by_key.end() ? none : at->second;
        };
        for (const auto& [key, findings] : before.by_key) {
            const std::vector<FindingRead>& now = of(after, key);
            for (std::size_t i = 0; i < findings.size(); ++i) {
                if (i >= now.size()) {
                    add(Kind::finding_gone, key, &findings[i], nullptr, old_plane);
                } else if (findings[i].severity != now[i].severity) {
                    add(Kind::finding_changed, key, &findings[i], &now[i], new_plane);
                }
            }
        }
        for (const auto& [key, findings] : after.by_key) {
            for (std::size_t i = of(before, key).size(); i < findings.size(); ++i) {
                add(Kind::finding_new, key, nullptr, &findings[i], new_plane);
            }
        }
    }

    /// Either may be null, not both; the place is that of the one that is in `plane`.
    void add(Kind kind, const FindingKey& key, const FindingRead* before, const FindingRead* after,
             const gis::Transform& plane) {
        Change change;
        change.kind = kind;
        change.layer = key.layer;
        change.asset_id = key.asset_id;
        const auto told = [&](const FindingRead* finding) {
            return finding == nullptr
                       ? std::string()
                       : std::string(base::severity_name(finding->severity)) + " " + key.rule;
        };
        change.before = told(before);
        change.after = told(after);
        const FindingRead& shown = after != nullptr ? *after : *before;
        change.why = shown.message;
        change.is_worse = after != nullptr && after->severity != base::Severity::note &&
                          (before == nullptr || after->severity < before->severity);
        if (Polyline place; shown.place.has_value()) {
            place.push_back(*shown.place);
            change.place = plane.apply(place) ? std::optional(place.front()) : std::nullopt;
        }
        m_result.changes.push_back(std::move(change));
    }

    Change& add(Kind kind, const std::string& id, const Lines& lines) {
        Change change;
        change.kind = kind;
        change.layer = m_layer;
        change.asset_id = id;
        if (!lines.empty()) {
            change.place =
                base::point_at(lines.front(), base::length(lines.front()) / 2.0); // its middle
        }
        return m_result.changes.emplace_back(std::move(change));
    }

    Tolerances m_tolerances;
    base::Progress& m_progress;
    std::uint64_t m_done = 0; ///< assets of the layer
    AssetLayer m_layer{};
    Comparison m_result;
};

} // namespace

std::string_view kind_name(Kind kind) noexcept {
    switch (kind) {
    case Kind::lost:
        return "lost";
    case Kind::verdict_changed:
        return "verdict changed";
    case Kind::finding_new:
        return "new finding";
    case Kind::finding_changed:
        return "finding changed";
    case Kind::finding_gone:
        return "finding gone";
    case Kind::margin_changed:
        return "margin changed";
    case Kind::re_fed:
        return "re-fed";
    case Kind::moved:
        return "moved";
    case Kind::added:
        return "added";
    }
    return "";
}

std::size_t Comparison::count(AssetLayer layer, Kind kind) const {
    return static_cast<std::size_t>(std::ranges::count_if(
        changes, [&](const Change& c) { return c.layer == layer && c.kind == kind; }));
}

std::size_t Comparison::count(Kind kind) const {
    return static_cast<std::size_t>(
        std::ranges::count_if(changes, [&](const Change& c) { return c.kind == kind; }));
}

Comparison compare(gis::Dataset& before, gis::Dataset& after, const Tolerances& tolerances,
                   base::Progress& progress) {
    const std::vector<ResultLayer> old_layers = read_result(before, progress);
    const std::vector<ResultLayer> new_layers = read_result(after, progress);
    const std::optional<ResultFindings> old_findings = read_findings(before, progress);
    const std::optional<ResultFindings> new_findings = read_findings(after, progress);
    return Comparer(tolerances, progress).run(old_layers, new_layers, old_findings, new_findings);
}

} // namespace loopwalk::compare
