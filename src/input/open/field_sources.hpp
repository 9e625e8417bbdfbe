// Where the fields of the contract stand in a layer, and how what stands there is to be understood:
// names, units and words of the dataset as the job translates them.
#pragma once

#include "loopwalk/config/config.hpp"
#include "loopwalk/config/contract_fields.hpp"
#include "loopwalk/gis/dataset.hpp"

#include <vector>

namespace loopwalk::input {

struct FieldSource {
    std::vector<std::size_t> positions; ///< in the layer; empty: nowhere; several are joined
    bool is_feature_id = false;         ///< the feature id serves in place of a field
    bool is_real = false;               ///< one field of floating-point numbers
    const base::Unit* native = nullptr; ///< of the contract; null: a plain number or a text
    const base::Unit* stored = nullptr; ///< what plain numbers are in; as `native` by default
    const config::FieldValues* values = nullptr; ///< null: words as they are
    [[nodiscard]] bool is_there() const noexcept { return !positions.empty() || is_feature_id; }
    /// Whether a number has to be read from text, whatever the type of the field.
    [[nodiscard]] bool is_text() const noexcept {
        return values != nullptr || positions.size() > 1 || is_feature_id;
    }
};

/// In the order of contract_fields(). `source` outlives the result. Throws InputError for a field
/// that the job names but the layer does not have, or a needed one that is nowhere.
[[nodiscard]] std::vector<FieldSource> find_field_sources(gis::Layer& layer, base::AssetLayer which,
                                                          const config::LayerSource& source);

/// The field as messages call it: "load_w", or "load_w (field WATTS)".
[[nodiscard]] std::string field_label(const std::string& field, const config::LayerSource& source);

} // namespace loopwalk::input
