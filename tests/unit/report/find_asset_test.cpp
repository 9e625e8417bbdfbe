#include "loopwalk/base/error.hpp"
#include "loopwalk/report/explain.hpp"

#include <gtest/gtest.h>

#include "support/build_layers.hpp"

namespace loopwalk::report {
namespace {

using base::AssetLayer;

model::Layers street() {
    test::LayersBuilder builder;
    builder.add_column("A1", 0, 0);
    builder.add_column("A2", 10, 0);
    builder.add_column("fid:7", 20, 0);
    builder.add_supply("P", 0, 5);
    builder.add_joint("J", 5, 0);
    builder.add_cable("A2", {{0, 0}, {10, 0}});
    return builder.finish();
}

std::string error_of(const model::Layers& layers, std::string_view name) {
    try {
        (void)find_asset(layers, {}, name);
    } catch (const base::ConfigError& e) {
        EXPECT_EQ(e.code(), base::ExitCode::usage);
        return e.what();
    }
    return "no error";
}

TEST(FindAsset, ByIdAlone) {
    const model::Layers layers = street();
    EXPECT_EQ(find_asset(layers, {}, "A1").layer, AssetLayer::columns);
    EXPECT_EQ(find_asset(layers, {}, "A1").index, 0U);
    EXPECT_EQ(find_asset(layers, {}, "P").layer, AssetLayer::supplies);
    EXPECT_EQ(find_asset(layers, {}, "J").layer, AssetLayer::joints);
}

TEST(FindAsset, ByLayerAndId) {
    const model::Layers layers = street();
    EXPECT_EQ(find_asset(layers, {}, "columns:A2").layer, AssetLayer::columns);
    EXPECT_EQ(find_asset(layers, {}, "cables:A2").layer, AssetLayer::cables);
}

TEST(FindAsset, AColonIsNoPrefixUnlessALayerStandsBeforeIt) {
    const model::Layers layers = street();
    EXPECT_EQ(find_asset(layers, {}, "fid:7").index, 2U);
    EXPECT_EQ(find_asset(layers, {}, "columns:fid:7").index, 2U);
}

TEST(FindAsset, SeveralLayers) {
    const std::string error = error_of(street(), "A2");
    EXPECT_NE(error.find("columns:A2, cables:A2"), std::string::npos) << error;
}

TEST(FindAsset, NoneNamesTheNearest) {
    const std::string error = error_of(street(), "A3");
    EXPECT_NE(error.find("'A3'"), std::string::npos) << error;
    EXPECT_NE(error.find("columns:A1"), std::string::npos) << error;
    const std::string joints = error_of(street(), "joints:A1");
    EXPECT_NE(joints.find("joints:J"), std::string::npos) << joints;
    EXPECT_EQ(joints.find("columns:"), std::string::npos) << joints;
}

TEST(FindAsset, LayersWithoutPages) {
    EXPECT_NE(error_of(street(), "mains:1").find("has no pages"), std::string::npos);
}

TEST(FindAsset, NoRecordsAtAll) {
    EXPECT_NE(error_of({}, "A").find("'A'"), std::string::npos);
}

} // namespace
} // namespace loopwalk::report
