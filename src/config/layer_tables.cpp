#include "layer_tables.hpp"

#include "loopwalk/base/text.hpp"

#include <algorithm>
#include <tuple>

namespace loopwalk::config {

namespace {

using base::AssetLayer;

/// A text or a list of texts, none of them blank.
std::vector<std::string> read_words(const toml::node& node, const Place& place) {
    const auto* list = node.as_array();
    if (list == nullptr) {
        return {read_text(node, place)};
    }
    if (list->empty()) {
        place.fail(node, "the list is empty");
    }
    std::vector<std::string> words;
    for (const toml::node& entry : *list) {
        words.push_back(read_text(entry, place));
    }
    return words;
}

const FieldRule& find_rule(const toml::key& name, const Place& place, AssetLayer layer) {
    const auto& rules = contract_fields(layer);
    const auto same = [&](const FieldRule& r) { return base::same_word(r.name, name.str()); };
    const auto found = std::find_if(rules.begin(), rules.end(), same);
    if (found == rules.end()) {
        std::vector<std::string> names;
        names.reserve(rules.size());
        for (const FieldRule& rule : rules) {
            names.push_back(rule.name);
        }
        place.fail(name.source(), "the layer has no field '" + std::string(name.str()) + "'." +
                                      suggestion(name.str(), names));
    }
    return *found;
}

/// Reads a table with an entry for each of some fields; `read(rule, node, place)` gives one entry.
template <class Entry, class Read>
std::vector<Entry> read_entries(const toml::node& node, const Place& place, AssetLayer layer,
                                Read read) {
    const auto* table = node.as_table();
    if (table == nullptr) {
        place.fail(node, "a table is needed here: " + place.key + " = { field = value }");
    }
    std::vector<Entry> entries;
    for (const FieldRule& rule : contract_fields(layer)) {
        bool seen = false;
        for (const auto& [name, value] : *table) {
            if (&find_rule(name, place, layer) != &rule) {
                continue;
            }
            if (seen) {
                place.fail(name.source(), "the field '" + rule.name + "' stands here twice");
            }
            seen = true;
            Place inner = place;
            inner.key += "." + std::string(name.str());
            inner.unit = base::unit_of_field(rule.name);
            entries.push_back(read(rule, value, inner));
        }
    }
    return entries;
}

bool is_empty_text(const toml::node& node) {
    return node.is_string() && base::trimmed(node.as_string()->get()).empty();
}

FieldNames names_of(const FieldRule& rule, const toml::node& node, const Place& place) {
    if (!is_empty_text(node)) {
        return {rule.name, read_words(node, place)};
    }
    if (rule.needed) {
        place.fail(node, "'" + rule.name + "' identifies a feature; name the field that holds it");
    }
    return {rule.name, {}};
}

FieldUnit unit_of(const FieldRule& rule, const toml::node& node, const Place& place) {
    if (place.unit == nullptr) {
        place.fail(node, "'" + rule.name + "' has no unit");
    }
    const std::string name = read_text(node, place);
    const base::Unit* unit = base::find_unit(name);
    if (unit == nullptr || unit->dimension != place.unit->dimension) {
        place.fail(node, "'" + name + "' is not a unit for it." +
                             suggestion(name, base::unit_names(place.unit->dimension)));
    }
    return {rule.name, unit};
}

/// What a word stands for: a text, or a number as text; empty: nothing.
std::string meaning_of(const toml::node& node, const Place& place) {
    if (is_empty_text(node)) {
        return {};
    }
    if (node.is_number()) {
        Place plain = place;
        plain.unit = nullptr;
        return base::number_text(read_number(node, plain));
    }
    return read_text(node, place);
}

FieldValues values_of(const FieldRule& rule, const toml::node& node, const Place& place) {
    const auto* table = node.as_table();
    if (table == nullptr) {
        place.fail(node, R"(a table is needed here: { "recorded word" = "what it stands for" })");
    }
    struct Entry {
        toml::source_position at;
        Translation translation;
    };
    std::vector<Entry> entries;
    for (const auto& [pattern, meaning] : *table) {
        Place inner = place;
        inner.key += ".\"" + std::string(pattern.str()) + "\"";
        entries.push_back(
            {pattern.source().begin, {std::string(pattern.str()), meaning_of(meaning, inner)}});
    }
    // The parser keeps tables by name; here the order of the file decides.
    std::sort(entries.begin(), entries.end(), [](const Entry& a, const Entry& b) {
        return std::tie(a.at.line, a.at.column) < std::tie(b.at.line, b.at.column);
    });
    FieldValues values{rule.name, {}};
    for (Entry& entry : entries) {
        values.translations.push_back(std::move(entry.translation));
    }
    return values;
}

MissingValue missing_of(const FieldRule& rule, const toml::node& node, const Place& place) {
    if (rule.needed) {
        place.fail(node, "'" + rule.name + "' identifies a feature; it cannot be given");
    }
    MissingValue value;
    value.field = rule.name;
    if (rule.is_number) {
        value.range = read_range(node, place);
    } else {
        value.words = read_words(node, place);
    }
    return value;
}

} // namespace

std::vector<std::string> read_open_options(const toml::node& node, const Place& place) {
    const auto* table = node.as_table();
    if (table == nullptr) {
        place.fail(node, "a table is needed here: " + place.key + R"( = { NAME = "value" })");
    }
    std::vector<std::string> options;
    for (const auto& [name, value] : *table) {
        Place inner = place;
        inner.key += "." + std::string(name.str());
        options.push_back(std::string(name.str()) + "=" + read_text(value, inner));
    }
    return options;
}

std::vector<FieldNames> read_fields(const toml::node& node, const Place& place, AssetLayer layer) {
    return read_entries<FieldNames>(node, place, layer, names_of);
}

std::vector<FieldUnit> read_units(const toml::node& node, const Place& place, AssetLayer layer) {
    return read_entries<FieldUnit>(node, place, layer, unit_of);
}

std::vector<FieldValues> read_values(const toml::node& node, const Place& place, AssetLayer layer) {
    return read_entries<FieldValues>(node, place, layer, values_of);
}

std::vector<MissingValue> read_missing(const toml::node& node, const Place& place,
                                       AssetLayer layer) {
    return read_entries<MissingValue>(node, place, layer, missing_of);
}

} // namespace loopwalk::config
