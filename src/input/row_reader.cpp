#include "row_reader.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include <cmath>

namespace loopwalk::input {

namespace {

/// Positions of the contract's fields in the layer, -1 where it has none.
std::vector<int> find_fields(const gis::Layer& layer, base::AssetLayer which) {
    std::vector<int> positions;
    for (const FieldRule& rule : contract_fields(which)) {
        const auto found = layer.find_field(rule.name);
        positions.push_back(found ? static_cast<int>(*found) : -1);
    }
    LW_ASSERT(positions.size() <= kMostFields);
    return positions;
}

std::vector<std::size_t> wanted(const std::vector<int>& fields) {
    std::vector<std::size_t> positions;
    for (const int field : fields)
        if (field >= 0)
            positions.push_back(static_cast<std::size_t>(field));
    return positions;
}

std::vector<bool> find_real(const gis::Layer& layer, const std::vector<int>& fields) {
    std::vector<bool> real;
    for (const int field : fields)
        real.push_back(field >= 0 && layer.fields()[static_cast<std::size_t>(field)].kind ==
                                         gis::FieldKind::real);
    return real;
}

/// "12" rather than "12.0": ids and labels that a spreadsheet turned into numbers.
std::string plain_text(double number) {
    constexpr double kExact = 9007199254740992.0; // 2^53: whole numbers up to here are exact
    if (number == std::trunc(number) && std::abs(number) <= kExact)
        return std::to_string(static_cast<std::int64_t>(number));
    return base::number_text(number);
}

} // namespace

bool admits(NumberRule rule, double value) noexcept {
    switch (rule) {
    case NumberRule::any:
        return true;
    case NumberRule::not_negative:
        return value >= 0.0;
    case NumberRule::above_zero:
        return value > 0.0;
    case NumberRule::power_factor:
        return value >= -1.0 && value <= 1.0 && value != 0.0;
    case NumberRule::one_or_three:
        return value == 1.0 || value == 3.0;
    }
    return false;
}

std::string_view rule_text(NumberRule rule) noexcept {
    switch (rule) {
    case NumberRule::any:
        break;
    case NumberRule::not_negative:
        return "a number of at least 0";
    case NumberRule::above_zero:
        return "a number above 0";
    case NumberRule::power_factor:
        return "a number from -1 to 1 other than 0";
    case NumberRule::one_or_three:
        return "1 or 3";
    }
    return "a number";
}

RowReader::RowReader(Context& context, base::AssetLayer layer, gis::Layer::WithGeometry geometry)
    : m_context(context), m_record(context.record(layer)),
      m_fields(find_fields(*context.source.layer(layer), layer)),
      m_is_real(find_real(*context.source.layer(layer), m_fields)),
      m_count(static_cast<std::size_t>(context.source.layer(layer)->count())),
      m_cursor(context.source.layer(layer)->read(wanted(m_fields), geometry)) {
    context.progress.stage("reading " + std::string(base::layer_name(layer)), m_count);
    m_record.fids.reserve(m_count);
}

bool RowReader::next() {
    m_feature = static_cast<std::uint32_t>(m_record.fids.size());
    if (m_feature % kProgressStep == 0)
        m_context.progress.step(m_feature);
    m_known = 0;
    if (!m_cursor.next())
        return false;
    m_record.fids.push_back(m_cursor.fid());
    return true;
}

void RowReader::add_issue(IssueKind kind, double number) {
    m_record.issues.push_back({m_feature, 0, kind, base::TextId(), number});
}

void Cell::notice() {
    if (raw_text())
        mark_known();
}

base::TextId Cell::text() {
    const auto recorded = raw_text();
    if (!recorded)
        return {};
    mark_known();
    return m_rows.m_context.text().add(*recorded);
}

std::optional<double> Cell::number(NumberRule rule) {
    const auto field = static_cast<std::size_t>(m_rows.m_fields[m_rule]);
    const gis::NumberCell cell = m_rows.m_cursor.number(field);
    if (cell.state == gis::NumberCell::State::null)
        return std::nullopt;
    if (cell.state == gis::NumberCell::State::text) {
        if (!base::trimmed(cell.text).empty())
            add_issue(IssueKind::no_number, m_rows.m_context.text().add(base::trimmed(cell.text)),
                      0.0);
        return std::nullopt;
    }
    if (!admits(rule, cell.number)) {
        add_issue(IssueKind::out_of_range, base::TextId(), cell.number);
        return std::nullopt;
    }
    mark_known();
    return cell.number;
}

model::CableTypeRecord Cell::cable_type() {
    const auto recorded = raw_text();
    if (!recorded)
        return {};
    const base::TextId text = m_rows.m_context.text().add(*recorded);
    const auto [known, is_new] = m_rows.m_cable_types.try_emplace(text);
    if (is_new)
        known->second = m_rows.m_context.catalogue.find_cable(m_rows.m_context.text().view(text))
                            .value_or(base::CableTypeId());
    if (!known->second.is_valid())
        return {base::CableTypeId(), text};
    mark_known();
    return {known->second, base::TextId()};
}

void Cell::fuse_type(model::FuseRecord& fuse) {
    using Kind = model::FuseRecord::Word;
    const auto recorded = raw_text();
    if (!recorded)
        return;
    if (base::same_word(*recorded, kNoFuseWord)) {
        fuse.word = Kind::none;
        mark_known();
        return;
    }
    const base::TextId text = m_rows.m_context.text().add(*recorded);
    const auto [known, is_new] = m_rows.m_fuse_types.try_emplace(text);
    if (is_new)
        known->second = m_rows.m_context.catalogue.find_fuse(m_rows.m_context.text().view(text))
                            .value_or(base::FuseTypeId());
    fuse.type = known->second;
    fuse.word = fuse.type.is_valid() ? Kind::known : Kind::not_found;
    fuse.text = fuse.type.is_valid() ? base::TextId() : text;
    if (fuse.type.is_valid())
        mark_known();
}

std::optional<std::string_view> Cell::raw_text() {
    const auto field = static_cast<std::size_t>(m_rows.m_fields[m_rule]);
    if (m_rows.m_is_real[m_rule]) {
        const gis::NumberCell cell = m_rows.m_cursor.number(field);
        if (cell.state == gis::NumberCell::State::number) {
            m_number_text = plain_text(cell.number);
            return m_number_text;
        }
    }
    const auto recorded = m_rows.m_cursor.text(field);
    if (!recorded || base::trimmed(*recorded).empty())
        return std::nullopt;
    return base::trimmed(*recorded);
}

bool Cell::base_same_word(std::string_view a, std::string_view b) noexcept {
    return base::same_word(a, b);
}

void Cell::add_issue(IssueKind kind, base::TextId text, double number) {
    m_rows.m_record.issues.push_back(
        {m_rows.m_feature, static_cast<std::uint8_t>(m_rule), kind, text, number});
}

void Cell::add_unknown_word(std::string_view word) {
    add_issue(IssueKind::unknown_word, m_rows.m_context.text().add(word), 0.0);
}

} // namespace loopwalk::input
