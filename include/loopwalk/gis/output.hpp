// Writing annotated layers: whole or not at all.
//
// Everything goes into a GeoPackage in a folder of its own beside the target, in one transaction.
// finish() commits, packs the spatial indexes, closes, reopens and compares, translates where
// another format was asked for, syncs and renames. If the object dies before that, what is partial
// is removed; so is what processes left behind that no longer live. docs/output_writing.md.
#pragma once

#include "loopwalk/base/point.hpp"
#include "loopwalk/gis/crs.hpp"
#include "loopwalk/gis/dataset.hpp"
#include "loopwalk/gis/file_digest.hpp"
#include "loopwalk/gis/result_files.hpp"

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace loopwalk::gis {

/// What rows of a computed layer have.
enum class GeometryKind : std::uint8_t { none, point, line, multi_line };
/// Whether an index is packed for a layer; tables have none.
enum class SpatialIndex : bool { no, yes };

/// A field that is added or made.
struct OutputField {
    /// as it will stand in the result; formats with short names may cut it, which notes() tells
    std::string name;
    FieldKind kind = FieldKind::text; ///< text, integer or real
};

/// A computed layer.
struct LayerSchema {
    std::string name;                           ///< of the layer
    GeometryKind geometry = GeometryKind::none; ///< of its rows
    SpatialIndex index = SpatialIndex::yes;     ///< where the format has one
    std::vector<OutputField> fields;            ///< in their order
};

/// Sets the fields of one row by position in the list they were declared with.
class Row {
  public:
    /// A finite number; NaN and infinity are an internal error.
    void set(std::size_t field, double value);
    /// A whole number.
    void set(std::size_t field, std::int64_t value);
    /// UTF-8; empty is a text, not null.
    void set(std::size_t field, std::string_view value);
    /// As it is before anything is set.
    void set_null(std::size_t field);

  private:
    friend class LayerWriter;
    friend class LayerCopier;
    struct State;
    State* m_state = nullptr;
};

/// A computed layer, one row at a time.
class LayerWriter {
  public:
    LayerWriter(LayerWriter&&) noexcept;
    LayerWriter& operator=(LayerWriter&&) noexcept;
    ~LayerWriter();
    /// A fresh row, all fields null, no geometry.
    [[nodiscard]] Row& row();
    /// Write it. Geometry is in the layer's coordinate system, finite. Throws OutputError.
    void write();
    /// Likewise, with a point.
    void write(base::Point2 point);
    void write(const std::vector<base::Polyline>& lines); ///< line layers take the first

  private:
    friend class OutputDataset;
    struct State;
    explicit LayerWriter(std::unique_ptr<State> state);
    std::unique_ptr<State> m_state;
};

/// An input layer that is copied, and what is added to its feature ids.
struct CopySource {
    Layer* layer = nullptr;  ///< where it is read from; outlives the copier
    std::int64_t offset = 0; ///< added to each feature id, so that ids stay unique
};

/// Input layers copied into one, feature by feature (geometry as stored, FID, attributes; incoming
/// lw_* fields are dropped) with further fields that the caller fills. Runs through the layers in
/// their order, and through the features of each in the same order as LayerCursor.
class LayerCopier {
  public:
    LayerCopier(LayerCopier&&) noexcept;
    LayerCopier& operator=(LayerCopier&&) noexcept;
    ~LayerCopier();
    /// The next feature of the layers; false behind the last one. Throws InputError as LayerCursor.
    [[nodiscard]] bool next();
    /// Of the current feature in the output: with the offset of its layer.
    [[nodiscard]] std::int64_t fid() const noexcept;
    [[nodiscard]] std::size_t source() const noexcept; ///< position of its layer in the list
    [[nodiscard]] Row& row(); ///< the added fields of the current feature, all null at first
    void write();             ///< throws OutputError

  private:
    friend class OutputDataset;
    struct State;
    explicit LayerCopier(std::unique_ptr<State> state);
    std::unique_ptr<State> m_state;
};

/// A result while it is written: nobody else sees it before finish().
class OutputDataset {
  public:
    /// A GeoPackage (.gpkg), a folder of another format (.shp, .geojson, .fgb, .tab, .csv, .gdb) or
    /// a schema of a PostGIS database ("PG:..."). Throws OutputError: exists without `overwrite`,
    /// is no earlier result, is open elsewhere, collides with one of `inputs`
    /// (refuse_collisions()), folder missing or not writable, database not reachable.
    OutputDataset(const std::string& path, Overwrite overwrite,
                  const std::vector<std::string>& inputs, const std::string& schema = {});
    OutputDataset(OutputDataset&&) noexcept;
    OutputDataset& operator=(OutputDataset&&) noexcept;
    ~OutputDataset();

    /// One layer is written at a time: finish with one writer before asking for the next.
    [[nodiscard]] LayerWriter create_layer(const LayerSchema& schema, const Crs& crs);
    /// `target` is the layer's name in the output. The layer keeps its coordinate system.
    [[nodiscard]] LayerCopier copy_layer(Layer& source, const std::string& target,
                                         const std::vector<OutputField>& added);
    /// Several layers, at least one, become one in the coordinate system of the first, with the
    /// fields of all: those of one name are one field, a text where their types differ.
    /// Throws InputError if there is no way to that system.
    [[nodiscard]] LayerCopier copy_layers(const std::vector<CopySource>& sources,
                                          const std::string& target,
                                          const std::vector<OutputField>& added);
    /// Commit, index, verify, translate, sync, rename. Throws OutputError; then nothing was
    /// changed.
    void finish();
    /// What the format could not hold, a sentence for each kind; after finish().
    [[nodiscard]] const std::vector<std::string>& notes() const noexcept;

  private:
    struct State;
    std::unique_ptr<State> m_state;
};

} // namespace loopwalk::gis
