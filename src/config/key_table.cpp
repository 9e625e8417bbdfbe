#include "key_table.hpp"

#include "loopwalk/base/text.hpp"

namespace loopwalk::config {

namespace {

using base::Bounds;
using base::Number;
using base::Quantity;

double number_of(double value) {
    return value;
}
template <class Unit>
double number_of(Quantity<Unit> value) {
    return value.value();
}
void assign(double& target, double value) {
    target = value;
}
template <class Unit>
void assign(Quantity<Unit>& target, double value) {
    target = Quantity<Unit>(value);
}

constexpr Limits kAboveZero{.low = 0.0, .low_open = true};
constexpr Limits kNotNegative{.low = 0.0};
constexpr Limits kAtLeastOne{.low = 1.0};

template <auto Stage, auto Member>
Slot number(std::string_view unit, Limits limits) {
    return NumberSlot{[](const Job& job) { return number_of((job.*Stage).*Member); },
                      [](Job& job, double value) { assign((job.*Stage).*Member, value); }, unit,
                      limits};
}

template <auto Stage, auto Member>
Slot range(std::string_view unit, Limits limits) {
    return RangeSlot{
        [](const Job& job) {
            const auto& bounds = (job.*Stage).*Member;
            return Bounds<Number>{Number(bounds.low.value()), Number(bounds.high.value())};
        },
        [](Job& job, Bounds<Number> value) {
            auto& bounds = (job.*Stage).*Member;
            assign(bounds.low, value.low.value());
            assign(bounds.high, value.high.value());
        },
        unit, limits};
}

template <auto Stage, auto Member>
Slot text(TextKind kind) {
    return TextSlot{[](const Job& job) -> const std::string& { return (job.*Stage).*Member; },
                    [](Job& job, const std::string& value) { (job.*Stage).*Member = value; }, kind};
}

template <auto Member>
Slot part_text() {
    return TextSlot{[](const Job& job) -> const std::string& { return job.data.part.*Member; },
                    [](Job& job, const std::string& value) { job.data.part.*Member = value; },
                    TextKind::plain};
}

Slot assumed_source() {
    return ChoiceSlot{
        [](const Job& job) { return static_cast<std::size_t>(job.rules.assumed_source); },
        [](Job& job, std::size_t word) {
            job.rules.assumed_source = static_cast<AssumedSource>(word);
        },
        {"undecided", "meets"}};
}

std::vector<Key> data_keys() {
    return {
        {"data", "dataset", text<&Job::data, &DataSettings::dataset>(TextKind::dataset),
         "Default dataset of every layer: a path or a GDAL connection string.",
         "each layer names its own"},
        {"data", "open_options", OpenOptionsSlot{},
         "Options of GDAL's driver for that dataset: `{ X_POSSIBLE_NAMES = \"EASTING\" }`.",
         "none"},
        {"data", "bbox", BoxSlot{},
         "Read only what touches this box, `[xmin, ymin, xmax, ymax]`; x is easting or longitude.",
         "everything"},
        {"data", "bbox_crs", part_text<&PartSettings::bbox_crs>(), "Coordinate system of the box.",
         "the cables'"},
        {"data", "area", part_text<&PartSettings::area>(),
         "Read only what lies around the columns whose `area` is this, as the dataset writes it: "
         "the box of them all and 200 m more.",
         "everything"},
        {kAnyLayer, "dataset", LayerTextSlot{&LayerSource::dataset, TextKind::dataset},
         "Dataset of this layer; a list where its records lie in several.", "that of `[data]`"},
        {kAnyLayer, "layer", LayerTextSlot{&LayerSource::layer},
         "Name of the layer in its dataset; a list where its records lie in several; an empty text "
         "(not for columns): the records have no such layer.",
         "the native name"},
        {kAnyLayer, "open_options", OpenOptionsSlot{},
         "The same for this layer's dataset; those of `[data]` hold for its default dataset only.",
         "none"},
        {kAnyLayer, "where", LayerTextSlot{&LayerSource::where},
         "Attribute filter in the syntax of OGR SQL; features it excludes are not input.",
         "every feature"},
        {kAnyLayer, "x", LayerTextSlot{&LayerSource::x},
         "Field of the easting or longitude, for a table of points without geometry, such as a "
         "spreadsheet or CSV file; with `y`.",
         "the geometry"},
        {kAnyLayer, "y", LayerTextSlot{&LayerSource::y}, "Field of the northing or latitude.",
         "the geometry"},
        {kAnyLayer, "crs", LayerTextSlot{&LayerSource::crs},
         "Coordinate system of this layer, where it states none or a wrong one.",
         "the one it states"},
        {kAnyLayer, "decimal", DecimalSlot{},
         "How its texts write decimals; the other sign groups thousands.",
         "a point, and a comma where it can be nothing else"},
        {kAnyLayer, "fields", FieldsSlot{},
         "The dataset's own names: `{ cable_id = \"ASSETREF\" }`. A list of names is joined by "
         "`joined_by`; an empty text means that no field holds it.",
         "native names"},
        {kAnyLayer, "joined_by", JoinedBySlot{},
         "What stands between the parts that a list in `fields` joins: `\"-\"`; an empty text: "
         "nothing.",
         "a blank"},
        {kAnyLayer, "units", UnitsSlot{},
         "What its numbers are in: `{ length_m = \"ft\" }`. A unit written beside a number goes "
         "before.",
         "the unit at the end of the field's name"},
        {kAnyLayer, "values", ValuesSlot{},
         "What its words stand for: `{ owner = { \"CC*\" = \"council\" } }`. `*` and `?` as usual, "
         "the whole value, the first match in file order; an empty text means not recorded.",
         "words as they are"},
        {kAnyLayer, "missing", MissingSlot{},
         "What may stand where an attribute is not recorded: one value, a list of values or a "
         "range `{ low = 10, high = 60 }`, by field.",
         "the ranges of `[rules]`"},
    };
}

std::vector<Key> network_keys() {
    return {
        {"network", "snap_m", number<&Job::network, &NetworkSettings::snap>("m", kAboveZero),
         "Ends and assets closer than this are one point."},
        {"network", "reach_m", number<&Job::network, &NetworkSettings::reach>("m", kAboveZero),
         "A miss up to this far is reported as a gap; gaps never conduct. At least `snap_m`."},
        {"network", "crs", text<&Job::network, &NetworkSettings::crs>(TextKind::plain),
         "Working coordinate system, projected and in metres.",
         "the cables', or a projected one that suits"},
    };
}

std::vector<Key> limit_keys() {
    using R = Rules;
    return {
        {"rules", "disconnection_s", number<&Job::rules, &R::disconnection>("s", kAboveZero),
         "Longest disconnection time on the incoming side of a cut-out (BS 7671 reg "
         "714.411.202)."},
        {"rules", "cut_out_disconnection_s",
         number<&Job::rules, &R::cut_out_disconnection>("s", kAboveZero),
         "The same beyond the cut-out's fuse."},
        {"rules", "vdrop_pct",
         number<&Job::rules, &R::vdrop_pct>("%", {.low = 0.0, .high = 100.0, .low_open = true}),
         "Largest volt drop (BS 7671 appendix 4, lighting); never part of `lw_verdict`."},
        {"rules", "third_harmonic_pct",
         number<&Job::rules, &R::third_harmonic_pct>("%", {.low = 0.0, .high = 100.0}),
         "Third harmonics of each phase's current, which add up in a three-phase way's neutral "
         "(common practice)."},
        {"rules", "cmin",
         number<&Job::rules, &R::cmin>("", {.low = 0.0, .high = 1.0, .low_open = true}),
         "Voltage factor for the smallest fault current (BS 7671 reg 411.4.4)."},
        {"rules", "cmax", number<&Job::rules, &R::cmax>("", {.low = 1.0, .high = 2.0}),
         "Voltage factor for the largest fault current (IEC 60909-0 table 1)."},
        {"rules", "armour_ac_factor", number<&Job::rules, &R::armour_ac_factor>("", kAtLeastOne),
         "Factor on the resistance of hot armour (common practice)."},
        {"rules", "assumed_source", assumed_source(),
         "What a check that would hold on an assumed source is called."},
        {"rules", "thin_margin", number<&Job::rules, &R::thin_margin>("", kAtLeastOne),
         "Margins from 1 up to this are noted."},
        {"rules", "load_point_w", number<&Job::rules, &R::load_point_w>("W", kAboveZero),
         "Largest load of one column (common practice)."},
        {"rules", "way_load_w", number<&Job::rules, &R::way_load_w>("W", kAboveZero),
         "Largest load of one way (common practice)."},
        {"rules", "earths_within_reach_m",
         number<&Job::rules, &R::earths_within_reach>("m", kNotNegative),
         "Columns on different earthing closer than this can be touched together."},
        {"rules", "column_beside_column_m",
         number<&Job::rules, &R::column_beside_column>("m", kNotNegative),
         "Two columns closer than this may be one that was recorded twice."},
        {"rules", "earth_exposure_columns",
         number<&Job::rules, &R::earth_exposure_columns>("", kNotNegative),
         "A break that leaves more columns than this without their earth is reported."},
    };
}

std::vector<Key> default_keys() {
    using R = Rules;
    return {
        {"rules", "voltage_v", number<&Job::rules, &R::voltage>("V", kAboveZero),
         "Line-to-earth voltage where a supply records none."},
        {"rules", "drawn_length_factor",
         number<&Job::rules, &R::drawn_length_factor>("", kAtLeastOne),
         "High bound of a cable's length where only the drawing tells it (snaking)."},
        {"rules", "drawn_end_allowance_m",
         number<&Job::rules, &R::drawn_end_allowance>("m", kNotNegative),
         "Added to that for each end at a column, pillar or joint (loops into the bases)."},
        {"rules", "ze_high_tn_c_s_ohm", number<&Job::rules, &R::ze_high_tn_c_s>("ohm", kAboveZero),
         "High bound of a TN-C-S supply's loop impedance where none is recorded."},
        {"rules", "ze_high_tn_s_ohm", number<&Job::rules, &R::ze_high_tn_s>("ohm", kAboveZero),
         "The same for TN-S."},
        {"rules", "ze_high_tt_ohm", number<&Job::rules, &R::ze_high_tt>("ohm", kAboveZero),
         "High bound of a TT source's electrode and line where none is recorded."},
        {"rules", "pscc_service_ka", number<&Job::rules, &R::pscc_service_ka>("kA", kAboveZero),
         "Prospective fault current at a service where none is recorded."},
        {"rules", "power_factor",
         range<&Job::rules, &R::power_factor>("", {.low = 0.0, .high = 1.0, .low_open = true}),
         "Power factor where none is recorded."},
        {"rules", "load_w", range<&Job::rules, &R::load>("W", kNotNegative),
         "Load of a column where none is recorded."},
        {"rules", "tail_beyond_height_m",
         number<&Job::rules, &R::tail_beyond_height>("m", kNotNegative),
         "High bound of a tail's length where none is recorded: the column's height and this."},
        {"rules", "height_high_m", number<&Job::rules, &R::height_high>("m", kAboveZero),
         "High bound of a column's height where none is recorded."},
        {"rules", "tail_csa_mm2", range<&Job::rules, &R::tail_csa_mm2>("mm2", kAboveZero),
         "Cross-section of a tail where no type is recorded."},
    };
}

template <TableMode CatalogueSettings::*Mode>
Slot table_mode() {
    return ChoiceSlot{
        [](const Job& job) { return static_cast<std::size_t>(job.catalogue.*Mode); },
        [](Job& job, std::size_t word) { job.catalogue.*Mode = static_cast<TableMode>(word); },
        {"add", "replace"}};
}

std::vector<Key> file_keys() {
    return {
        {"catalogue", "cables", text<&Job::catalogue, &CatalogueSettings::cables>(TextKind::path),
         "CSV file of cables beside the built-in table: its rows are added, or override those of "
         "the same name.",
         "the built-in table alone"},
        {"catalogue", "devices", text<&Job::catalogue, &CatalogueSettings::devices>(TextKind::path),
         "The same for protective devices, by type and rating.", "the built-in table alone"},
        {"catalogue", "curves", text<&Job::catalogue, &CatalogueSettings::curves>(TextKind::path),
         "The same for time-current points, by type, rating and edge.", "the built-in table alone"},
        {"catalogue", "cables_mode", table_mode<&CatalogueSettings::cables_mode>(),
         "`\"replace\"`: the file of cables stands in place of the whole built-in table."},
        {"catalogue", "devices_mode", table_mode<&CatalogueSettings::devices_mode>(),
         "The same for devices; built-in curves of devices that are not in it are not used."},
        {"catalogue", "curves_mode", table_mode<&CatalogueSettings::curves_mode>(),
         "The same for time-current points."},
        {"output", "path", text<&Job::output, &OutputSettings::path>(TextKind::dataset),
         "Where the result goes: a GeoPackage, a folder of another format or a `PG:` connection "
         "([formats.md](formats.md)).",
         "`<stem>_checked.gpkg` in the current folder"},
        {"output", "schema", text<&Job::output, &OutputSettings::schema>(TextKind::plain),
         "Schema that holds the result, where it goes into a database.", "`<stem>_checked`"},
    };
}

} // namespace

const std::vector<Key>& keys() {
    static const auto all = [] {
        std::vector<Key> table;
        for (auto part : {data_keys, network_keys, limit_keys, default_keys, file_keys})
            for (Key& key : part())
                table.push_back(std::move(key));
        return table;
    }();
    return all;
}

std::string limits_text(const Limits& limits) {
    const bool has_low = limits.low > -std::numeric_limits<double>::infinity();
    const bool has_high = limits.high < std::numeric_limits<double>::infinity();
    if (!has_low && !has_high)
        return {};
    std::string low =
        (limits.low_open ? "more than " : "at least ") + base::number_text(limits.low);
    if (!has_high)
        return low;
    return (has_low ? low + ", " : std::string()) + "at most " + base::number_text(limits.high);
}

std::string range_text(Bounds<Number> range) {
    const std::string low = base::number_text(range.low.value());
    return range.is_exact() ? low : low + " to " + base::number_text(range.high.value());
}

} // namespace loopwalk::config
