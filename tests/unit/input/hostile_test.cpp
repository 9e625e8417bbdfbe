// Odd and broken files of general GIS test suites: reading ends in a result or in an error that
// says what is wrong, never in a crash.
#include "loopwalk/gis/dataset.hpp"

#include "input_fixture.hpp"

namespace loopwalk::input {
namespace {

namespace fs = std::filesystem;

fs::path hostile_folder() {
    return fs::path(LOOPWALK_SOURCE_DIR).parent_path() / "shared" / "data" / "hostile";
}

std::vector<std::string> hostile_files() {
    std::vector<std::string> files;
    for (const auto& entry : fs::recursive_directory_iterator(hostile_folder())) {
        if (entry.is_regular_file()) {
            files.push_back(entry.path().string());
        }
    }
    std::sort(files.begin(), files.end());
    return files;
}

std::string escaped(const std::string& text) {
    std::string result;
    for (const char c : text) {
        result += c == '&' ? "&amp;" : c == '<' ? "&lt;" : c == '"' ? "&quot;" : std::string(1, c);
    }
    return result;
}

/// A virtual dataset that gives a layer of a file the fields that are needed, so that its
/// features are read and not only its heading.
std::string with_ids(const std::string& file, const std::string& layer) {
    std::string sql_name;
    for (const char c : layer) {
        sql_name += c == '"' ? "\\\"" : std::string(1, c);
    }
    return "<OGRVRTDataSource><OGRVRTLayer name=\"any\"><SrcDataSource>" + escaped(file) +
           "</SrcDataSource><SrcSQL dialect=\"OGRSQL\">" +
           escaped("SELECT FID AS column_id, FID AS cable_id, * FROM \"" + sql_name + "\"") +
           "</SrcSQL></OGRVRTLayer></OGRVRTDataSource>";
}

TEST_F(InputTest, HostileFilesNeverCrash) {
    if (!fs::exists(hostile_folder())) {
        GTEST_SKIP() << "SKIPPED: the hostile files are not there (../shared/data/hostile)";
    }
    // In the system of most of the files: PROJ takes its time to find a way between systems.
    const std::string longitudes = "OGC:1.3:CRS84";
    layer(AssetLayer::columns, {{point(2, 49), R"("column_id":"C1")"}}, longitudes);
    layer(AssetLayer::cables, {{line("[[2,49],[2.1,49]]"), R"("cable_id":"K1")"}}, longitudes);
    const config::Job plain = m_job;
    std::size_t read_through = 0;
    std::size_t refused = 0;
    using Options = std::vector<std::string>;
    const auto attempt = [&](const std::string& dataset, const std::string& layer_name,
                             const Options& options) {
        for (const AssetLayer layer : {AssetLayer::columns, AssetLayer::cables}) {
            m_job = plain;
            source(layer).dataset = dataset;
            source(layer).layer = layer_name;
            source(layer).open_options = options;
            try {
                (void)read();
                ++read_through;
            } catch (const base::InputError& e) {
                EXPECT_STRNE(e.what(), "");
                ++refused;
            } catch (const base::ConfigError&) {
                ++refused;
            }
        }
    };
    for (const std::string& file : hostile_files()) {
        SCOPED_TRACE(fs::path(file).filename().string());
        std::vector<std::string> layers;
        try {
            layers = gis::Dataset(file).layer_names();
        } catch (const base::InputError&) {
            ++refused;
        }
        for (const std::string& name : layers) {
            attempt(file, name, {});
            attempt(with_ids(file, name), "any", {"SOURCES=virtual"});
        }
    }
    EXPECT_GT(read_through, 20U); // the files are looked into, not only refused
    EXPECT_GT(refused, 20U);
    RecordProperty("read_through", static_cast<int>(read_through));
    RecordProperty("refused", static_cast<int>(refused));
}

} // namespace
} // namespace loopwalk::input
