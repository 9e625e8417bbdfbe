#include "check_words.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include "field_tables.hpp"
#include <algorithm>

namespace loopwalk::input {

namespace {

std::string key_name(base::AssetLayer layer, std::string_view table, const std::string& field) {
    return "[" + std::string(base::layer_name(layer)) + "] " + std::string(table) + "." + field;
}

void check_word(const std::string& key, const std::string& word, const AllowedValue& allowed) {
    const auto same = [&](std::string_view known) { return base::same_word(known, word); };
    if (!allowed.words.empty() && std::none_of(allowed.words.begin(), allowed.words.end(), same)) {
        throw base::ConfigError(
            key + ": " + word + " is not a word of this field; there are: " +
            base::listed({allowed.words.begin(), allowed.words.end()}, allowed.words.size()));
    }
}

void check_number(const std::string& key, double number, const AllowedValue& allowed) {
    if (!admits(allowed.rule, number)) {
        throw base::ConfigError(key + ": " + base::number_text(number) + " is not " +
                                std::string(rule_text(allowed.rule)));
    }
}

/// What a translation gives where a number is needed.
void check_meaning(const std::string& key, const std::string& meaning, const base::Unit* native,
                   const AllowedValue& allowed) {
    const base::WrittenNumber number = base::read_written_number(meaning, base::DecimalMark::point);
    const bool fits = number.unit == nullptr ||
                      (native != nullptr && number.unit->dimension == native->dimension);
    if (number.state != base::WrittenNumber::State::number || !fits) {
        throw base::ConfigError(key + ": '" + meaning + "' is no number for this field");
    }
    check_number(key,
                 number.unit == nullptr ? number.value
                                        : base::converted(number.value, *number.unit, *native),
                 allowed);
}

/// The entries of a table in all sources of a layer.
template <class Entries>
Entries entries_of(const config::DataSettings& settings, base::AssetLayer layer,
                   Entries config::LayerSource::*table) {
    Entries all;
    for (const config::LayerSource* source : settings.sources(layer)) {
        all.insert(all.end(), (source->*table).begin(), (source->*table).end());
    }
    return all;
}

/// Calls `check(rule, allowed, entry, layer)` for each entry of a table of each layer.
template <class Entries, class Check>
void for_each_entry(const config::DataSettings& settings, Entries config::LayerSource::*table,
                    Check check) {
    for (std::size_t i = 0; i < base::kAssetLayerCount; ++i) {
        const auto layer = static_cast<base::AssetLayer>(i);
        const auto& fields = contract_fields(layer);
        const std::vector<AllowedValue> allowed = allowed_values(layer);
        for (const auto& entry : entries_of(settings, layer, table)) {
            const auto field = std::find_if(fields.begin(), fields.end(),
                                            [&](const auto& f) { return f.name == entry.field; });
            if (field == fields.end()) {
                throw base::ConfigError(key_name(layer, "fields", entry.field) +
                                        ": there is no such field");
            }
            check(*field, allowed[static_cast<std::size_t>(field - fields.begin())], entry, layer);
        }
    }
}

void check_type(const std::string& key, const std::string& word, Holds holds,
                const catalogue::Catalogue& catalogue) {
    std::vector<std::string> names;
    if (holds == Holds::cable_type) {
        for (const catalogue::CableType& type : catalogue.cables()) {
            names.push_back(type.name);
        }
    } else {
        for (const catalogue::FuseType& type : catalogue.fuses()) {
            names.push_back(type.name);
        }
    }
    const auto same = [&](const std::string& name) { return base::same_word(name, word); };
    if (std::none_of(names.begin(), names.end(), same)) {
        throw base::ConfigError(key + ": '" + word + "' is not in the catalogue; the nearest is '" +
                                base::nearest_word(word, names) + "'");
    }
}

} // namespace

void check_missing(const config::DataSettings& settings) {
    for_each_entry(settings, &config::LayerSource::missing,
                   [](const FieldRule&, const AllowedValue& allowed,
                      const config::MissingValue& value, base::AssetLayer layer) {
                       const std::string key = key_name(layer, "missing", value.field);
                       for (const std::string& word : value.words) {
                           check_word(key, word, allowed);
                       }
                       if (value.range) {
                           for (const base::Number end : {value.range->low, value.range->high}) {
                               check_number(key, end.value(), allowed);
                           }
                       }
                   });
}

void check_values(const config::DataSettings& settings) {
    for_each_entry(settings, &config::LayerSource::values,
                   [](const FieldRule& rule, const AllowedValue& allowed,
                      const config::FieldValues& values, base::AssetLayer layer) {
                       const std::string key = key_name(layer, "values", values.field);
                       for (const config::Translation& t : values.translations) {
                           if (t.meaning.empty()) {
                               continue;
                           }
                           if (rule.is_number) {
                               check_meaning(key, t.meaning, base::unit_of_field(rule.name),
                                             allowed);
                           } else {
                               check_word(key, t.meaning, allowed);
                           }
                       }
                   });
}

void check_types(const config::DataSettings& settings, const catalogue::Catalogue& catalogue) {
    for_each_entry(settings, &config::LayerSource::values,
                   [&](const FieldRule&, const AllowedValue& allowed,
                       const config::FieldValues& values, base::AssetLayer layer) {
                       if (allowed.holds == Holds::plain) {
                           return;
                       }
                       for (const config::Translation& t : values.translations) {
                           if (!t.meaning.empty() && !(allowed.holds == Holds::fuse_type &&
                                                       base::same_word(t.meaning, kNoFuseWord))) {
                               check_type(key_name(layer, "values", values.field), t.meaning,
                                          allowed.holds, catalogue);
                           }
                       }
                   });
}

} // namespace loopwalk::input
