// Reading: council layers under their native names become model::Layers; what cannot be used
// becomes findings and the run goes on. Only fields that the network needs are fetched.
#pragma once

#include "loopwalk/base/finding.hpp"
#include "loopwalk/base/progress.hpp"
#include "loopwalk/catalogue/catalogue.hpp"
#include "loopwalk/config/config.hpp"
#include "loopwalk/config/contract_fields.hpp"
#include "loopwalk/gis/crs.hpp"
#include "loopwalk/gis/dataset.hpp"
#include "loopwalk/gis/file_digest.hpp"
#include "loopwalk/model/layers.hpp"

#include <array>
#include <map>
#include <memory>
#include <string>
#include <vector>

namespace loopwalk::input {

/// Fields of the contract for each layer, needed ones first.
using config::contract_fields;
using config::FieldRule;

/// A file of the records as it was before anything was read from it.
struct InputFile {
    std::string path;       ///< as the dataset names it
    gis::FileDigest digest; ///< of all its bytes
};

/// Open datasets and the layers found in them, checked: needed layers and fields are there.
class Source {
  public:
    /// Throws InputError naming dataset, layer and field.
    explicit Source(const config::DataSettings& settings);
    /// The layer, or null if the data does not have it; the first where the job names several.
    [[nodiscard]] gis::Layer* layer(base::AssetLayer layer) noexcept;
    /// Likewise.
    [[nodiscard]] const gis::Layer* layer(base::AssetLayer layer) const noexcept;
    /// All that the job names for a layer, in its order: DataSettings::sources(). Empty if the
    /// data does not have it.
    [[nodiscard]] std::vector<gis::Layer*> parts(base::AssetLayer layer);
    /// Files of all datasets, sorted, each once.
    [[nodiscard]] std::vector<std::string> files() const;
    /// The same with their digests, taken when the datasets had been opened.
    [[nodiscard]] const std::vector<InputFile>& inputs() const noexcept { return m_inputs; }
    /// Throws InputError if a file has changed since: what was read first and what was read last
    /// are then records of two moments. Call it when all has been read.
    void check_unchanged() const;
    /// What was read, in words, where that is not everything; else empty.
    [[nodiscard]] const std::string& part() const noexcept { return m_part; }
    /// gis::Layer::schema() of the layers that come from a database.
    [[nodiscard]] std::vector<std::string> schemas() const;
    /// Datasets that are read, each once, in order of first use.
    [[nodiscard]] std::vector<std::string> dataset_names() const;

  private:
    std::map<std::string, gis::Dataset> m_datasets;
    std::vector<std::string> m_order;
    std::string m_part;
    std::vector<InputFile> m_inputs;
    std::array<std::vector<std::unique_ptr<gis::Layer>>, base::kAssetLayerCount> m_layers;
};

/// How complete an attribute is: one row of the completeness layer.
struct Completeness {
    base::AssetLayer layer{}; ///< whose rows are counted
    std::string attribute;    ///< native name of the field
    std::string area;         ///< columns only; empty = null
    std::int64_t known = 0;   ///< rows that have a value
    std::int64_t total = 0;   ///< rows
};

/// A layer that was read.
struct LayerRead {
    base::AssetLayer layer{};  ///< which
    std::string dataset;       ///< as named, with stars for a password
    std::string short_dataset; ///< as SourcePart has it
    std::string name;          ///< of the layer in it
    std::int64_t features = 0; ///< as many as the layer states, less those left out of a part
    std::string system;        ///< coordinate system, or that none is stated; empty for a table
};

/// One of the sources of a layer.
struct SourcePart {
    /// The file without its folders, but for those that tell it from another of the layer; a
    /// connection as named, with stars for a password.
    std::string dataset;
    std::string layer;       ///< its name there
    std::size_t first = 0;   ///< its first feature among those of the whole layer
    std::int64_t offset = 0; ///< added to its feature ids, so that each occurs once in the layer
};

/// Everything that the run knows of the records.
struct ReadResult {
    model::Layers layers; ///< in canonical order
    gis::Crs working;     ///< system of all coordinates in `layers`
    gis::Crs cables;      ///< system of the cables layer: that of the computed layers
    /// For each layer: position in the canonical vector of the n-th feature of the file.
    std::array<std::vector<std::uint32_t>, base::kAssetLayerCount> position_of_feature;
    /// FID of the n-th feature of the file that was read, with the offset of its part, to tell
    /// whether a second reading finds the same ones.
    std::array<std::vector<std::int64_t>, base::kAssetLayerCount> fid_of_feature;
    /// Where the features come from, in the order of the job; empty for an absent layer.
    std::array<std::vector<SourcePart>, base::kAssetLayerCount> parts;
    std::vector<Completeness> completeness; ///< sorted by layer, attribute, area
    std::vector<LayerRead> read;            ///< in the order of the contract
    std::vector<std::string> assumptions;   ///< sentences for the run record
    std::string part; ///< Source::part(): rows that speak of what was not read are left out
};

/// Reports duplicate-id, duplicate-geometry, column-beside-column, zero-length, bad-geometry,
/// bad-value, outlier-place, length-differs, type-unknown and fuse-unknown.
[[nodiscard]] ReadResult read_layers(Source& source, const config::Job& job,
                                     const catalogue::Catalogue& catalogue,
                                     base::FindingSink& findings, base::Progress& progress);

} // namespace loopwalk::input
