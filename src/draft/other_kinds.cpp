// Assets of several kinds in one layer.
#include "loopwalk/base/text.hpp"

#include "guess_parts.hpp"
#include "quoted_text.hpp"
#include <algorithm>
#include <cctype>

namespace loopwalk::draft {

namespace {

using base::AssetLayer;

/// A field as OGR SQL names it.
std::string sql_name(const std::string& name) {
    const bool is_plain = std::all_of(name.begin(), name.end(), [](char c) {
        return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_';
    });
    return is_plain ? name : base::quoted_sql(name, '"');
}

std::string where_text(const std::string& field, const char* sign, const std::string& value) {
    return "where = " + toml_string(sql_name(field) + sign + base::quoted_sql(value, '\''));
}

} // namespace

void note_other_kinds(LayerGuess& guess, const LayerProfile& layer, const Guides& guides) {
    const FieldGuess* kind = find_guess(guess.fields, "kind");
    if (guess.role != AssetLayer::columns || kind == nullptr || !is_utf8(kind->name)) {
        return;
    }
    for (const ValueCounts::Entry& entry : find_field(layer, kind->name)->values.entries()) {
        if (!is_utf8(entry.text) ||
            guides.vocabulary.meaning_of(AssetLayer::columns, "kind", entry.text)) {
            continue;
        }
        for (const AssetLayer role : {AssetLayer::supplies, AssetLayer::joints}) {
            const auto other = guides.vocabulary.meaning_of(role, "kind", entry.text);
            if (!other || other->word.empty() || other->doubt == Doubt::much) {
                continue;
            }
            const std::string_view name = base::layer_name(role);
            std::string remark = std::to_string(entry.count);
            remark += " of them may be ";
            remark += name;
            remark += ": " + where_text(kind->name, " <> ", entry.text);
            remark += " leaves them out here; a table [";
            remark += name;
            remark += "] of the same layer takes them with ";
            remark += where_text(kind->name, " = ", entry.text);
            guess.remarks.push_back(std::move(remark));
            break;
        }
    }
}

} // namespace loopwalk::draft
