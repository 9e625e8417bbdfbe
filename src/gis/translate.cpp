#include "translate.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include <cpl_string.h>
#include <gdal_utils.h>
#include <ogrsf_frmts.h>

#include "compare_translation.hpp"
#include "gdal_error_scope.hpp"
#include "gpkg_settings.hpp"
#include "output_place.hpp"
#include "sqlite_connection.hpp"
#include <filesystem>
#include <fstream>
#include <memory>

namespace loopwalk::gis {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostListed = 6;
constexpr const char* kTextNumbers = "Real=String,Integer=String,Integer64=String";

const std::vector<FolderFormat>& formats() {
    static const std::vector<FolderFormat> all = {
        {".shp",
         "ESRI Shapefile",
         nullptr,
         {"-lco", "ENCODING=UTF-8"},
         {"shp", "shx", "dbf", "prj", "cpg", "csv"},
         10,
         254,
         "a Shapefile cannot tell an empty text from one that is null"},
        {".geojson", "GeoJSON", "geojson", {"-preserve_fid"}, {"geojson"}, 0, 0, nullptr},
        {".fgb",
         "FlatGeobuf",
         "fgb",
         {"-lco", "SPATIAL_INDEX=NO"},
         {"fgb", "csv"},
         0,
         0,
         "FlatGeobuf has no layers without geometry: they are written as CSV beside the others"},
        {".tab",
         "MapInfo File",
         "tab",
         {"-mapFieldType", kTextNumbers},
         {"tab", "dat", "map", "id", "ind", "csv"},
         31,
         254,
         "MapInfo numbers cannot be null: all numbers are written as texts, an empty one where "
         "nothing is computed; coordinates are rounded to the grid of the file"},
        {".csv",
         "CSV",
         "csv",
         {"-lco", "GEOMETRY=AS_WKT"},
         {"csv"},
         0,
         0,
         "CSV states no types and no coordinate system; geometry is the text of a column WKT"},
        {".gdb", "OpenFileGDB", nullptr, {}, {}, 64, 0, nullptr},
    };
    return all;
}

struct FreeOptions {
    void operator()(GDALVectorTranslateOptions* options) const noexcept {
        GDALVectorTranslateOptionsFree(options);
    }
};

GDALDatasetUniquePtr open_staging(const std::string& given, const std::string& staging) {
    const GdalErrorScope errors;
    GDALDatasetUniquePtr from(GDALDataset::Open(staging.c_str(), GDAL_OF_VECTOR | GDAL_OF_READONLY |
                                                                     GDAL_OF_VERBOSE_ERROR));
    if (from == nullptr) {
        output_failed(given, "reading the finished rows again", errors.text());
    }
    return from;
}

/// What a layer became: the file, and the names of its fields there.
class Outcome {
  public:
    Outcome(std::string given, const FolderFormat& format, const std::string& staging)
        : m_given(std::move(given)), m_format(format), m_rows(staging, SqliteMode::read_only) {}

    void add(OGRLayer& from, OGRLayer& to, const OutputLayer& layer) {
        if (layer.written > 0) { // an empty GeoJSON file has no fields
            compare_names(*from.GetLayerDefn(), *to.GetLayerDefn(), layer.table.table);
        }
        find_long_texts(*from.GetLayerDefn(), layer.table.table);
        compare_counts(to, layer);
        if (layer.written > 0) {
            compare_values(from, to, layer.table.table);
        }
    }
    /// The names beside the layers, and the sentences.
    [[nodiscard]] std::vector<std::string> finish(const std::string& folder) const {
        std::vector<std::string> notes;
        if (m_format.losses != nullptr) {
            notes.emplace_back(m_format.losses);
        }
        if (!m_renamed.empty()) {
            write_names(folder);
            notes.push_back(std::to_string(m_renamed.size()) + " names of fields are longer than " +
                            std::to_string(m_format.longest_name) +
                            " letters and were cut; field_names.csv beside the layers tells which");
        }
        if (!m_long.empty()) {
            notes.push_back("texts longer than " + std::to_string(m_format.longest_text) +
                            " bytes were cut in " + base::listed(m_long, kMostListed));
        }
        if (!m_left_out.empty()) {
            notes.push_back("features without geometry are left out: " +
                            base::listed(m_left_out, kMostListed));
        }
        return notes;
    }

  private:
    struct Renamed {
        std::string layer, name, there;
    };
    void compare_names(const OGRFeatureDefn& from, const OGRFeatureDefn& to,
                       const std::string& layer) {
        // CSV and the like add a column for the geometry: compare from the end.
        const int added = to.GetFieldCount() - from.GetFieldCount();
        for (int i = 0; i < from.GetFieldCount() && added >= 0; ++i) {
            const std::string name = from.GetFieldDefn(i)->GetNameRef();
            const std::string there = to.GetFieldDefn(i + added)->GetNameRef();
            if (name != there && m_format.longest_name == 0) {
                output_failed(m_given, "the check of the translation",
                              "field \"" + name + "\" of layer \"" + layer + "\" became \"" +
                                  there + "\"");
            }
            if (name != there) {
                m_renamed.push_back({layer, name, there});
            }
        }
        if (added > 0 && !EQUAL(to.GetFieldDefn(0)->GetNameRef(), "WKT")) {
            output_failed(m_given, "the check of the translation",
                          "the geometry of layer \"" + layer + "\" has lost its name");
        }
        if (added < 0) {
            output_failed(m_given, "the check of the translation",
                          "layer \"" + layer + "\" has lost fields");
        }
    }
    void compare_values(OGRLayer& from, OGRLayer& to, const std::string& layer) {
        const std::string different = first_difference(from, to, m_format);
        if (!different.empty()) {
            output_failed(m_given, "the check of the translation",
                          "layer \"" + layer + "\", " + different);
        }
    }
    void find_long_texts(const OGRFeatureDefn& from, const std::string& layer) {
        for (int i = 0; m_format.longest_text > 0 && i < from.GetFieldCount(); ++i) {
            const OGRFieldDefn& field = *from.GetFieldDefn(i);
            if (field.GetType() == OFTString &&
                m_rows.integer("SELECT coalesce(max(length(CAST(" + sql_name(field.GetNameRef()) +
                               " AS BLOB))), 0) FROM " + sql_name(layer)) >
                    static_cast<std::int64_t>(m_format.longest_text)) {
                m_long.push_back(layer + "." + field.GetNameRef());
            }
        }
    }
    void compare_counts(OGRLayer& to, const OutputLayer& layer) {
        const GIntBig found = to.GetFeatureCount(TRUE);
        const std::int64_t missing = layer.written - found;
        if (missing == 0) {
            return;
        }
        const bool has_geometry = !layer.table.geometry.empty();
        const std::int64_t without =
            has_geometry ? m_rows.integer("SELECT count(*) FROM " + sql_name(layer.table.table) +
                                          " WHERE " + sql_name(layer.table.geometry) + " IS NULL")
                         : 0;
        if (missing != without) {
            output_failed(m_given, "the check of the translation",
                          "layer \"" + layer.table.table + "\" holds " + std::to_string(found) +
                              " features, " + std::to_string(layer.written) + " were written");
        }
        m_left_out.push_back(std::to_string(missing) + " of " + layer.table.table);
    }
    void write_names(const std::string& folder) const {
        const std::string path = folder + "/field_names.csv";
        std::ofstream file(path);
        file << "layer,field,name_there\n";
        for (const Renamed& entry : m_renamed) {
            file << entry.layer << ',' << entry.name << ',' << entry.there << '\n';
        }
        file.close();
        if (!file) {
            refuse_errno(m_given, "field_names.csv cannot be written");
        }
    }

    std::string m_given;
    const FolderFormat& m_format;
    SqliteConnection m_rows;
    std::vector<Renamed> m_renamed;
    std::vector<std::string> m_long, m_left_out;
};

/// The file of a layer where each has one; FlatGeobuf gives its tables to CSV.
struct LayerFile {
    std::string path;
    std::string driver;
};

bool has_any_geometry(const OutputLayer& layer, SqliteConnection& rows) {
    return !layer.table.geometry.empty() &&
           rows.integer("SELECT EXISTS (SELECT 1 FROM " + sql_name(layer.table.table) + " WHERE " +
                        sql_name(layer.table.geometry) + " IS NOT NULL)") != 0;
}

LayerFile file_of(const OutputLayer& layer, const std::string& folder, const FolderFormat& format,
                  SqliteConnection& rows) {
    const bool is_table = EQUAL(format.driver, "FlatGeobuf") && !has_any_geometry(layer, rows);
    return {folder + "/" + layer.table.table + "." + (is_table ? "csv" : format.file_ending),
            is_table ? "CSV" : format.driver};
}

std::vector<std::string> options_of(const std::string& driver, const FolderFormat& format) {
    std::vector<std::string> options = {"-f", driver};
    if (driver == format.driver) {
        options.insert(options.end(), format.options.begin(), format.options.end());
    }
    return options;
}

OGRLayer& layer_in(GDALDataset& dataset, const std::string& name, const std::string& given) {
    OGRLayer* layer = dataset.GetLayerByName(name.c_str());
    if (layer == nullptr && dataset.GetLayerCount() == 1) {
        layer = dataset.GetLayer(0);
    }
    if (layer == nullptr) {
        output_failed(given, "the check of the translation", "layer \"" + name + "\" is missing");
    }
    return *layer;
}

} // namespace

const FolderFormat* folder_format(const std::string& path) {
    const std::string ending = fs::path(path).extension().string();
    for (const FolderFormat& format : formats()) {
        if (EQUAL(ending.c_str(), format.ending)) {
            return &format;
        }
    }
    return nullptr;
}

std::string folder_endings() {
    std::vector<std::string> endings;
    for (const FolderFormat& format : formats()) {
        endings.emplace_back(format.ending);
    }
    return base::joined(endings, ", ");
}

void translate(const std::string& given, GDALDataset& from, const std::vector<std::string>& layers,
               const std::vector<std::string>& options, const char* target, GDALDataset* open) {
    CPLStringList list;
    for (const std::string& option : options) {
        list.AddString(option.c_str());
    }
    for (const std::string& layer : layers) {
        list.AddString(layer.c_str());
    }
    const GdalErrorScope errors;
    const std::unique_ptr<GDALVectorTranslateOptions, FreeOptions> parsed(
        GDALVectorTranslateOptionsNew(list.List(), nullptr));
    LW_ASSERT(parsed != nullptr);
    GDALDatasetH source = GDALDataset::ToHandle(&from);
    int wrong = FALSE;
    GDALDatasetH made =
        GDALVectorTranslate(target, GDALDataset::ToHandle(open), 1, &source, parsed.get(), &wrong);
    const bool done = made != nullptr && wrong == FALSE;
    if (open == nullptr && made != nullptr) {
        GDALClose(made);
    }
    if (!done || errors.failed()) {
        output_failed(given, "the translation", errors.text());
    }
}

std::vector<std::string> translate_to_folder(const std::string& given, const std::string& staging,
                                             const std::string& folder, const FolderFormat& format,
                                             const OutputLayers& layers) {
    const GDALDatasetUniquePtr from = open_staging(given, staging);
    Outcome outcome(given, format, staging);
    SqliteConnection rows(staging, SqliteMode::read_only);
    if (format.file_ending == nullptr) {
        translate(given, *from, {}, options_of(format.driver, format), folder.c_str(), nullptr);
    } else {
        std::error_code error;
        if (!fs::create_directory(folder, error)) {
            refuse(given, "the folder cannot be made: " + error.message());
        }
    }
    for (const std::unique_ptr<OutputLayer>& layer : layers) {
        const std::string& name = layer->table.table;
        std::string path = folder;
        if (format.file_ending != nullptr) {
            const LayerFile file = file_of(*layer, folder, format, rows);
            translate(given, *from, {name}, options_of(file.driver, format), file.path.c_str(),
                      nullptr);
            path = file.path;
        }
        const GdalErrorScope errors;
        const GDALDatasetUniquePtr made(GDALDataset::Open(
            path.c_str(), GDAL_OF_VECTOR | GDAL_OF_READONLY | GDAL_OF_VERBOSE_ERROR));
        if (made == nullptr) {
            output_failed(given, "the check of the translation", errors.text());
        }
        outcome.add(layer_in(*from, name, given), layer_in(*made, name, given), *layer);
    }
    return outcome.finish(folder);
}

} // namespace loopwalk::gis
