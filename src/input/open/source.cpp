#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"
#include "loopwalk/input/read_layers.hpp"

#include "field_sources.hpp"
#include "part.hpp"
#include <algorithm>
#include <set>

namespace loopwalk::input {

namespace {

using base::AssetLayer;

constexpr std::size_t kMostListed = 30; ///< names that an error lists

bool is_needed(AssetLayer layer) {
    return layer == AssetLayer::columns || layer == AssetLayer::cables;
}

bool has_places(AssetLayer layer) {
    switch (layer) {
    case AssetLayer::columns:
    case AssetLayer::cables:
    case AssetLayer::supplies:
    case AssetLayer::joints:
    case AssetLayer::mains:
        return true;
    case AssetLayer::ways:
    case AssetLayer::terminations:
    case AssetLayer::loads:
    case AssetLayer::readings:
        break;
    }
    return false;
}

/// Whether the job speaks of where this layer is: then it must be there.
bool is_named(const config::LayerSource& source) {
    const bool has_tables =
        !source.fields.empty() || !source.units.empty() || !source.values.empty();
    return has_tables || !source.dataset.empty() || !source.layer.empty() ||
           !source.where.empty() || !source.crs.empty() || !source.x.empty();
}

[[noreturn]] void fail_no_layer(const gis::Dataset& dataset, const std::string& wanted,
                                AssetLayer layer) {
    constexpr std::size_t kLongest = 63; // of PostgreSQL
    const std::string name(base::layer_name(layer));
    const bool is_cut = wanted.size() > kLongest && dataset.name().starts_with("PG:");
    throw base::InputError(
        "dataset " + dataset.name() + ": there is no layer '" + wanted + "'" +
        (is_cut ? " (a database keeps 63 bytes of a name)" : "") +
        "; there are: " + base::listed(dataset.layer_names(), kMostListed) +
        ". Name the right one in the job file: [" + name + "] layer = \"...\"" +
        (layer == AssetLayer::columns ? "" : ", or layer = \"\" where the records have none"));
}

std::size_t position_of(const gis::Layer& layer, AssetLayer which, const char* key,
                        const std::string& name) {
    const auto found = layer.find_field(name);
    if (!found) {
        std::vector<std::string> names;
        for (const gis::FieldInfo& field : layer.fields()) {
            names.push_back(field.name);
        }
        throw base::InputError(
            "dataset " + layer.dataset_name() + ", layer " + layer.name() +
            ": there is no field '" + name + "'; there are: " + base::listed(names, kMostListed) +
            ". The job names it: [" + std::string(base::layer_name(which)) + "] " + key);
    }
    return *found;
}

/// A table whose fields hold coordinates is a layer of points.
void place_by_fields(gis::Layer& layer, AssetLayer which, const config::LayerSource& source) {
    if (source.x.empty()) {
        return;
    }
    const std::string name(base::layer_name(which));
    if (!has_places(which) || which == AssetLayer::cables || which == AssetLayer::mains) {
        throw base::ConfigError("[" + name + "] x: the layer " + name +
                                " is not made of points; leave x and y out");
    }
    if (layer.has_geometry()) {
        throw base::InputError("dataset " + layer.dataset_name() + ", layer " + layer.name() +
                               ": has a geometry of its own; leave x and y out of [" + name + "]");
    }
    layer.place_by(position_of(layer, which, "x", source.x),
                   position_of(layer, which, "y", source.y), source.decimal);
}

void check_layer(gis::Layer& layer, AssetLayer which, const config::LayerSource& source) {
    (void)find_field_sources(layer, which, source); // throws where a field is not there
    if (has_places(which) && !layer.has_geometry()) {
        throw base::InputError("dataset " + layer.dataset_name() + ", layer " + layer.name() +
                               ": has no geometry, which the layer " +
                               std::string(base::layer_name(which)) +
                               " needs. Export it with its geometry, or name the fields that hold "
                               "its coordinates in the job file: x = \"...\", y = \"...\"");
    }
}

/// A dataset as a job names it.
struct Named {
    std::string dataset;
    std::vector<std::string> options;
    [[nodiscard]] std::string key() const { return dataset + '\n' + base::joined(options, "\n"); }
};

Named named_for(const config::DataSettings& settings, const config::LayerSource& source) {
    if (!source.dataset.empty()) {
        return {source.dataset, source.open_options};
    }
    return {settings.dataset,
            source.open_options.empty() ? settings.open_options : source.open_options};
}

/// Opens datasets, each once but for a layer that is read for two purposes: a cursor and a filter
/// belong to one opened dataset.
class Opener {
  public:
    Opener(std::map<std::string, gis::Dataset>& datasets, std::vector<std::string>& order)
        : m_datasets(datasets), m_order(order) {}

    [[nodiscard]] gis::Dataset& open(const Named& named) {
        const auto found = m_datasets.find(named.key());
        if (found != m_datasets.end()) {
            return found->second;
        }
        gis::Dataset& opened =
            m_datasets.try_emplace(named.key(), named.dataset, named.options).first->second;
        m_order.push_back(opened.name());
        return opened;
    }

    [[nodiscard]] std::optional<gis::Layer> find(const Named& named, const std::string& wanted) {
        std::optional<gis::Layer> layer = open(named).find_layer(wanted);
        if (!layer || m_used.insert({named.key(), layer->name()}).second) {
            return layer;
        }
        const std::string key = named.key() + '\n' + std::to_string(m_datasets.size());
        return m_datasets.try_emplace(key, named.dataset, named.options)
            .first->second.find_layer(wanted);
    }

  private:
    std::map<std::string, gis::Dataset>& m_datasets;
    std::vector<std::string>& m_order;
    std::set<std::pair<std::string, std::string>> m_used;
};

gis::Crs system_named(const std::string& text, AssetLayer which) {
    try {
        return gis::Crs::from_text(text);
    } catch (const base::ConfigError& error) {
        throw base::ConfigError("[" + std::string(base::layer_name(which)) +
                                "] crs: " + error.what());
    }
}

/// Taken as metres of a plane it could give wrong lengths.
[[noreturn]] void fail_unread_system(const gis::Layer& layer, AssetLayer which) {
    throw base::InputError("dataset " + layer.dataset_name() + ", layer " + layer.name() +
                           ": its coordinate system cannot be read: " + layer.crs_fault() +
                           ". Restore it, or name the system in the job file: [" +
                           std::string(base::layer_name(which)) + "] crs = \"EPSG:...\"");
}

/// A layer that the job says there is none of; a job that describes it all the same is a slip.
void check_is_none(const config::LayerSource& source, AssetLayer which) {
    if (is_named(source) || !source.missing.empty()) {
        throw base::ConfigError("[" + std::string(base::layer_name(which)) +
                                "] layer = \"\" says that there is no such layer, but other keys "
                                "of the table describe it; leave out the one or the other");
    }
}

std::unique_ptr<gis::Layer> open_layer(Opener& opener, const config::DataSettings& settings,
                                       const config::LayerSource& source, AssetLayer which) {
    if (source.is_absent) {
        check_is_none(source, which);
        return nullptr;
    }
    const Named named = named_for(settings, source);
    const bool must_exist = is_needed(which) || is_named(source);
    if (named.dataset.empty()) {
        if (must_exist) {
            throw base::ConfigError("no dataset is named for the layer " +
                                    std::string(base::layer_name(which)));
        }
        return nullptr;
    }
    const std::string wanted =
        source.layer.empty() ? std::string(base::layer_name(which)) : source.layer;
    std::optional<gis::Layer> layer = opener.find(named, wanted);
    if (!layer && must_exist) {
        fail_no_layer(opener.open(named), wanted, which);
    }
    if (!layer) {
        return nullptr;
    }
    place_by_fields(*layer, which, source);
    check_layer(*layer, which, source);
    if (!source.crs.empty()) {
        layer->assign_crs(system_named(source.crs, which));
    } else if (has_places(which) && !layer->crs_fault().empty()) {
        fail_unread_system(*layer, which);
    }
    if (!source.where.empty()) {
        layer->filter(source.where);
    }
    return std::make_unique<gis::Layer>(std::move(*layer));
}

/// A layer that stands twice in a list would give every record twice.
void check_each_once(const config::DataSettings& settings, AssetLayer which) {
    std::set<std::vector<std::string>> seen;
    for (const config::LayerSource* source : settings.sources(which)) {
        const Named named = named_for(settings, *source);
        if (!seen.insert({named.key(), base::folded(source->layer), source->where}).second) {
            throw base::ConfigError("[" + std::string(base::layer_name(which)) +
                                    "]: one layer is named twice; name it once, or tell the two "
                                    "apart by 'where'");
        }
    }
}

/// Without a system, coordinates are taken to be in the cables'; of two that will be one layer of
/// the result, that would be a guess about a neighbour.
void check_systems(const std::vector<std::unique_ptr<gis::Layer>>& parts, AssetLayer which) {
    if (!has_places(which) || parts.empty()) {
        return;
    }
    for (const auto& part : parts) {
        if (part->crs().is_unknown() != parts.front()->crs().is_unknown()) {
            const gis::Layer& without = part->crs().is_unknown() ? *part : *parts.front();
            throw base::InputError(
                "dataset " + without.dataset_name() + ", layer " + without.name() +
                ": states no coordinate system, but another layer of the same list does. Name it "
                "in a table of its own: [[" +
                std::string(base::layer_name(which)) + "]] crs = \"EPSG:...\"");
        }
    }
}

std::vector<std::unique_ptr<gis::Layer>>
open_layers(Opener& opener, const config::DataSettings& settings, AssetLayer which) {
    check_each_once(settings, which);
    std::vector<std::unique_ptr<gis::Layer>> parts;
    for (const config::LayerSource* source : settings.sources(which)) {
        if (auto layer = open_layer(opener, settings, *source, which)) {
            parts.push_back(std::move(layer));
        }
    }
    check_systems(parts, which);
    return parts;
}

std::vector<InputFile> digests_of(const std::vector<std::string>& files) {
    std::vector<InputFile> inputs;
    inputs.reserve(files.size());
    for (const std::string& file : files) {
        inputs.push_back({file, gis::digest_file(file)});
    }
    return inputs;
}

/// The first file that came, went or changed since; empty if none did. By its bytes: a time of
/// change may be coarse or set back, and what SQLite counts tells nothing of a copy put in its
/// place.
std::string changed_file(const std::vector<InputFile>& before,
                         const std::vector<std::string>& now) {
    const auto [was, is] = std::mismatch(before.begin(), before.end(), now.begin(), now.end(),
                                         [](const InputFile& file, const std::string& path) {
                                             return file.path == path &&
                                                    gis::checksum_of(path) == file.digest.checksum;
                                         });
    if (is != now.end() && (was == before.end() || *is < was->path)) {
        return *is;
    }
    return was == before.end() ? std::string() : was->path;
}

} // namespace

Source::Source(const config::DataSettings& settings) {
    Opener opener(m_datasets, m_order);
    for (std::size_t i = 0; i < m_layers.size(); ++i) {
        m_layers[i] = open_layers(opener, settings, static_cast<AssetLayer>(i));
    }
    m_inputs = digests_of(files());
    if (!settings.part.is_all()) {
        m_part = restrict_to_part(*this, settings);
    }
}

gis::Layer* Source::layer(AssetLayer layer) noexcept {
    const auto& parts = m_layers[static_cast<std::size_t>(layer)];
    return parts.empty() ? nullptr : parts.front().get();
}

const gis::Layer* Source::layer(AssetLayer layer) const noexcept {
    const auto& parts = m_layers[static_cast<std::size_t>(layer)];
    return parts.empty() ? nullptr : parts.front().get();
}

std::vector<gis::Layer*> Source::parts(AssetLayer layer) {
    std::vector<gis::Layer*> parts;
    for (const auto& part : m_layers[static_cast<std::size_t>(layer)]) {
        parts.push_back(part.get());
    }
    return parts;
}

std::vector<std::string> Source::files() const {
    std::set<std::string> files;
    for (const auto& [name, dataset] : m_datasets) {
        for (const std::string& file : dataset.files()) {
            files.insert(file);
        }
    }
    return {files.begin(), files.end()};
}

void Source::check_unchanged() const {
    const std::string changed = changed_file(m_inputs, files());
    if (!changed.empty()) {
        throw base::InputError("file " + changed +
                               " was changed while it was read: the result would mix records of "
                               "two moments. Run again when nobody edits the records, or on a "
                               "copy");
    }
}

std::vector<std::string> Source::schemas() const {
    std::set<std::string> schemas;
    for (const auto& parts : m_layers) {
        for (const auto& layer : parts) {
            if (!layer->schema().empty()) {
                schemas.insert(layer->schema());
            }
        }
    }
    return {schemas.begin(), schemas.end()};
}

std::vector<std::string> Source::dataset_names() const {
    return m_order;
}

} // namespace loopwalk::input
