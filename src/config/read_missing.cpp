#include "read_missing.hpp"

#include "loopwalk/base/text.hpp"
#include "loopwalk/config/contract_fields.hpp"

#include <algorithm>

namespace loopwalk::config {

namespace {

std::vector<std::string> read_words(const toml::node& node, const Place& place) {
    const auto* list = node.as_array();
    if (list == nullptr)
        return {read_text(node, place)};
    if (list->empty())
        place.fail(node, "the list is empty");
    std::vector<std::string> words;
    for (const toml::node& entry : *list)
        words.push_back(read_text(entry, place));
    return words;
}

/// The field a `missing` entry speaks of; ids cannot be assumed.
const FieldRule& find_rule(const toml::key& name, const Place& place, base::AssetLayer layer) {
    const auto& rules = contract_fields(layer);
    const auto same = [&](const FieldRule& r) { return base::same_word(r.name, name.str()); };
    const auto found = std::find_if(rules.begin(), rules.end(), same);
    if (found == rules.end()) {
        std::vector<std::string> names;
        for (const FieldRule& rule : rules)
            if (!rule.needed)
                names.push_back(rule.name);
        place.fail(name.source(), "the layer has no field '" + std::string(name.str()) + "'." +
                                      suggestion(name.str(), names));
    }
    if (found->needed)
        place.fail(name.source(), "'" + found->name + "' identifies a feature; it cannot be given");
    return *found;
}

MissingValue read_entry(const FieldRule& rule, const toml::node& node, const Place& place) {
    MissingValue value;
    value.field = rule.name;
    if (rule.is_number)
        value.range = read_range(node, place);
    else
        value.words = read_words(node, place);
    return value;
}

} // namespace

std::vector<MissingValue> read_missing(const toml::node& node, const Place& place,
                                       base::AssetLayer layer) {
    const auto* table = node.as_table();
    if (table == nullptr)
        place.fail(node, "a table is needed here: missing = { field = value }");
    std::vector<MissingValue> values;
    for (const auto& [name, entry] : *table) {
        Place inner = place;
        inner.key += "." + std::string(name.str());
        values.push_back(read_entry(find_rule(name, place, layer), entry, inner));
    }
    const auto& rules = contract_fields(layer);
    const auto position = [&](const MissingValue& value) {
        return std::find_if(rules.begin(), rules.end(),
                            [&](const FieldRule& r) { return r.name == value.field; });
    };
    std::sort(values.begin(), values.end(),
              [&](const auto& a, const auto& b) { return position(a) < position(b); });
    return values;
}

} // namespace loopwalk::config
