// The fields of a layer as a table: native name, where the value goes in the record, and what it
// may be. One such table for each layer serves reading, the order of records and the check of
// `missing` and `values` in a job.
#pragma once

#include "comparison.hpp"
#include "row_reader.hpp"
#include <span>

namespace loopwalk::input {

template <class T>
struct FieldReader {
    std::string_view name;
    void (*read)(Cell&, T&);
    void (*compare)(Comparison&, const T&, const T&);
    std::vector<std::string_view> words{}; ///< of a coded field; empty: any text
    NumberRule rule = NumberRule::any;
    Holds holds = Holds::plain;
};

template <class>
struct MemberOf;
template <class T, class V>
struct MemberOf<V T::*> {
    using Record = T;
    using Value = V;
};
template <auto Member>
using RecordOf = typename MemberOf<decltype(Member)>::Record;
template <auto Member>
using ValueOf = typename MemberOf<decltype(Member)>::Value;

template <auto Member>
void by_member(Comparison& order, const RecordOf<Member>& a, const RecordOf<Member>& b) {
    order.by(a.*Member, b.*Member);
}
template <class T>
void by_nothing(Comparison&, const T&, const T&) {}

/// An id or a label.
template <auto Member>
FieldReader<RecordOf<Member>> label(std::string_view name) {
    return {name, [](Cell& cell, RecordOf<Member>& record) { record.*Member = cell.text(); },
            by_member<Member>};
}

/// A field that the network does not need: only its presence counts.
template <class T>
FieldReader<T> noticed(std::string_view name) {
    return {name, [](Cell& cell, T&) { cell.notice(); }, by_nothing<T>};
}

/// A day; what is no day is left as not recorded.
template <auto Member>
FieldReader<RecordOf<Member>> date(std::string_view name) {
    return {name, [](Cell& cell, RecordOf<Member>& record) { record.*Member = cell.date(); },
            by_member<Member>};
}

template <const auto& Words>
std::vector<std::string_view> texts_of() {
    std::vector<std::string_view> texts;
    for (const auto& word : Words) {
        texts.push_back(word.text);
    }
    return texts;
}

/// A coded word; without one the record keeps its default.
template <auto Member, const auto& Words>
FieldReader<RecordOf<Member>> coded(std::string_view name) {
    return {name,
            [](Cell& cell, RecordOf<Member>& record) {
                if (const auto value = cell.word(Words)) {
                    record.*Member = *value;
                }
            },
            by_member<Member>, texts_of<Words>()};
}

/// The same where a word that is none of these is not the same as no word.
template <auto Member, const auto& Words, auto Unexplained>
FieldReader<RecordOf<Member>> coded_or(std::string_view name) {
    FieldReader<RecordOf<Member>> reader = coded<Member, Words>(name);
    reader.read = [](Cell& cell, RecordOf<Member>& record) {
        if (const auto value = cell.word(Words, std::optional(Unexplained))) {
            record.*Member = *value;
        }
    };
    return reader;
}

/// The layer of the asset that a row speaks of.
template <class T>
FieldReader<T> asset_layer(std::string_view name) {
    return {name,
            [](Cell& cell, T& record) {
                if (const auto value = cell.word(kAssetLayers)) {
                    record.asset_layer = *value;
                    record.has_layer = true;
                }
            },
            [](Comparison& order, const T& a, const T& b) {
                order.by(a.has_layer, b.has_layer).by(a.asset_layer, b.asset_layer);
            },
            texts_of<kAssetLayers>()};
}

template <auto Member, NumberRule Rule>
FieldReader<RecordOf<Member>> number(std::string_view name) {
    return {name,
            [](Cell& cell, RecordOf<Member>& record) {
                using Q = std::remove_cvref_t<decltype(*(record.*Member))>;
                if (const auto value = cell.number(Rule)) {
                    record.*Member = Q(*value);
                }
            },
            by_member<Member>,
            {},
            Rule};
}

template <auto Member>
FieldReader<RecordOf<Member>> fuse_type(std::string_view name) {
    return {name,
            [](Cell& cell, RecordOf<Member>& record) { cell.fuse_type(record.*Member); },
            by_member<Member>, // of the fuse as a whole
            {},
            NumberRule::any,
            Holds::fuse_type};
}

template <auto Member>
FieldReader<RecordOf<Member>> fuse_rating(std::string_view name) {
    return {name,
            [](Cell& cell, RecordOf<Member>& record) {
                if (const auto value = cell.number(NumberRule::above_zero)) {
                    (record.*Member).rating = base::Ampere(*value);
                }
            },
            by_nothing<RecordOf<Member>>, // with the type
            {},
            NumberRule::above_zero};
}

template <auto Member>
FieldReader<RecordOf<Member>> cable_type(std::string_view name) {
    return {name,
            [](Cell& cell, RecordOf<Member>& record) { record.*Member = cell.cable_type(); },
            by_member<Member>,
            {},
            NumberRule::any,
            Holds::cable_type};
}

/// Tables of all layers, in the order of contract_fields().
template <class T>
[[nodiscard]] const std::vector<FieldReader<T>>& field_readers();

/// Fills the record from the current feature.
template <class T>
void read_fields(RowReader& rows, T& record) {
    const auto& readers = field_readers<T>();
    for (std::size_t i = 0; i < readers.size(); ++i) {
        if (!rows.has_field(i)) {
            continue;
        }
        Cell cell(rows, i);
        readers[i].read(cell, record);
    }
}

/// Order of two records by their fields, in the order of the table.
template <class T>
[[nodiscard]] int compare_fields(const T& a, const T& b, const base::TextPool& text) {
    Comparison order(text);
    for (const FieldReader<T>& reader : field_readers<T>()) {
        reader.compare(order, a, b);
        if (order.result() != 0) {
            break;
        }
    }
    return order.result();
}

/// The same, by their place or lines first. The lines of cables are compared where they lie.
template <class T>
[[nodiscard]] int compare(const T& a, const T& b, const base::TextPool& text) {
    Comparison order(text);
    if constexpr (requires { a.has_place; }) {
        order.by(a.has_place, b.has_place).by(a.place, b.place);
    } else if constexpr (requires { a.lines; }) {
        order.by(a.lines, b.lines);
    }
    return order.result() != 0 ? order.result() : compare_fields(a, b, text);
}

} // namespace loopwalk::input
