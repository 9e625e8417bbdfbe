#include "loopwalk/base/text.hpp"

#include "key_slots.hpp"

namespace loopwalk::config {

namespace {

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

// A table: one row for each key.
// NOLINTNEXTLINE(readability-function-size)
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
        for (auto part : {data_keys, network_keys, rule_keys, file_keys}) {
            for (Key& key : part()) {
                table.push_back(std::move(key));
            }
        }
        return table;
    }();
    return all;
}

std::string limits_text(const Limits& limits) {
    const bool has_low = limits.low > -std::numeric_limits<double>::infinity();
    const bool has_high = limits.high < std::numeric_limits<double>::infinity();
    if (!has_low && !has_high) {
        return {};
    }
    std::string low =
        (limits.low_open ? "more than " : "at least ") + base::number_text(limits.low);
    if (!has_high) {
        return low;
    }
    return (has_low ? low + ", " : std::string()) + "at most " + base::number_text(limits.high);
}

std::string range_text(Bounds<Number> range) {
    const std::string low = base::number_text(range.low.value());
    return range.is_exact() ? low : low + " to " + base::number_text(range.high.value());
}

} // namespace loopwalk::config
