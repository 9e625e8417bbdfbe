// One field of a feature: its number, text or word.
#include "loopwalk/base/text.hpp"

#include "row_reader.hpp"
#include <cmath>

namespace loopwalk::input {

namespace {

/// "12" rather than "12.0": ids and labels that a spreadsheet turned into numbers.
std::string plain_text(double number) {
    constexpr double kExact = 9007199254740992.0; // 2^53: whole numbers up to here are exact
    if (number == std::trunc(number) && std::abs(number) <= kExact) {
        return std::to_string(static_cast<std::int64_t>(number));
    }
    return base::number_text(number);
}

} // namespace

void Cell::notice() {
    if (raw_text()) {
        mark_known();
    }
}

namespace {

std::int32_t day_of(std::int32_t year, std::int32_t month, std::int32_t day) {
    const bool is_day =
        year >= 1900 && year < 2200 && month >= 1 && month <= 12 && day >= 1 && day <= 31;
    return is_day ? year * 10000 + month * 100 + day : 0;
}

/// The first whole numbers of a text, up to three; a fourth character between them ends it.
std::int32_t date_in(std::string_view text) {
    constexpr std::int32_t kYearFrom = 1000; // a number with four digits is a year
    std::array<std::int32_t, 3> parts{};
    std::size_t part = 0;
    bool has_digit = false;
    for (const char c : text) {
        if (c >= '0' && c <= '9') {
            has_digit = true;
            if (parts[part] > 99999999 / 10) {
                return 0;
            }
            parts[part] = parts[part] * 10 + (c - '0');
        } else if (has_digit && part < 2 && (c == '-' || c == '/' || c == '.')) {
            ++part;
            has_digit = false;
        } else {
            break;
        }
    }
    if (part == 0) {
        return day_of(parts[0] / 10000, parts[0] / 100 % 100, parts[0] % 100);
    }
    if (parts[0] >= kYearFrom) {
        return day_of(parts[0], parts[1], parts[2]);
    }
    // Day before month, as in Great Britain, unless that cannot be.
    return parts[1] > 12 ? day_of(parts[2], parts[0], parts[1])
                         : day_of(parts[2], parts[1], parts[0]);
}

} // namespace

std::int32_t Cell::date() {
    const auto recorded = raw_text();
    if (!recorded) {
        return 0;
    }
    mark_known();
    return date_in(*recorded);
}

base::TextId Cell::text() {
    const auto recorded = raw_text();
    if (!recorded) {
        return {};
    }
    mark_known();
    return m_rows.m_context.text().add(*recorded);
}

std::optional<double> Cell::number(NumberRule rule) {
    std::optional<double> value;
    if (!source().is_text()) {
        value = stored_number();
    } else if (const auto text = raw_text()) {
        value = number_in(*text);
    }
    if (!value) {
        return std::nullopt;
    }
    if (!admits(rule, *value)) {
        add_issue(IssueKind::out_of_range, base::TextId(), *value);
        return std::nullopt;
    }
    mark_known();
    return value;
}

bool Cell::may_be_null(const gis::NumberCell& cell) {
    if (m_rows.m_has_null_numbers || source().is_text() || cell.is_text ||
        cell.state != gis::NumberCell::State::number || cell.number != 0.0) {
        return false;
    }
    ++m_rows.m_zeros[m_rule];
    return true;
}

std::optional<double> Cell::stored_number() {
    const gis::NumberCell cell = m_rows.m_cursor.number(source().positions.front());
    if (may_be_null(cell)) {
        return std::nullopt;
    }
    switch (cell.state) {
    case gis::NumberCell::State::null:
        return std::nullopt;
    case gis::NumberCell::State::number:
        if (cell.is_text && m_rows.m_decimal == base::DecimalMark::comma) {
            return number_in(cell.text); // "1.200"
        }
        return source().stored == nullptr
                   ? cell.number
                   : base::converted(cell.number, *source().stored, *source().native);
    case gis::NumberCell::State::text:
        break;
    }
    const std::string_view text = base::trimmed(cell.text);
    return text.empty() ? std::nullopt : number_in(text);
}

std::optional<double> Cell::number_in(std::string_view text) {
    using State = base::WrittenNumber::State;
    const base::WrittenNumber written = base::read_written_number(
        text, m_is_translated ? base::DecimalMark::point : m_rows.m_decimal);
    const bool has_other_unit =
        written.unit != nullptr &&
        (source().native == nullptr || written.unit->dimension != source().native->dimension);
    if (written.state != State::number || has_other_unit) {
        add_issue(has_other_unit                      ? IssueKind::other_unit
                  : written.state == State::ambiguous ? IssueKind::ambiguous_number
                                                      : IssueKind::no_number,
                  m_rows.m_context.text().add(text), 0.0);
        return std::nullopt;
    }
    const base::Unit* unit = written.unit != nullptr ? written.unit
                             : m_is_translated       ? source().native
                                                     : source().stored;
    const double value =
        unit == nullptr ? written.value : base::converted(written.value, *unit, *source().native);
    if (!m_is_translated) {
        note(written, value);
    }
    return value;
}

/// What the job itself says is not worth a remark.
void Cell::note(const base::WrittenNumber& written, double value) {
    if (written.unit != nullptr) {
        add_issue(IssueKind::with_unit, base::TextId(), value);
    }
    if (written.has_comma && m_rows.m_decimal != base::DecimalMark::comma) {
        add_issue(IssueKind::decimal_comma, base::TextId(), value);
    }
    if (written.has_groups && m_rows.m_decimal == base::DecimalMark::unstated) {
        add_issue(IssueKind::grouped, base::TextId(), value);
    }
}

model::CableTypeRecord Cell::cable_type() {
    const auto recorded = raw_text();
    if (!recorded) {
        return {};
    }
    const base::TextId text = m_rows.m_context.text().add(*recorded);
    const auto [known, is_new] = m_rows.m_cable_types.try_emplace(text);
    if (is_new) {
        known->second = m_rows.m_context.catalogue.find_cable(m_rows.m_context.text().view(text))
                            .value_or(base::CableTypeId());
    }
    if (!known->second.is_valid()) {
        return {base::CableTypeId(), text};
    }
    mark_known();
    return {known->second, base::TextId()};
}

void Cell::fuse_type(model::FuseRecord& fuse) {
    using Kind = model::FuseRecord::Word;
    const auto recorded = raw_text();
    if (!recorded) {
        return;
    }
    if (base::same_word(*recorded, kNoFuseWord)) {
        fuse.word = Kind::none;
        mark_known();
        return;
    }
    const base::TextId text = m_rows.m_context.text().add(*recorded);
    const auto [known, is_new] = m_rows.m_fuse_types.try_emplace(text);
    if (is_new) {
        known->second = m_rows.m_context.catalogue.find_fuse(m_rows.m_context.text().view(text))
                            .value_or(base::FuseTypeId());
    }
    fuse.type = known->second;
    if (fuse.type.is_valid() &&
        m_rows.m_context.catalogue.fuse(fuse.type).kind == catalogue::FuseKind::link) {
        fuse.type = base::FuseTypeId();
        fuse.word = Kind::none;
        mark_known();
        return;
    }
    fuse.word = fuse.type.is_valid() ? Kind::known : Kind::not_found;
    fuse.text = fuse.type.is_valid() ? base::TextId() : text;
    if (fuse.type.is_valid()) {
        mark_known();
    }
}

std::optional<std::string_view> Cell::raw_text() {
    const auto stored = stored_text();
    if (!stored || source().values == nullptr) {
        return stored;
    }
    const config::Translation* translation = m_rows.translation(m_rule, *stored);
    if (translation == nullptr) {
        return stored;
    }
    m_is_translated = true;
    const std::string_view meaning = base::trimmed(translation->meaning);
    return meaning.empty() ? std::nullopt : std::optional(meaning);
}

std::optional<std::string_view> Cell::stored_text() {
    if (source().is_feature_id) {
        m_text = std::to_string(m_rows.fid());
        return m_text;
    }
    return source().positions.size() == 1 ? stored_text(source().positions.front()) : joined_text();
}

std::optional<std::string_view> Cell::stored_text(std::size_t position) {
    if (source().is_real || source().positions.size() > 1) {
        const gis::NumberCell cell = m_rows.m_cursor.number(position);
        if (may_be_null(cell)) {
            return std::nullopt;
        }
        if (cell.state == gis::NumberCell::State::number && !cell.is_text) {
            m_text = plain_text(cell.number);
            return m_text;
        }
    }
    const auto recorded = m_rows.m_cursor.text(position);
    if (!recorded || base::trimmed(*recorded).empty()) {
        return std::nullopt;
    }
    return base::trimmed(*recorded);
}

std::optional<std::string_view> Cell::joined_text() {
    std::string joined;
    for (const std::size_t position : source().positions) {
        if (const auto part = stored_text(position)) {
            joined += (joined.empty() ? "" : m_rows.m_source.joined_by) + std::string(*part);
        }
    }
    m_text = std::move(joined);
    return m_text.empty() ? std::nullopt : std::optional<std::string_view>(m_text);
}

bool Cell::base_same_word(std::string_view a, std::string_view b) noexcept {
    return base::same_word(a, b);
}

void Cell::add_issue(IssueKind kind, base::TextId text, double number) {
    m_rows.m_record.issues.push_back(
        {m_rows.m_feature, static_cast<std::uint8_t>(m_rule), kind, text, base::TextId(), number});
}

void Cell::add_unknown_word(std::string_view word) {
    add_issue(IssueKind::unknown_word, m_rows.m_context.text().add(word), 0.0);
}

} // namespace loopwalk::input
