// Fields of an output layer as a table: each name beside the function that fills it.
#pragma once

#include "loopwalk/base/quantity.hpp"
#include "loopwalk/checks/standing.hpp"
#include "loopwalk/gis/output.hpp"

#include <optional>
#include <span>
#include <string_view>
#include <vector>

namespace loopwalk::output {

inline constexpr auto kText = gis::FieldKind::text;
inline constexpr auto kReal = gis::FieldKind::real;
inline constexpr auto kInteger = gis::FieldKind::integer;

/// One field of one row. What is absent or empty stays null.
class Cell {
  public:
    Cell(gis::Row& row, std::size_t field) : m_row(row), m_field(field) {}

    void set(double value) { m_row.set(m_field, value); }
    void set(std::int64_t value) { m_row.set(m_field, value); }
    void set(std::string_view text) {
        if (!text.empty()) {
            m_row.set(m_field, text);
        }
    }
    template <class Unit>
    void set(base::Quantity<Unit> value) {
        set(value.value());
    }
    template <class Q>
    void set(base::Maybe<Q> value) {
        if (value.has_value()) {
            set(*value);
        }
    }
    template <class T>
    void set(const std::optional<T>& value) {
        if (value.has_value()) {
            set(*value);
        }
    }

  private:
    gis::Row& m_row;
    std::size_t m_field;
};

/// A field of a layer whose rows are made from a `View`.
template <class View>
struct Field {
    std::string_view name;
    gis::FieldKind kind{};
    void (*fill)(Cell, const View&);
};

/// The worst finding that concerns an asset, and how many do. `View` has a `standing`.
template <class View>
constexpr Field<View> worst_field() {
    return {"lw_worst", kText, [](Cell c, const View& v) {
                if (v.standing.findings > 0) {
                    c.set(base::severity_name(v.standing.severity));
                }
            }};
}
template <class View>
constexpr Field<View> worst_rule_field() {
    return {"lw_worst_rule", kText, [](Cell c, const View& v) {
                if (v.standing.findings > 0) {
                    c.set(base::rule_name(v.standing.rule));
                }
            }};
}
template <class View>
constexpr Field<View> findings_field() {
    return {"lw_findings", kInteger,
            [](Cell c, const View& v) { c.set(std::int64_t{v.standing.findings}); }};
}

/// A reason with the worst finding before it: nobody is to read "predicted to meet" of an asset
/// with a danger or a failure that its verdict does not speak of.
[[nodiscard]] std::string with_worst(const checks::AssetStanding& standing,
                                     protection::Verdict verdict, const std::string& why);

template <class View>
[[nodiscard]] std::vector<gis::OutputField> declared(std::span<const Field<View>> fields) {
    std::vector<gis::OutputField> list;
    for (const Field<View>& field : fields) {
        list.push_back({std::string(field.name), field.kind});
    }
    return list;
}

template <class View>
void fill(gis::Row& row, std::span<const Field<View>> fields, const View& view) {
    for (std::size_t i = 0; i < fields.size(); ++i) {
        fields[i].fill(Cell(row, i), view);
    }
}

} // namespace loopwalk::output
