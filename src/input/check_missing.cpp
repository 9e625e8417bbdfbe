#include "check_missing.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include "field_tables.hpp"
#include <algorithm>

namespace loopwalk::input {

namespace {

std::string key_name(base::AssetLayer layer, const config::MissingValue& value) {
    return "[" + std::string(base::layer_name(layer)) + "] missing." + value.field;
}

void check_value(base::AssetLayer layer, const config::MissingValue& value,
                 const AllowedValue& allowed) {
    for (const std::string& word : value.words) {
        const auto same = [&](std::string_view known) { return base::same_word(known, word); };
        if (!allowed.words.empty() &&
            std::none_of(allowed.words.begin(), allowed.words.end(), same))
            throw base::ConfigError(
                key_name(layer, value) + ": " + word + " is not a word of this field; there are: " +
                base::listed({allowed.words.begin(), allowed.words.end()}, allowed.words.size()));
    }
    if (value.range)
        for (const base::Number end : {value.range->low, value.range->high})
            if (!admits(allowed.rule, end.value()))
                throw base::ConfigError(key_name(layer, value) + ": " +
                                        base::number_text(end.value()) + " is not " +
                                        std::string(rule_text(allowed.rule)));
}

} // namespace

void check_missing(const config::DataSettings& settings) {
    for (std::size_t i = 0; i < base::kAssetLayerCount; ++i) {
        const auto layer = static_cast<base::AssetLayer>(i);
        const auto& fields = contract_fields(layer);
        const std::vector<AllowedValue> allowed = allowed_values(layer);
        for (const config::MissingValue& value : settings.of(layer).missing) {
            const auto field = std::find_if(fields.begin(), fields.end(),
                                            [&](const auto& f) { return f.name == value.field; });
            if (field == fields.end())
                throw base::ConfigError(key_name(layer, value) + ": there is no such field");
            check_value(layer, value, allowed[static_cast<std::size_t>(field - fields.begin())]);
        }
    }
}

} // namespace loopwalk::input
