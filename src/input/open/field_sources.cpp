#include "field_sources.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include <algorithm>

namespace loopwalk::input {

namespace {

constexpr std::size_t kMostListed = 30; ///< names that an error lists

std::vector<std::string> names_of(const gis::Layer& layer) {
    std::vector<std::string> names;
    for (const gis::FieldInfo& field : layer.fields()) {
        names.push_back(field.name);
    }
    return names;
}

[[noreturn]] void fail_no_field(const gis::Layer& layer, const std::string& name,
                                const std::string& what_to_do) {
    const std::vector<std::string> names = names_of(layer);
    throw base::InputError("dataset " + layer.dataset_name() + ", layer " + layer.name() +
                           ": there is no field '" + name + "'; there " +
                           (names.empty() ? std::string("are no fields at all")
                                          : "are: " + base::listed(names, kMostListed)) +
                           ". " + what_to_do);
}

[[noreturn]] void fail_named(const gis::Layer& layer, base::AssetLayer which,
                             const std::string& field, const std::string& name) {
    const std::string nearest = base::nearest_word(name, names_of(layer));
    fail_no_field(layer, name,
                  "The job names it: [" + std::string(base::layer_name(which)) + "] fields." +
                      field + (nearest.empty() ? "" : ". Did you mean '" + nearest + "'?"));
}

template <class Entry>
const Entry* entry_of(const std::vector<Entry>& entries, const std::string& field) {
    const auto found = std::find_if(entries.begin(), entries.end(),
                                    [&](const Entry& entry) { return entry.field == field; });
    return found == entries.end() ? nullptr : &*found;
}

/// Whether a job asks for the feature ids in place of a field: as OGR SQL does, by the name FID,
/// where no field is called so.
bool names_feature_id(const gis::Layer& layer, const config::FieldNames* names) {
    return names != nullptr && names->names.size() == 1 &&
           base::same_word(names->names.front(), "fid") && !layer.find_field("fid");
}

std::vector<std::size_t> positions_of(const gis::Layer& layer, base::AssetLayer which,
                                      const config::FieldRule& rule,
                                      const config::FieldNames* names) {
    std::vector<std::size_t> positions;
    if (names == nullptr) {
        if (const auto found = layer.find_field(rule.name)) {
            positions.push_back(*found);
        }
        return positions;
    }
    for (const std::string& name : names->names) {
        const auto found = layer.find_field(name);
        if (!found) {
            fail_named(layer, which, rule.name, name);
        }
        positions.push_back(*found);
    }
    return positions;
}

} // namespace

std::vector<FieldSource> find_field_sources(gis::Layer& layer, base::AssetLayer which,
                                            const config::LayerSource& source) {
    std::vector<FieldSource> sources;
    if (layer.fields().empty() && layer.count() == 0) {
        // A layer without features has no fields where features bring them (GeoJSON).
        sources.resize(config::contract_fields(which).size());
        return sources;
    }
    for (const config::FieldRule& rule : config::contract_fields(which)) {
        FieldSource found;
        const config::FieldNames* names = entry_of(source.fields, rule.name);
        found.is_feature_id = rule.needed && names_feature_id(layer, names);
        if (!found.is_feature_id) {
            found.positions = positions_of(layer, which, rule, names);
        }
        if (rule.needed && !found.is_there()) {
            fail_no_field(layer, rule.name,
                          "It is needed: name the field that identifies the features in the job "
                          "file, [" +
                              std::string(base::layer_name(which)) + "] fields = { " + rule.name +
                              " = \"...\" }");
        }
        found.is_real = found.positions.size() == 1 &&
                        layer.fields()[found.positions.front()].kind == gis::FieldKind::real;
        found.native = rule.is_number ? base::unit_of_field(rule.name) : nullptr;
        const config::FieldUnit* unit = entry_of(source.units, rule.name);
        found.stored = unit != nullptr ? unit->unit : found.native;
        found.values = entry_of(source.values, rule.name);
        sources.push_back(std::move(found));
    }
    return sources;
}

std::string field_label(const std::string& field, const config::LayerSource& source) {
    const config::FieldNames* names = entry_of(source.fields, field);
    if (names == nullptr || names->names.empty() || base::same_word(names->names.front(), field)) {
        return field;
    }
    return field + (names->names.size() > 1 ? " (fields " : " (field ") +
           base::listed(names->names, kMostListed) + ")";
}

} // namespace loopwalk::input
