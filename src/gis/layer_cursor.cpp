#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include "geometry_reading.hpp"
#include "layer_cursor_state.hpp"
#include <cmath>

namespace loopwalk::gis {

namespace {

NumberCell number_in_text(const char* text) {
    NumberCell cell;
    if (base::trimmed(text).empty()) {
        return cell; // CSV and the like cannot say null in another way
    }
    const std::optional<double> number = base::parse_number(text);
    cell.state = number ? NumberCell::State::number : NumberCell::State::text;
    cell.number = number.value_or(0.0);
    cell.is_text = true;
    cell.text = text;
    return cell;
}

NumberCell number_cell(double number) {
    NumberCell cell;
    cell.state = NumberCell::State::number;
    cell.number = number;
    return cell;
}

bool is_in(base::Point2 p, const base::Box& box) {
    return p.x >= box.min_x && p.x <= box.max_x && p.y >= box.min_y && p.y <= box.max_y;
}

} // namespace

LayerCursor::LayerCursor(std::unique_ptr<State> state) : m_state(std::move(state)) {}
LayerCursor::LayerCursor(LayerCursor&&) noexcept = default;
LayerCursor& LayerCursor::operator=(LayerCursor&&) noexcept = default;
LayerCursor::~LayerCursor() = default;

bool LayerCursor::next() {
    State& state = *m_state;
    while (state.stream.next() != nullptr) {
        if (!state.place_fields) {
            return true;
        }
        state.geometry = place_in(state.stream.feature(), *state.place_fields);
        if (!state.box) {
            return true;
        }
        if (state.geometry.state == GeometryState::usable &&
            is_in(state.geometry.points.front(), *state.box)) {
            return true;
        }
    }
    return false;
}

std::int64_t LayerCursor::fid() const noexcept {
    return m_state->stream.feature().GetFID();
}

std::optional<std::string_view> LayerCursor::text(std::size_t field) {
    LW_ASSERT(field < m_state->field_count);
    const OGRFeature& feature = m_state->stream.feature();
    const int index = static_cast<int>(field);
    if (!feature.IsFieldSetAndNotNull(index)) {
        return std::nullopt;
    }
    return std::string_view(feature.GetFieldAsString(index));
}

NumberCell LayerCursor::number(std::size_t field) {
    LW_ASSERT(field < m_state->field_count);
    const OGRFeature& feature = m_state->stream.feature();
    const int index = static_cast<int>(field);
    if (!feature.IsFieldSetAndNotNull(index)) {
        return {};
    }
    const OGRFieldType type = feature.GetFieldDefnRef(index)->GetType();
    if (type == OFTInteger || type == OFTInteger64) {
        return number_cell(static_cast<double>(feature.GetFieldAsInteger64(index)));
    }
    if (type == OFTReal) {
        const double value = feature.GetFieldAsDouble(index);
        if (std::isfinite(value)) {
            return number_cell(value);
        }
    }
    return number_in_text(feature.GetFieldAsString(index));
}

const Geometry& LayerCursor::geometry() {
    if (m_state->place_fields) {
        return m_state->geometry;
    }
    read_geometry(m_state->stream.feature().GetGeometryRef(), m_state->geometry);
    return m_state->geometry;
}

} // namespace loopwalk::gis
