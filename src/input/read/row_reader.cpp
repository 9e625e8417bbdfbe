#include "row_reader.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include "coordinate_systems.hpp"
#include <limits>

namespace loopwalk::input {

namespace {

std::vector<std::size_t> wanted(const std::vector<FieldSource>& fields) {
    std::vector<std::size_t> positions;
    for (const FieldSource& field : fields) {
        positions.insert(positions.end(), field.positions.begin(), field.positions.end());
    }
    return positions;
}

/// A feature id with the offset of its part. Throws InputError if there is no such number.
std::int64_t with_offset(std::int64_t fid, std::int64_t offset, const gis::Layer& layer) {
    if (offset > 0 && (fid < 0 || fid > std::numeric_limits<std::int64_t>::max() - offset)) {
        throw base::InputError("dataset " + layer.dataset_name() + ", layer " + layer.name() +
                               ": the feature number " + std::to_string(fid) +
                               " cannot stand beside those of another layer of the same list. "
                               "Export it anew, or name it first");
    }
    return fid + offset;
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

RowReader::RowReader(Context& context, base::AssetLayer layer, std::size_t part,
                     gis::Layer::WithGeometry geometry)
    : m_context(context), m_record(context.record(layer)), m_layer(layer), m_part(part),
      m_source(*context.job.data.sources(layer)[part]), m_from(*context.source.parts(layer)[part]),
      m_decimal(m_source.decimal), m_fields(find_field_sources(m_from, layer, m_source)),
      m_words(m_fields.size()), m_zeros(m_fields.size(), 0),
      m_has_null_numbers(m_from.has_null_numbers()),
      m_count(static_cast<std::size_t>(m_from.count())),
      m_cursor(m_from.read(wanted(m_fields), geometry)) {
    LW_ASSERT(m_fields.size() <= kMostFields);
    context.progress.stage("reading " + std::string(base::layer_name(layer)), m_count);
    m_record.fids.reserve(m_record.fids.size() + room());
    begin_part();
}

/// Feature ids of a further part begin at a power of ten above all others: 5 becomes 1005.
void RowReader::begin_part() {
    constexpr std::int64_t kLargest = 1'000'000'000'000'000'000;
    if (!m_record.parts.empty()) {
        const auto largest = std::max_element(m_record.fids.begin(), m_record.fids.end());
        const std::int64_t taken = largest == m_record.fids.end() ? 0 : *largest;
        m_offset = std::max<std::int64_t>(10, m_record.parts.back().offset);
        while (m_offset <= taken && m_offset < kLargest) {
            m_offset *= 10;
        }
    }
    m_record.parts.push_back(
        {m_from.dataset_name(), m_from.name(), m_record.fids.size(), m_offset});
}

bool RowReader::next() {
    m_feature = static_cast<std::uint32_t>(m_record.fids.size());
    if (m_feature % kProgressStep == 0) {
        m_context.progress.step(m_feature);
    }
    m_known = 0;
    if (!m_cursor.next()) {
        check_numbers();
        check_degrees();
        report_unused_translations();
        report_zeros();
        return false;
    }
    const std::int64_t fid = with_offset(m_cursor.fid(), m_offset, m_from);
    m_ascending = m_ascending && (m_features == 0 || fid > m_last);
    m_last = fid;
    ++m_features;
    m_record.fids.push_back(fid);
    return true;
}

void RowReader::check_numbers() const {
    const gis::Layer& layer = m_from;
    const std::string place = "dataset " + layer.dataset_name() + ", layer " + layer.name() + ": ";
    if (m_features != m_count && layer.is_count_exact()) {
        throw base::InputError(place + "it states " + std::to_string(m_count) + " features but " +
                               std::to_string(m_features) +
                               " can be read. It was changed meanwhile or is damaged: try again, "
                               "restore it or export it anew");
    }
    if (m_ascending) {
        return;
    }
    std::vector<std::int64_t> fids = m_record.fids;
    std::sort(fids.begin(), fids.end());
    const auto twice = std::adjacent_find(fids.begin(), fids.end());
    if (twice != fids.end()) {
        throw base::InputError(place + "two features have the number " + std::to_string(*twice) +
                               ". A view needs a key of its own; a table is damaged: restore it "
                               "or export it anew");
    }
}

void RowReader::check_degrees() const {
    const auto box = m_degrees.degrees();
    if (!box || system_of(m_context, m_from).is_geographic()) {
        return;
    }
    const auto corner = [](double x, double y) {
        return base::short_text(x, 6) + ", " + base::short_text(y, 6);
    };
    const gis::Layer& layer = m_from;
    const std::string name(base::layer_name(m_layer));
    const bool is_named = !m_source.crs.empty();
    throw base::InputError(
        "dataset " + layer.dataset_name() + ", layer " + layer.name() +
        ": the coordinates look like degrees (" + corner(box->min_x, box->min_y) + " to " +
        corner(box->max_x, box->max_y) + ", and what is drawn is shorter than " +
        base::number_text(DegreeCheck::kShortest) + "), but " +
        (is_named ? "the job names " : "the layer states ") +
        (layer.crs().is_unknown() ? std::string("no coordinate system") : layer.crs().text()) +
        ", so they would be taken for metres and every length would be far too short. Name the "
        "system they are really in, in the job file: [" +
        name + "] crs = \"EPSG:4326\"");
}

void RowReader::forget() {
    m_record.fids.pop_back();
    while (!m_record.issues.empty() && m_record.issues.back().feature == m_feature) {
        m_record.issues.pop_back();
    }
}

void RowReader::add_issue(IssueKind kind, double number) {
    m_record.issues.push_back({m_feature, 0, kind, base::TextId(), base::TextId(), number});
}

void RowReader::add_issue(IssueKind kind, std::string_view text) {
    const base::TextId id = text.empty() ? base::TextId() : m_context.text().add(std::string(text));
    m_record.issues.push_back({m_feature, 0, kind, id, base::TextId(), 0.0});
}

const config::Translation* RowReader::translation(std::size_t rule, std::string_view text) {
    Words& words = m_words[rule];
    const auto [known, is_new] = words.known.try_emplace(std::string(text), nullptr);
    if (is_new) {
        for (const config::Translation& entry : m_fields[rule].values->translations) {
            if (!base::matches_pattern(entry.pattern, text)) {
                continue;
            }
            known->second = &entry;
            words.used.insert(&entry);
            break;
        }
    }
    return known->second;
}

void RowReader::report_zeros() {
    for (std::size_t i = 0; i < m_fields.size(); ++i) {
        if (m_zeros[i] == 0) {
            continue;
        }
        const std::string& field = contract_fields(m_layer)[i].name;
        std::string text = "The format of layer " + std::string(base::layer_name(m_layer)) +
                           " writes 0 for a number that is not recorded: ";
        text += std::to_string(m_zeros[i]) + " zeros in " + field + " count as not recorded. ";
        text += "Where they are meant, the job says so: values = { " + field;
        text += R"( = { "0" = 0 } }.)";
        m_context.result.assumptions.push_back(std::move(text));
    }
}

void RowReader::report_unused_translations() {
    for (std::size_t i = 0; i < m_fields.size(); ++i) {
        if (m_fields[i].values == nullptr) {
            continue;
        }
        for (const config::Translation& entry : m_fields[i].values->translations) {
            bool& is_used = m_record.translations[{i, entry.pattern}];
            is_used = is_used || m_words[i].used.contains(&entry);
        }
    }
    if (m_record.parts.size() < m_context.source.parts(m_layer).size()) {
        return;
    }
    for (const auto& [entry, is_used] : m_record.translations) {
        if (!is_used) {
            m_context.result.assumptions.push_back(
                "The job translates '" + entry.second + "' in " +
                contract_fields(m_layer)[entry.first].name + " of layer " +
                std::string(base::layer_name(m_layer)) + ", which no record needs.");
        }
    }
}

} // namespace loopwalk::input
