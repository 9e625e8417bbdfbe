// The fields of a layer as a table: native name, where the value goes in the record, and what it
// may be. One such table for each layer serves reading and the check of `missing` in a job.
#pragma once

#include "row_reader.hpp"
#include <span>

namespace loopwalk::input {

template <class T>
struct FieldReader {
    std::string_view name;
    void (*read)(Cell&, T&);
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

/// An id or a label.
template <auto Member>
FieldReader<RecordOf<Member>> label(std::string_view name) {
    return {name, [](Cell& cell, RecordOf<Member>& record) { record.*Member = cell.text(); }};
}

/// A field that the network does not need: only its presence counts.
template <class T>
FieldReader<T> noticed(std::string_view name) {
    return {name, [](Cell& cell, T&) { cell.notice(); }};
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
            texts_of<Words>()};
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
            {},
            Rule};
}

template <auto Member>
FieldReader<RecordOf<Member>> fuse_type(std::string_view name) {
    return {name,
            [](Cell& cell, RecordOf<Member>& record) { cell.fuse_type(record.*Member); },
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
            {},
            NumberRule::above_zero};
}

template <auto Member>
FieldReader<RecordOf<Member>> cable_type(std::string_view name) {
    return {name,
            [](Cell& cell, RecordOf<Member>& record) { record.*Member = cell.cable_type(); },
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

} // namespace loopwalk::input
