// Small datasets written by a test into a folder of its own, and what reading them gives.
#pragma once

#include "loopwalk/base/error.hpp"
#include "loopwalk/input/read_layers.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>
#include <unistd.h>
#include <vector>

namespace loopwalk::input {

using base::AssetLayer;
using base::Finding;
using base::Rule;

/// A feature of a GeoJSON file: geometry and properties as JSON text ("null", R"("load_w":1)").
struct Feature {
    std::string geometry;
    std::string properties;
    int fid = -1; ///< none if negative
};

inline std::string point(double x, double y) {
    return R"({"type":"Point","coordinates":[)" + std::to_string(x) + "," + std::to_string(y) +
           "]}";
}
inline std::string line(const std::string& coordinates) {
    return R"({"type":"LineString","coordinates":)" + coordinates + "}";
}

class InputTest : public testing::Test {
  protected:
    void SetUp() override {
        const auto* info = testing::UnitTest::GetInstance()->current_test_info();
        m_folder = std::filesystem::temp_directory_path() /
                   ("loopwalk_input_" + std::to_string(getpid()) + "_" + info->name());
        std::filesystem::create_directories(m_folder);
    }
    void TearDown() override { std::filesystem::remove_all(m_folder); }

    /// Writes a file and returns its path.
    std::string write(const std::string& name, const std::string& text) const {
        std::ofstream(m_folder / name, std::ios::binary) << text;
        return (m_folder / name).string();
    }
    /// A GeoJSON layer in a system ("EPSG::27700"), used as the dataset of `layer`.
    void layer(AssetLayer layer, const std::vector<Feature>& features,
               const std::string& crs = "EPSG::27700") {
        const std::string name(base::layer_name(layer));
        std::string text =
            R"({"type":"FeatureCollection","name":")" + name + R"(","crs":{"type":)" +
            R"("name","properties":{"name":"urn:ogc:def:crs:)" + crs + R"("}},"features":[)";
        for (std::size_t i = 0; i < features.size(); ++i) {
            const Feature& f = features[i];
            text += (i == 0 ? "" : ",") + std::string(R"({"type":"Feature",)") +
                    (f.fid < 0 ? "" : R"("id":)" + std::to_string(f.fid) + ",") +
                    R"("properties":{)" + f.properties + R"(},"geometry":)" + f.geometry + "}";
        }
        source(layer).dataset = write(name + ".geojson", text + "]}");
    }
    config::LayerSource& source(AssetLayer layer) {
        return m_job.data.layers[static_cast<std::size_t>(layer)];
    }
    /// A cable and a column, for tests that look at another layer or at one of the two.
    void plain_cables() {
        layer(AssetLayer::cables,
              {{line("[[100,100],[130,100]]"), R"("cable_id":"K1","cable_type":"SWA 6")"}});
    }
    void plain_columns() { layer(AssetLayer::columns, {{point(100, 100), R"("column_id":"C1")"}}); }

    [[nodiscard]] static catalogue::Catalogue catalogue() {
        catalogue::CableType cable;
        cable.name = "SWA 6";
        catalogue::FuseType fuse;
        fuse.name = "BS 88-2";
        return catalogue::Catalogue({cable}, {fuse});
    }

    /// Opens and reads the job.
    ReadResult read() {
        Source opened(m_job.data);
        base::NoProgress progress;
        m_list = std::make_unique<base::FindingList>();
        ReadResult result = read_layers(opened, m_job, catalogue(), *m_list, progress);
        m_list->sort();
        return result;
    }
    [[nodiscard]] std::vector<Finding> found(Rule rule) const {
        std::vector<Finding> some;
        for (const Finding& f : m_list->all()) {
            if (f.rule == rule) {
                some.push_back(f);
            }
        }
        return some;
    }
    /// "columns C1 0.5 x2": layer, id, value and count of each finding of a rule.
    [[nodiscard]] std::vector<std::string> brief(Rule rule) const {
        std::vector<std::string> texts;
        for (const Finding& f : found(rule)) {
            std::string text = std::string(base::layer_name(f.layer)) + " " + f.asset_id;
            if (f.value) {
                text += " " + std::to_string(*f.value).substr(0, 6);
            }
            if (f.count) {
                text += " x" + std::to_string(*f.count);
            }
            texts.push_back(text);
        }
        return texts;
    }
    template <class E>
    [[nodiscard]] std::string error() {
        try {
            (void)read();
        } catch (const E& e) {
            return e.what();
        }
        return {};
    }
    static void expect_has(const std::string& text, const std::string& part) {
        EXPECT_NE(text.find(part), std::string::npos) << "'" << part << "' is not in: " << text;
    }

    std::filesystem::path m_folder;
    config::Job m_job;
    std::unique_ptr<base::FindingList> m_list;
};

using Texts = std::vector<std::string>;

} // namespace loopwalk::input
