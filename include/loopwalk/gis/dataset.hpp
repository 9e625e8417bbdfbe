// Reading vector data: the only place, with its neighbours in this folder, that knows GDAL.
// A Dataset is opened read-only and never written to. Layers are read front to back by a cursor.
#pragma once

#include "loopwalk/base/point.hpp"
#include "loopwalk/base/written_number.hpp"

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace loopwalk::gis {

class Crs;

/// What a field of a dataset holds, as far as its type tells.
enum class FieldKind : std::uint8_t { text, integer, real, boolean, date, other };

/// A field of a layer.
struct FieldInfo {
    std::string name; ///< as stored
    FieldKind kind{}; ///< of its values
};

/// What can be made of a feature's geometry.
enum class GeometryState : std::uint8_t {
    none,       ///< the feature has no geometry (null)
    empty,      ///< an empty geometry
    usable,     ///< at least one point or one line, all coordinates within 1e12
    not_finite, ///< a coordinate is NaN, infinite or beyond 1e12
    no_number,  ///< a field that should hold a coordinate holds something else, or nothing
    wrong_kind, ///< neither point nor line (a polygon, say)
};

/// A geometry in the layer's own coordinate system, reduced to two dimensions. Curves are
/// approximated by lines, collections of one kind are flattened.
struct Geometry {
    GeometryState state = GeometryState::none; ///< what can be made of it
    std::vector<base::Point2> points;          ///< of a point or multi-point
    std::vector<base::Polyline> lines; ///< of a line or multi-line; parts as stored, also those
                                       ///< with fewer than two vertices
    std::string kind_name;             ///< "POINT", "POLYGON": for messages
};

/// What stands in a field that should hold a number.
struct NumberCell {
    /// What stands there: nothing, a finite number, or a text that is none.
    enum class State : std::uint8_t { null, number, text };
    State state = State::null; ///< of the cell
    double number = 0.0;       ///< finite if state is `number`
    bool is_text = false;      ///< the field holds text, even where that reads as a number
    std::string_view text;     ///< that text; valid until the next call on the cursor
};

/// Runs through the features of a layer in the order of the dataset: the same order each time.
class LayerCursor {
  public:
    LayerCursor(LayerCursor&&) noexcept;
    LayerCursor& operator=(LayerCursor&&) noexcept;
    ~LayerCursor();

    /// The next feature; false at the end. Throws InputError if the layer cannot be read on
    /// (a corrupt file), naming dataset, layer and the last good feature.
    [[nodiscard]] bool next();
    /// Of the current feature; as the dataset gives it.
    [[nodiscard]] std::int64_t fid() const noexcept;
    /// Text of a field as the dataset gives it; none for null or unset. Numbers and dates come as
    /// text. Valid until the next call on the cursor. Precondition: field < fields().size().
    [[nodiscard]] std::optional<std::string_view> text(std::size_t field);
    /// A number; text that reads wholly as a number counts. NaN and infinity count as text.
    [[nodiscard]] NumberCell number(std::size_t field);
    /// Of the current feature, valid until the next call of next(). Only if asked for in read().
    [[nodiscard]] const Geometry& geometry();

  private:
    friend class Layer;
    struct State;
    explicit LayerCursor(std::unique_ptr<State> state);
    std::unique_ptr<State> m_state;
};

/// A layer of an open dataset; lives no longer than the Dataset.
class Layer {
  public:
    Layer(Layer&&) noexcept;
    Layer& operator=(Layer&&) noexcept;
    ~Layer();

    /// As the dataset spells it.
    [[nodiscard]] const std::string& name() const noexcept;
    /// As Dataset::name() gives it.
    [[nodiscard]] const std::string& dataset_name() const noexcept;
    /// Tells the schema of a database from all others, by whatever connection; empty for files.
    [[nodiscard]] const std::string& schema() const noexcept;
    /// In the order of the dataset, without the feature id.
    [[nodiscard]] const std::vector<FieldInfo>& fields() const noexcept;
    /// Position of a field, names compared without case; none if there is no such field.
    [[nodiscard]] std::optional<std::size_t> find_field(std::string_view name) const noexcept;
    /// A table has none.
    [[nodiscard]] bool has_geometry() const noexcept;
    /// False where the format writes 0 for a number that is not recorded.
    [[nodiscard]] bool has_null_numbers() const noexcept;
    /// Of the first geometry column; a Crs that is_unknown() where the layer states none.
    [[nodiscard]] const Crs& crs() const noexcept;
    /// Why the system that the layer states cannot be read; empty where it can or states none.
    [[nodiscard]] const std::string& crs_fault() const noexcept;
    /// A table becomes a layer of points whose coordinates stand in two of its fields (positions);
    /// `mark` tells how texts write decimals. Precondition: the layer has no geometry.
    void place_by(std::size_t x, std::size_t y, base::DecimalMark mark);
    /// Take the coordinates to be in this system, whatever the layer states; copies state it too.
    void assign_crs(const Crs& crs);
    /// Number of features, also if that needs a pass through the file.
    [[nodiscard]] std::int64_t count();
    /// False where a box restricts the layer: an index counts the boxes of features that touch it,
    /// reading looks at their geometry.
    [[nodiscard]] bool is_count_exact() const noexcept;
    /// Box of the layer in its own coordinates; none if it has no usable extent.
    [[nodiscard]] std::optional<base::Box> extent();
    /// Restrict to features that match (attribute filter in the syntax of OGR SQL).
    /// An empty one lets everything through. Throws ConfigError if the filter is not understood.
    void filter(const std::string& where);
    /// Restrict to features that touch the box, in the layer's own coordinates, beside the other
    /// filter; a feature without geometry is none of them. A database leaves the others alone.
    /// Throws InputError if the index that tells them is damaged.
    void filter(const base::Box& box);
    /// Start from the front, fetching only the named fields (positions) and, if wanted, geometry.
    enum class WithGeometry : bool { no, yes };
    /// At most one cursor of a layer at a time; a second one starts the first from the front.
    [[nodiscard]] LayerCursor read(const std::vector<std::size_t>& fields, WithGeometry geometry);

  private:
    friend class Dataset;
    friend class OutputDataset;
    [[nodiscard]] std::optional<base::Box> extent_of_places();
    struct State;
    explicit Layer(std::unique_ptr<State> state);
    std::unique_ptr<State> m_state;
};

/// An open dataset, never opened for writing. Not for several threads.
class Dataset {
  public:
    /// Opens a file, a folder, a zip archive or a GDAL connection string, with options of its
    /// driver
    /// ("NAME=VALUE"). Throws InputError that says what GDAL found wrong and what to do: missing
    /// file, no vector data, damaged, no permission; ConfigError for an option it does not know.
    explicit Dataset(const std::string& name, const std::vector<std::string>& options = {});
    Dataset(Dataset&&) noexcept;
    Dataset& operator=(Dataset&&) noexcept;
    ~Dataset();

    /// As given, but with stars for a password.
    [[nodiscard]] const std::string& name() const noexcept;
    /// In the order of the dataset, tables included.
    [[nodiscard]] std::vector<std::string> layer_names() const;
    /// Layer by name, compared without case (an exact match wins); none if absent.
    [[nodiscard]] std::optional<Layer> find_layer(std::string_view name);
    /// Files on disk that make up the dataset (sidecars too), sorted; empty for a database.
    [[nodiscard]] std::vector<std::string> files() const;

  private:
    struct State;
    std::unique_ptr<State> m_state;
};

/// "GDAL 3.6.2", "GEOS 3.11.1", "PROJ 9.1.1", "SQLite 3.40.1": for --version and the run record.
[[nodiscard]] std::vector<std::string> library_versions();

} // namespace loopwalk::gis
