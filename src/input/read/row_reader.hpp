// One feature after the other, its fields under their native names. What cannot be used becomes an
// Issue and counts as not recorded.
#pragma once

#include "loopwalk/input/allowed_values.hpp"
#include "loopwalk/input/degrees.hpp"

#include "context.hpp"
#include "open/field_sources.hpp"
#include "words.hpp"
#include <algorithm>
#include <string>
#include <unordered_map>
#include <unordered_set>

namespace loopwalk::input {

/// Progress is told once in so many features.
inline constexpr std::uint64_t kProgressStep = 4096;

class RowReader {
  public:
    /// Reads one of Source::parts().
    RowReader(Context& context, base::AssetLayer layer, std::size_t part,
              gis::Layer::WithGeometry geometry);

    [[nodiscard]] bool next();
    /// Of the current feature, with the offset of the part.
    [[nodiscard]] std::int64_t fid() const noexcept { return m_last; }
    /// Of the current feature. Call it once for each.
    [[nodiscard]] const gis::Geometry& geometry() {
        const gis::Geometry& geometry = m_cursor.geometry();
        m_degrees.add(geometry);
        return geometry;
    }
    /// For how many features to reserve room: the layer may state any number.
    [[nodiscard]] std::size_t room() const noexcept { return std::min(m_count, kMostRoom); }
    /// Counts which fields of the feature are known.
    void count_known(base::TextId area) { m_record.known.add(area, m_known); }
    void add_issue(IssueKind kind, double number = 0.0);
    void add_issue(IssueKind kind, std::string_view text);
    /// The current feature is not input after all.
    void forget();
    /// Whether the layer has field i of contract_fields().
    [[nodiscard]] bool has_field(std::size_t rule) const noexcept {
        return m_fields[rule].is_there();
    }
    /// Sentences about translations that no record of any part needed.
    void report_unused_translations();
    /// Sentences about zeros that count as not recorded.
    void report_zeros();

  private:
    friend class Cell;
    static constexpr std::size_t kMostRoom = std::size_t{1} << 21U;
    /// As many features as the layer states, each under a number of its own. Throws InputError.
    void check_numbers() const;
    /// Throws InputError if the coordinates look like degrees but are taken for metres.
    void check_degrees() const;
    struct Found {
        base::CableTypeId cable;
        base::FuseTypeId fuse;
    };
    /// What the job makes of the words of a field, each looked up once.
    struct Words {
        std::unordered_map<std::string, const config::Translation*> known; ///< null: as it is
        std::unordered_set<const config::Translation*> used;
    };
    [[nodiscard]] const config::Translation* translation(std::size_t rule, std::string_view text);

    /// Begins a part of the layer's record.
    void begin_part();

    Context& m_context;
    LayerRecord& m_record;
    base::AssetLayer m_layer;
    std::size_t m_part;
    const config::LayerSource& m_source;
    gis::Layer& m_from;
    base::DecimalMark m_decimal;
    std::vector<FieldSource> m_fields; ///< by rule
    std::vector<Words> m_words;        ///< by rule
    std::vector<std::size_t> m_zeros;  ///< by rule: zeros that may stand for null
    bool m_has_null_numbers = true;
    std::size_t m_count = 0;    ///< as the layer states
    std::size_t m_features = 0; ///< read so far, also those that were forgotten
    bool m_ascending = true;    ///< their numbers, so far
    std::int64_t m_offset = 0;  ///< of the part
    std::int64_t m_last = 0;
    gis::LayerCursor m_cursor;
    DegreeCheck m_degrees;
    std::uint32_t m_feature = 0;
    std::uint32_t m_known = 0;
    std::unordered_map<base::TextId, base::CableTypeId> m_cable_types; ///< words looked up so far
    std::unordered_map<base::TextId, base::FuseTypeId> m_fuse_types;
};

/// One field of the current feature.
class Cell {
  public:
    Cell(RowReader& rows, std::size_t rule) : m_rows(rows), m_rule(rule) {}

    /// Marks the field as known if it holds anything; for fields that only travel to the output.
    void notice();
    /// A day as year * 10000 + month * 100 + day, written 2024-05-31, 2024/5/31,
    /// 31/05/2024, 31.5.2024 or 20240531, a time of day behind it ignored; 0 if it is none of
    /// these.
    [[nodiscard]] std::int32_t date();
    /// The text without outer blanks; none if null or blank. Whole numbers are written without a
    /// decimal point, whatever the type of the field.
    [[nodiscard]] base::TextId text();
    [[nodiscard]] std::optional<double> number(NumberRule rule);
    [[nodiscard]] model::CableTypeRecord cable_type();
    /// Type and word of a fuse; the rating is a field of its own.
    void fuse_type(model::FuseRecord& fuse);
    /// The meaning of a coded word; none if null. `unexplained`: of what is not one of `words`.
    template <class E, std::size_t N>
    [[nodiscard]] std::optional<E> word(const std::array<Word<E>, N>& words,
                                        std::optional<E> unexplained = std::nullopt) {
        const auto recorded = raw_text();
        if (!recorded) {
            return std::nullopt;
        }
        for (const Word<E>& word : words) {
            if (!base_same_word(word.text, *recorded)) {
                continue;
            }
            if (word.text != kUnknownWord) {
                mark_known();
            }
            return word.value;
        }
        add_unknown_word(*recorded);
        return unexplained;
    }

  private:
    /// What is recorded, as the job translates it, without outer blanks; none if null or blank.
    [[nodiscard]] std::optional<std::string_view> raw_text();
    [[nodiscard]] std::optional<std::string_view> stored_text();
    [[nodiscard]] std::optional<std::string_view> stored_text(std::size_t position);
    [[nodiscard]] std::optional<std::string_view> joined_text();
    [[nodiscard]] std::optional<double> number_in(std::string_view text);
    [[nodiscard]] std::optional<double> stored_number();
    /// A zero of a format that has no null: what it stands for is not known.
    [[nodiscard]] bool may_be_null(const gis::NumberCell& cell);
    void note(const base::WrittenNumber& written, double value);
    [[nodiscard]] const FieldSource& source() const { return m_rows.m_fields[m_rule]; }
    [[nodiscard]] static bool base_same_word(std::string_view a, std::string_view b) noexcept;
    void mark_known() noexcept { m_rows.m_known |= 1U << m_rule; }
    void add_issue(IssueKind kind, base::TextId text, double number);
    void add_unknown_word(std::string_view word);

    RowReader& m_rows;
    std::size_t m_rule; ///< position in contract_fields()
    bool m_is_translated = false;
    std::string m_text; ///< what the views of stored_text() look at
};

} // namespace loopwalk::input
