// The job: one plain struct for each stage, defaults with their source, checked once.
// Docs: docs/job_file.md, written from the parser's own table.
#pragma once

#include "loopwalk/base/finding.hpp"
#include "loopwalk/base/quantity.hpp"
#include "loopwalk/base/written_number.hpp"

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace loopwalk::config {

/// What may stand in the place of a missing attribute: words, or a range of numbers
/// (a list of numbers is kept as its smallest and largest).
struct MissingValue {
    std::string field;              ///< native name of the attribute
    std::vector<std::string> words; ///< names of types; empty where a range is meant
    /// in the field's native unit; none where words are meant
    std::optional<base::Bounds<base::Number>> range;
};

/// Where the value of a field stands in the dataset.
struct FieldNames {
    std::string field; ///< native name
    std::vector<std::string>
        names; ///< joined by LayerSource::joined_by; empty: nowhere, not even under `field`
};

/// What the numbers of a field are in.
struct FieldUnit {
    std::string field;                ///< native name
    const base::Unit* unit = nullptr; ///< null: the native one
};

/// A recorded text and what it stands for.
struct Translation {
    std::string pattern; ///< see base::matches_pattern
    std::string meaning; ///< empty: nothing is recorded
};

/// Translations of a field in the order of the job file: the first that matches counts.
struct FieldValues {
    std::string field;                     ///< native name
    std::vector<Translation> translations; ///< in the order of the job file
};

/// Where the records of a layer lie and how they are to be read.
struct LayerSource {
    std::string dataset;    ///< empty: the default dataset
    std::string layer;      ///< empty: the native name
    bool is_absent = false; ///< `layer = ""`: the records have no such layer
    std::string where;      ///< attribute filter; empty: none
    std::string x, y;       ///< fields of the coordinates of a table of points; empty: geometry
    std::string joined_by = " "; ///< between the parts of an id or text that several fields hold
    std::string crs;             ///< in place of the one that the layer states; empty: that one
    std::vector<std::string> open_options;                   ///< of its own dataset, "NAME=VALUE"
    base::DecimalMark decimal = base::DecimalMark::unstated; ///< of numbers that are stored as text
    std::vector<FieldNames> fields;    ///< those that are not called by their native name
    std::vector<FieldUnit> units;      ///< those that are not in their native unit
    std::vector<FieldValues> values;   ///< words with another meaning than the native one
    std::vector<MissingValue> missing; ///< in the place of what is not recorded
};

/// The part of the records to read; everything if nothing is set. `bbox` or `area`, not both.
struct PartSettings {
    std::vector<double> bbox; ///< xmin, ymin, xmax, ymax; empty: no box
    std::string bbox_crs;     ///< empty: the cables'
    std::string area;         ///< of the columns whose surroundings are read; empty: all
    /// Nothing narrows what is read.
    [[nodiscard]] bool is_all() const noexcept { return bbox.empty() && area.empty(); }
};

/// The records: tables [data] and one for each layer.
struct DataSettings {
    std::string dataset; ///< default of every layer: a path or a connection string of GDAL
    PartSettings part;   ///< what to read of it
    std::vector<std::string> open_options;                  ///< of `dataset`, "NAME=VALUE"
    std::array<LayerSource, base::kAssetLayerCount> layers; ///< by AssetLayer
    /// Where the records of a layer lie beside `layers`, by AssetLayer. What may stand in for
    /// missing attributes is said once, in `layers`.
    std::array<std::vector<LayerSource>, base::kAssetLayerCount> further;
    /// The first source of a layer. Valid as long as the settings.
    [[nodiscard]] const LayerSource& of(base::AssetLayer layer) const {
        return layers[static_cast<std::size_t>(layer)];
    }
    /// All sources of a layer in the order of the job, at least one. Valid as long as the settings.
    [[nodiscard]] std::vector<const LayerSource*> sources(base::AssetLayer layer) const;
};

/// Table [network]: how cable ends find each other.
struct NetworkSettings {
    base::Metre snap{0.5};  ///< ends and assets closer than this are one point; > 0
    base::Metre reach{5.0}; ///< a miss up to this far is a gap; gaps never conduct
    std::string crs;        ///< empty: the cables', or a projected one that suits
};

/// What a source whose figures are only assumed may come to: undecided at best, or meets.
enum class AssumedSource : std::uint8_t { undecided, meets };

/// Every limit and default of docs/method.md, under its name there. All are settings.
struct Rules {
    base::Second disconnection{5.0};         ///< BS 7671 reg 714.411.202
    base::Second cut_out_disconnection{5.0}; ///< likewise, beyond the cut-out's fuse
    double third_harmonic_pct = 33.0;        ///< of each phase, in the neutral: common practice
    double vdrop_pct = 3.0;                  ///< BS 7671 appendix 4 section 6.4, lighting
    double cmin = 0.95;                      ///< BS 7671 reg 411.4.4
    double cmax = 1.10;                      ///< IEC 60909-0 table 1
    double armour_ac_factor = 1.1;           ///< common practice
    AssumedSource assumed_source = AssumedSource::undecided; ///< whether an assumed source may meet
    base::Volt voltage{230.0}; ///< line to earth, where a supply has none on record; nominal in GB
    double drawn_length_factor = 1.03;    ///< common practice (snaking)
    base::Metre drawn_end_allowance{1.5}; ///< common practice (loops into bases)
    base::Ohm ze_high_tn_c_s{0.35};       ///< common practice
    base::Ohm ze_high_tn_s{0.8};          ///< common practice
    base::Ohm ze_high_tt{21.0};           ///< 20 ohm electrode and 1 ohm of line, from memory
    double pscc_service_ka = 16.0;        ///< common practice
    /// of a load that has none on record
    base::Bounds<base::Number> power_factor{base::Number(0.85), base::Number(1.0)};
    /// of a load that has none on record; `high` is ours
    base::Bounds<base::Watt> load{base::Watt(0.0), base::Watt(150.0)};
    base::Metre tail_beyond_height{2.5}; ///< tail beyond the column's height: common practice
    base::Metre height_high{14.5};       ///< of a column whose height is not on record; ours
    /// of a tail whose type is not on record: common practice
    base::Bounds<base::Number> tail_csa_mm2{base::Number(1.5), base::Number(2.5)};
    double thin_margin = 1.25;                   ///< meets below it is noted as thin; ours
    base::Second socket_disconnection_tn{0.4};   ///< BS 7671 table 41.1, final circuits
    base::Second socket_disconnection_tt{0.2};   ///< likewise
    base::Volt touch_voltage{50.0};              ///< BS 7671 reg 411.5.3
    double reading_share = 0.8;                  ///< BS 7671 appendix 3
    base::Ohm electrode_steady{200.0};           ///< BS 7671 table 41.5, note
    double test_error_high_current_share = 0.05; ///< of a reading; common practice
    base::Ohm test_error_high_current{0.05};     ///< and this much more
    double test_error_other_share = 0.10;        ///< no-trip or unknown method
    base::Ohm test_error_other{0.30};            ///< likewise, and this much more
    double discrimination_gg_ratio = 1.6;        ///< IEC 60269-1
    double discrimination_other_ratio = 2.0;     ///< common practice
    double load_point_w = 500.0;                 ///< common practice
    double way_load_w = 5000.0;                  ///< common practice
    base::Metre earths_within_reach{2.5};        ///< common practice
    base::Metre column_beside_column{2.0}; ///< closer ones may be one column recorded twice; ours
    double earth_exposure_columns = 10.0;  ///< ours: what one break of an earth path may leave
};

/// Whether a table of the job stands beside the built-in one, whose rows of the same names it
/// overrides, or in its place.
enum class TableMode : std::uint8_t { add, replace };

/// Table [catalogue]: a council's own rows.
struct CatalogueSettings {
    std::string cables, devices, curves; ///< paths; empty: the built-in table alone
    TableMode cables_mode{}, devices_mode{}, curves_mode{}; ///< likewise, one for each
};

/// Table [output]: where the result goes.
struct OutputSettings {
    std::string path;   ///< empty: <stem>_checked.gpkg in the current folder
    std::string schema; ///< of a database; empty: <stem>_checked
};

/// All settings of a run, checked or not: see check().
struct Job {
    DataSettings data;           ///< the records
    NetworkSettings network;     ///< snapping
    Rules rules;                 ///< limits and defaults
    CatalogueSettings catalogue; ///< further tables
    OutputSettings output;       ///< the result
};

/// A job file. Relative paths in it become relative to its folder. Throws ConfigError with file
/// and line; an unknown key names the nearest right one.
[[nodiscard]] Job read_job_file(const std::string& path);

/// A job that is just a dataset with native names.
[[nodiscard]] Job job_for_dataset(const std::string& dataset);

/// Ranges and pairs that make no sense. Throws ConfigError.
void check(const Job& job);

/// Every setting with its value as text, under its name in the job file ("rules.cmin", "0.95"):
/// for the run record. Paths are not among them.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> settings_text(const Job& job);

/// One row of the job file's key list, from the parser's own table (for docs).
struct KeyInfo {
    std::string table, key, type, default_text, meaning; ///< as docs/job_file.md shows them
};
/// In the order of the parser's table.
[[nodiscard]] std::vector<KeyInfo> key_list();

} // namespace loopwalk::config
