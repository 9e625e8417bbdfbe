#include "loopwalk/draft/profile.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"
#include "loopwalk/base/written_number.hpp"

#include "type_parts.hpp"
#include <algorithm>
#include <cmath>

namespace loopwalk::draft {

namespace {

constexpr double kShortestLine = 5.0; ///< m; below, the loops into the bases count for too much
constexpr double kEqual = 0.002;      // two roundings to 0.01 m of 10 m

} // namespace

void LengthRatios::add(double value, double drawn_m) {
    if (value <= 0.0 || drawn_m < kShortestLine) {
        return;
    }
    const double decades = std::log10(value / drawn_m) + kDecades / 2.0;
    const auto bin =
        std::clamp(decades * kBinsPerDecade, 0.0, static_cast<double>(m_bins.size()) - 1.0);
    ++m_bins[static_cast<std::size_t>(bin)];
    ++m_count;
    if (std::abs(value / drawn_m - 1.0) < kEqual) {
        ++m_equal;
    }
}

std::size_t LengthRatios::median_bin() const {
    LW_ASSERT(m_count > 0);
    std::uint64_t below = 0;
    std::size_t bin = 0;
    while (below + m_bins[bin] <= m_count / 2) {
        below += m_bins[bin++];
    }
    return bin;
}

double LengthRatios::median() const {
    const double decades = (static_cast<double>(median_bin()) + 0.5) / kBinsPerDecade;
    return std::pow(10.0, decades - kDecades / 2.0);
}

double LengthRatios::share_near_median() const {
    constexpr std::size_t kNear = 10; // bins: 10^0.1 = 1.26
    const std::size_t middle = median_bin();
    std::uint64_t near = 0;
    for (std::size_t bin = middle < kNear ? 0 : middle - kNear;
         bin < std::min(m_bins.size(), middle + kNear + 1); ++bin) {
        near += m_bins[bin];
    }
    return static_cast<double>(near) / static_cast<double>(m_count);
}

double LengthRatios::share_equal() const {
    LW_ASSERT(m_count > 0);
    return static_cast<double>(m_equal) / static_cast<double>(m_count);
}

std::string_view shape_name(Shape shape) noexcept {
    switch (shape) {
    case Shape::none:
        return "no geometry";
    case Shape::point:
        return "points";
    case Shape::line:
        return "lines";
    case Shape::other:
        break;
    }
    return "neither points nor lines";
}

Shape LayerProfile::shape() const noexcept {
    // Features without a geometry do not make a table of a layer of lines.
    const auto* const most = std::max_element(shapes.begin() + 1, shapes.end());
    return *most == 0 ? Shape::none : static_cast<Shape>(most - shapes.begin());
}

bool LayerProfile::may_be_degrees() const noexcept {
    return !is_geographic && box && input::DegreeCheck::is_within({box->min_x, box->min_y}) &&
           input::DegreeCheck::is_within({box->max_x, box->max_y});
}

bool LayerProfile::looks_like_degrees() const noexcept {
    return is_like_degrees || is_beside_degrees;
}

double LayerProfile::fill(const FieldProfile& field) const noexcept {
    return features == 0
               ? 0.0
               : static_cast<double>(field.values.total()) / static_cast<double>(features);
}

Profiler::Profiler(std::string dataset, std::string layer, std::string system,
                   const std::vector<gis::FieldInfo>& fields) {
    m_profile.dataset = std::move(dataset);
    m_profile.name = std::move(layer);
    m_profile.system = std::move(system);
    for (const gis::FieldInfo& field : fields) {
        m_profile.fields.push_back({field.name, field.kind, {}, {}});
    }
    m_profile.type_parts = find_type_parts(fields, Vocabulary::built_in());
    if (m_profile.type_parts) {
        m_parts.resize(m_profile.type_parts->fields.size());
    }
}

void Profiler::finish_feature() {
    if (m_parts.empty() || m_profile.features == 0) {
        return;
    }
    std::string joined;
    bool is_empty = true;
    for (std::string& part : m_parts) {
        if (&part != &m_parts.front()) {
            joined += TypeParts::kBetween;
        }
        is_empty = is_empty && part.empty();
        joined += part;
        part.clear();
    }
    if (!is_empty) {
        m_profile.type_parts->values.add(joined);
    }
}

LayerProfile Profiler::finish() {
    finish_feature();
    m_profile.is_like_degrees = !m_profile.is_geographic && m_degrees.degrees().has_value();
    return std::move(m_profile);
}

void Profiler::next(Shape shape, double drawn_m) {
    finish_feature();
    ++m_profile.features;
    ++m_profile.shapes[static_cast<std::size_t>(shape)];
    m_drawn_m = drawn_m;
}

void Profiler::place(const std::vector<base::Point2>& points) {
    for (const base::Point2 p : points) {
        base::Box& box =
            m_profile.box ? *m_profile.box : m_profile.box.emplace(base::Box{p.x, p.y, p.x, p.y});
        box = {std::min(box.min_x, p.x), std::min(box.min_y, p.y), std::max(box.max_x, p.x),
               std::max(box.max_y, p.y)};
    }
    gis::Geometry geometry;
    geometry.state = gis::GeometryState::usable;
    if (points.size() == 1) {
        geometry.points = points;
    } else {
        geometry.lines = {points};
    }
    m_degrees.add(geometry);
}

void Profiler::value(std::size_t field, std::string_view text) {
    LW_ASSERT(field < m_profile.fields.size());
    FieldProfile& profile = m_profile.fields[field];
    profile.values.add(text);
    for (std::size_t i = 0; i < m_parts.size(); ++i) {
        if (m_profile.type_parts->fields[i] == field) {
            m_parts[i] = base::trimmed(text);
        }
    }
    if (m_drawn_m <= 0.0) {
        return;
    }
    const base::WrittenNumber number = base::read_written_number(text);
    if (number.state != base::WrittenNumber::State::number || number.unit != nullptr) {
        return;
    }
    if (!profile.ratios) {
        profile.ratios.emplace();
    }
    profile.ratios->add(number.value, m_drawn_m);
}

} // namespace loopwalk::draft
